using ScoreLens.Devices;
using ScoreLens.Notation;
using ScoreLens.Phrases;
using ScoreLens.Theory;

namespace ScoreLens.Density;

/// <summary>
/// A cue as its tables say it: enough to judge and compare it without its score. Comes from an analysis or from tables that were
/// written before.
/// </summary>
/// <param name="Name">What its file is called.</param>
/// <param name="Key">Its home key; from tables, the key in which it stays longest; null where no chord is named.</param>
/// <param name="Chords">Its chords in order.</param>
/// <param name="Phrases">Its phrases in order.</param>
public sealed record TabledCue(string Name, Key? Key, IReadOnlyList<ChordRow> Chords, IReadOnlyList<PhrasePlace> Phrases)
{
    /// <summary>Number of its movement, from 1.</summary>
    public int Movement { get; init; } = 1;

    /// <summary>Its measures in order; empty where it comes from tables, which do not have them.</summary>
    public IReadOnlyList<Measure> Measures { get; init; } = [];

    /// <summary>Where each of <see cref="Measures"/> begins, as people say it.</summary>
    internal IReadOnlyList<MeasurePlace> Places { get; init; } = [];

    /// <summary>Whether it is one movement of a file that holds several.</summary>
    public bool IsOfSeveral { get; init; }

    /// <summary>What it is called among others: <c>symphony, movement 2</c> where its file holds several.</summary>
    public string Title => IsOfSeveral ? $"{Name}, movement {Movement}" : Name;

    /// <summary>The cues of a file: one a movement, in order.</summary>
    /// <param name="name">What the file is called.</param>
    /// <param name="analysis">Its analysis.</param>
    /// <param name="clock">How times on the clock are reckoned; null for the usual way.</param>
    public static IReadOnlyList<TabledCue> AllOf(string name, CueAnalysis analysis, ClockOptions? clock = null)
    {
        ArgumentNullException.ThrowIfNull(analysis);
        var isOfSeveral = analysis.Score.Movements.Count > 1;
        return [.. analysis.Movements.Select(m => Of(name, m, clock) with { Movement = m.Movement, IsOfSeveral = isOfSeveral })];
    }

    /// <summary>The cues of a table of chords and, where there is one, of phrases: one a movement, in order.</summary>
    public static IReadOnlyList<TabledCue> AllOf(string name, IReadOnlyList<ChordRow> chords, IReadOnlyList<PhrasePlace>? phrases)
    {
        ArgumentNullException.ThrowIfNull(chords);
        var movements = chords.Select(c => c.Movement).Concat(phrases?.Select(p => p.Movement) ?? []).Distinct().Order().ToList();
        return movements.Count == 0 ? [Of(name, chords, phrases)] :
        [
            .. movements.Select(m => Of(name, [.. chords.Where(c => c.Movement == m)], phrases?.Where(p => p.Movement == m).ToList()) with
            {
                Movement = m,
                IsOfSeveral = movements is not [1],
            }),
        ];
    }

    /// <summary>How much lies outside the key under each rule of keys; null for a cue from tables, which keep one rule's keys.</summary>
    public SharesByKeys? OtherKeys { get; init; }

    /// <summary>The cue of an analysis.</summary>
    /// <param name="name">What it is called.</param>
    /// <param name="analysis">Its analysis.</param>
    /// <param name="clock">How times on the clock are reckoned; null for the usual way.</param>
    public static TabledCue Of(string name, CueAnalysis analysis, ClockOptions? clock = null)
    {
        ArgumentNullException.ThrowIfNull(analysis);
        return new TabledCue(
            name,
            analysis.Chords.Any(c => c.Reading.Numeral is not null) ? analysis.Reading.HomeKey : null,
            ChordRow.Of(analysis, clock),
            PhrasePlace.Of(analysis, clock))
        {
            Measures = analysis.Score.Measures,
            Places = MeasurePlace.Of(analysis.Score, clock),
            OtherKeys = SharesByKeys.Of(analysis),
        };
    }

    /// <summary>The cue of a table of chords and, where there is one, of phrases; else the chords' own phrase numbers cut it.</summary>
    public static TabledCue Of(string name, IReadOnlyList<ChordRow> chords, IReadOnlyList<PhrasePlace>? phrases)
    {
        ArgumentNullException.ThrowIfNull(chords);
        var named = chords.Where(c => c.Chord.Reading.Numeral is not null).ToList();
        Key? key = named.Count == 0 ? null : named.GroupBy(c => c.Chord.Reading.Key)
            .MaxBy(g => g.Sum(c => c.Chord.Reading.Duration.ToDouble()))!.Key;
        return new TabledCue(name, key, chords, phrases ?? PhrasesOf(chords));
    }

    /// <summary>Where a measure begins, by its index; nothing where that is not known.</summary>
    internal MeasurePlace PlaceOf(int measure) => measure < Places.Count ? Places[measure] : new MeasurePlace("", "");

    /// <summary>The first chord of a device; null where the cue has none.</summary>
    public ChordRow? First(Device device) => Chords.FirstOrDefault(c => c.Chord.Device == device);

    /// <summary>The same cue without devices whose reading is less sure than is asked for.</summary>
    /// <param name="least">The least confidence, 0 to 1; 0 leaves nothing out.</param>
    public TabledCue AtLeast(double least) => least <= 0 ? this
        : this with { Chords = [.. Chords.Select(c => c with { Chord = c.Chord.AtLeast(least) })] };

    private static IReadOnlyList<PhrasePlace> PhrasesOf(IReadOnlyList<ChordRow> chords)
    {
        var groups = chords.GroupBy(c => c.Phrase).Select(g => g.ToList()).ToList();
        return
        [
            .. groups.Select((rows, i) => new PhrasePlace(
                new Phrase(
                    i + 1,
                    rows[0].Chord.Reading.Onset,
                    i + 1 < groups.Count ? groups[i + 1][0].Chord.Reading.Onset : rows[^1].Chord.Reading.End,
                    rows[^1].Chord.Reading.Key,
                    Cadence.None),
                rows[0].Measure,
                rows[^1].Measure)
            {
                Movement = rows[0].Movement,
            }),
        ];
    }
}
