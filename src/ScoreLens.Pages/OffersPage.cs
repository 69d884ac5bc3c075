using System.Globalization;
using ScoreLens.Devices;
using ScoreLens.Notation;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Pages;

/// <summary>A chord that could stand at a place, as the page shows it.</summary>
/// <param name="Rank">Its rank; 0 where it has none.</param>
/// <param name="Numeral">Its numeral.</param>
/// <param name="Symbol">Its chord symbol.</param>
/// <param name="Device">The device that it is; null for a chord of the key.</param>
/// <param name="Reason">One sentence: why it is offered, or why it cannot be written.</param>
/// <param name="Written">The score with the chord in it; null where it cannot be written.</param>
public sealed record ShownOffer(int Rank, Numeral Numeral, ChordName Symbol, Device? Device, string Reason, Score? Written);

/// <summary>A place with the chords that could stand there.</summary>
/// <param name="Where">The place in words.</param>
/// <param name="Key">The key there.</param>
/// <param name="Standing">What stands there.</param>
/// <param name="Start">Where its chord begins, in quarter notes.</param>
/// <param name="End">Where it ends.</param>
/// <param name="Offers">The chords, the best first.</param>
public sealed record ShownPlace(string Where, Key Key, Numeral Standing, Fraction Start, Fraction End, IReadOnlyList<ShownOffer> Offers);

/// <summary>
/// The page of what could stand at some places: each chord with its reason, the notes that change beside the old ones, and a button that
/// plays it between the measures around it. One self-contained HTML file that opens from disk and fetches nothing.
/// </summary>
public static class OffersPage
{
    // Where the score states no tempo.
    private const double UsualTempo = 84;

    /// <summary>Writes the page.</summary>
    /// <param name="score">The score as it is.</param>
    /// <param name="places">The places.</param>
    /// <returns>The HTML document.</returns>
    public static string Write(Score score, IReadOnlyList<ShownPlace> places)
    {
        ArgumentNullException.ThrowIfNull(score);
        ArgumentNullException.ThrowIfNull(places);
        var title = score.Title.Length == 0 ? "Untitled" : score.Title;
        var body = Markup.Of($"""
            <main>
            <header><h1>{title}</h1><p class="hint">Other chords for {places.Count} {(places.Count == 1 ? "place" : "places")}. Each is
            played in its place, from the measure before to the measure after, at the tempo of the score.</p></header>
            {places.Select((p, i) => Place(score, p, i))}
            </main>
            <div class="player" role="region" aria-label="Listening">
            <button type="button" id="offers-stop"><span aria-hidden="true">■</span> Stop</button>
            <span id="offers-state" class="place-text" role="status"></span></div>
            """);
        return PageShell.Write($"{title} – other chords", body, null);
    }

    private static Markup Place(Score score, ShownPlace place, int number) => Markup.Of($"""
        <section aria-labelledby="place-{number}">
        <h2 id="place-{number}">{place.Where}: instead of {place.Standing.ToDisplayString()} in {PageText.Name(place.Key)}</h2>
        <p>{Listen(score, score, place, "As it is written", $"{place.Where} as it is written")}</p>
        <div class="table-frame offers" role="region" aria-label="Other chords for {place.Where}" tabindex="0">
        <table><caption class="unseen">Other chords for {place.Where}</caption>
        <thead><tr><th scope="col" class="n">Rank</th><th scope="col">Chord</th><th scope="col">What it is</th>
        <th scope="col">Notes</th><th scope="col">Listen</th></tr></thead>
        <tbody>{place.Offers.Select(o => Offer(score, place, o))}</tbody></table></div>
        </section>
        """);

    private static Markup Offer(Score score, ShownPlace place, ShownOffer offer) => Markup.Of($"""
        <tr><td class="n">{(offer.Rank > 0 ? offer.Rank.ToString(CultureInfo.InvariantCulture) : "")}</td>
        <th scope="row">{offer.Numeral.ToDisplayString()} <span class="hint">{offer.Symbol.ToDisplayString()}</span></th>
        <td>{(offer.Device is { } device ? PageText.Title(device) : Markup.Of($"of the key"))}<br>{PageText.Signs(offer.Reason)}</td>
        <td>{(offer.Written is { } written ? Notes(score, written, place) : Markup.Empty)}</td>
        <td>{Heard(score, place, offer)}</td></tr>
        """);

    // Of each part what it has and what it gets, in the order of the music.
    private static Markup Notes(Score score, Score written, ShownPlace place)
    {
        var changed = score.Notes.Zip(written.Notes).Where(n => n.First.Pitch != n.Second.Pitch && n.First.Onset >= place.Start
            && n.First.Onset < place.End).GroupBy(n => n.First.Part).ToArray();
        if (changed.Length == 0) return Markup.Of($"no note changes");
        return Markup.Of($"<ul class=\"changes\">{changed.Select(part => Markup.Of($"""
            <li>{NameOf(score, part.Key)}: {Changes(part)}</li>
            """))}</ul>");
    }

    private static Markup Heard(Score score, ShownPlace place, ShownOffer offer) => offer.Written is { } written
        ? Listen(score, written, place, "Hear it", $"Hear it: {offer.Symbol.ToDisplayString()}, {place.Where}") : Markup.Empty;

    private static string Changes(IEnumerable<(Note Old, Note New)> notes) =>
        string.Join(", ", notes.Select(n => $"{Sign(n.Old.Pitch)} → {Sign(n.New.Pitch)}").Distinct());

    private static string NameOf(Score score, int part) => score.Parts[part].Name is { Length: > 0 } name ? name : $"part {part + 1}";

    private static string Sign(Pitch pitch) => PageText.Signs(pitch.ToString());

    // The button carries its notes: from the measure before to the end of the measure after.
    private static Markup Listen(Score score, Score heard, ShownPlace place, string words, string label)
    {
        var first = Math.Max(0, score.MeasureAt(place.Start).Index - 1);
        var last = Math.Min(score.Measures.Count - 1, score.Measures.Last(m => m.Start < place.End).Index + 1);
        var (from, to) = (score.Measures[first].Start, score.Measures[last].End);
        var notes = SonorityFinder.JoinTies(heard.Notes.Where(n => n.Onset < to && n.Onset >= from)).Select(n =>
            string.Create(CultureInfo.InvariantCulture, $"{PageData.Time(n.Onset)},{PageData.Time(n.End - n.Onset)},{n.Pitch.Midi}"));
        var tempo = score.Tempos.LastOrDefault(t => t.Onset <= place.Start)?.QuartersPerMinute ?? UsualTempo;
        return Markup.Of($"<button type=\"button\" class=\"listen\" aria-label=\"{label}\" data-from=\"{PageData.Time(from):0.#####}\" "
            + $"data-to=\"{PageData.Time(to):0.#####}\" data-tempo=\"{tempo:0.##}\" data-notes=\"{PageAssets.Pack(string.Join(',', notes))}\">"
            + $"<span aria-hidden=\"true\">▶</span> {words}</button>");
    }
}
