using ScoreLens.Density;
using ScoreLens.Devices;
using ScoreLens.Output;
using ScoreLens.Theory;

namespace ScoreLens.Pages;

/// <summary>One cue among several.</summary>
/// <param name="Name">What it is called in the list.</param>
/// <param name="HomeKey">Its home key; null where it is not known.</param>
/// <param name="Shares">How much of it lies outside the key.</param>
public sealed record ComparedCue(string Name, Key? HomeKey, Shares Shares)
{
    /// <summary>Where each of its devices comes first, in words; a device without a place is not told.</summary>
    public IReadOnlyDictionary<Device, string> FirstPlaces { get; init; } = new Dictionary<Device, string>();
}

/// <summary>The page that lays cues side by side: a row a cue, a column a device, bars of one scale, sortable.</summary>
public static class ComparisonPage
{
    /// <summary>Writes the page.</summary>
    /// <param name="title">What the cues are together: any text.</param>
    /// <param name="cues">The cues in order.</param>
    /// <param name="band">The band that each is held against.</param>
    /// <returns>The HTML document.</returns>
    public static string Write(string title, IReadOnlyList<ComparedCue> cues, Band band)
    {
        ArgumentNullException.ThrowIfNull(title);
        ArgumentNullException.ThrowIfNull(cues);
        var whole = Shares.Sum(cues.Select(c => c.Shares));
        var devices = DeviceNames.All.Where(d => whole.QuartersOf(d).Sign > 0).ToArray();
        var body = Markup.Of($"""
            <main>
            <header class="head">
            <p class="kind">Comparison of cues</p>
            <h1>{(title.Length == 0 ? "Cues side by side" : title)}</h1>
            <dl class="facts">
            {CueBlocks.Fact("Cues", $"{cues.Count}")}
            {CueBlocks.Fact("Outside the key, all together", PageText.PercentFine(whole.OutsideTime))}
            {CueBlocks.Fact("Band", $"{PageText.Percent(band.Low)} to {PageText.Percent(band.High)}")}
            {CueBlocks.Fact("Within the band", $"{cues.Count(c => band.Judge(c.Shares.OutsideTime) == Verdict.Within)}")}
            </dl>
            </header>
            <section aria-labelledby="bars-title">
            <h2 id="bars-title">How much colour, and which</h2>
            <p class="hint">Each bar is a cue's share of time outside the local key, on one scale from 0 to {PageText.Percent(Top(cues, band))}; the shaded zone is the band.</p>
            {CueBlocks.Legend(whole)}
            <ul class="bars" id="bars">{cues.Select((c, i) => Bar(c, i, band, Top(cues, band)))}</ul>
            </section>
            {Table(cues, devices, whole, band)}
            {Recurring(cues, devices)}
            </main>
            """);
        return PageShell.Write($"{(title.Length == 0 ? "Cues side by side" : title)} – comparison", body, null);
    }

    private static Fraction Top(IReadOnlyList<ComparedCue> cues, Band band)
    {
        var most = cues.Select(c => c.Shares.OutsideTime).Append(band.High).Max();
        return Fraction.Min(1, new Fraction((most * 10).Floor() + 1, 10));
    }

    private static Markup Bar(ComparedCue cue, int index, Band band, Fraction top)
    {
        var parts = new List<Markup>();
        var from = Fraction.Zero;
        foreach (var device in DeviceNames.All)
        {
            var share = cue.Shares.TimeOf(device);
            if (share.Sign == 0) continue;
            parts.Add(Markup.Of($"<rect class=\"bar {device.Name()}\" x=\"{PageText.Along(from, top)}\" y=\"4\" "
                + $"width=\"{PageText.Along(share, top)}\" height=\"16\"><title>{DevicePalette.Of(device).Title}: "
                + $"{PageText.PercentFine(share)}</title></rect>"));
            if ((share / top).ToDouble() > 0.04)
                parts.Add(Markup.Of($"<text class=\"on-bar\" x=\"{PageText.Along(from + (share / 2), top)}\" y=\"16\" "
                    + $"text-anchor=\"middle\">{DevicePalette.Of(device).Code}</text>"));
            from += share;
        }

        var told = string.Join(", ", cue.Shares.Devices.Select(d =>
            $"{DevicePalette.Of(d).Title} {PageText.PercentFine(cue.Shares.TimeOf(d))}"));
        return Markup.Of($"""
            <li data-row="{index}"><span class="cue-name" title="{cue.Name}">{cue.Name}</span>
            <svg width="100%" height="24" role="img" aria-label="{cue.Name}: {PageText.PercentFine(cue.Shares.OutsideTime)} outside the key{(told.Length == 0 ? "" : ": " + told)}"><rect class="ground" x="0" y="4" width="100%" height="16"/><rect class="band-zone" x="{PageText.Along(band.Low, top)}" y="0" width="{PageText.Along(band.High - band.Low, top)}" height="24"/>{parts}</svg>
            <span class="n">{PageText.PercentFine(cue.Shares.OutsideTime)}</span></li>
            """);
    }

    private static Markup Table(IReadOnlyList<ComparedCue> cues, IReadOnlyList<Device> devices, Shares whole, Band band)
    {
        var heads = devices.Select(d => Markup.Of($"<th scope=\"col\" class=\"n\">{PageText.ShortTitle(d)}</th>"));
        return Markup.Of($"""
            <section aria-labelledby="table-title">
            <h2 id="table-title">Devices, cue by cue</h2>
            <p class="hint">Share of time. Cells that stand out from the cues together are framed: ▴ at least twice as much, ▾ less than half.</p>
            <div class="table-frame" role="region" aria-label="Table of cues" tabindex="0"><table class="sortable cards" data-moves="bars"><caption class="unseen">Share of time of each device in each cue</caption>
            <thead><tr><th scope="col">Cue</th><th scope="col">Home key</th><th scope="col" class="n">Chords</th><th scope="col" class="n">Outside the key</th><th scope="col" class="n">Outside the home key</th>{heads}<th scope="col">Against the band</th></tr></thead>
            <tbody>{cues.Select((c, i) => Row(c, i, devices, whole, band))}</tbody>
            <tfoot><tr><th scope="row">All together</th><td></td><td class="n" data-label="Chords">{whole.Chords}</td><td class="n" data-label="Outside the key">{PageText.PercentFine(whole.OutsideTime)}</td><td class="n" data-label="Outside the home key">{PageText.PercentFine(whole.OutsideHomeTime)}</td>{devices.Select(d => Markup.Of($"<td class=\"n\" data-label=\"{DevicePalette.Of(d).Title}\">{PageText.PercentFine(whole.TimeOf(d))}</td>"))}<td data-label="Against the band">{CueBlocks.VerdictSign(band.Judge(whole.OutsideTime))}</td></tr></tfoot>
            </table></div>
            </section>
            """);
    }

    /// <summary>What a listener to all cues hears again, and what one cue has alone and where.</summary>
    private static Markup Recurring(IReadOnlyList<ComparedCue> cues, Device[] devices)
    {
        if (cues.Count < 2 || devices.Length == 0) return Markup.Empty;
        var rows = devices.Select(d => (Device: d, In: cues.Where(c => c.Shares.QuartersOf(d).Sign > 0).ToList()))
            .OrderByDescending(d => d.In.Count).ThenBy(d => d.Device)
            .Select(d => Markup.Of($"<li>{PageText.Title(d.Device)} {(d.In is [var only] ? Alone(only, d.Device)
                : Markup.Of($"in {(d.In.Count == cues.Count ? "all" : $"{d.In.Count} of")} {cues.Count} cues"))}</li>"));
        return Markup.Of($"""
            <section aria-labelledby="recurring-title">
            <h2 id="recurring-title">What recurs, and what one cue has alone</h2>
            <ul class="recurring">{rows}</ul>
            </section>
            """);
    }

    private static Markup Alone(ComparedCue cue, Device device) => Markup.Of(
        $"in {cue.Name} alone{(cue.FirstPlaces.TryGetValue(device, out var place) ? $", first in {place}" : "")}");

    private static Markup Row(ComparedCue cue, int index, IReadOnlyList<Device> devices, Shares whole, Band band) => Markup.Of($"""
        <tr data-row="{index}"><th scope="row" title="{cue.Name}">{cue.Name}</th><td data-label="Home key">{(cue.HomeKey is { } key ? PageText.Name(key) : "")}</td><td class="n" data-label="Chords">{cue.Shares.Chords}</td>
        <td class="n" data-label="Outside the key" data-value="{cue.Shares.OutsideTime.ToDouble():0.######}"><b>{PageText.PercentFine(cue.Shares.OutsideTime)}</b></td>
        <td class="n" data-label="Outside the home key" data-value="{cue.Shares.OutsideHomeTime.ToDouble():0.######}">{PageText.PercentFine(cue.Shares.OutsideHomeTime)}</td>
        {devices.Select(d => Cell(cue.Shares.TimeOf(d), whole.TimeOf(d), d))}
        <td data-label="Against the band">{CueBlocks.VerdictSign(band.Judge(cue.Shares.OutsideTime))}</td></tr>
        """);

    /// <summary>
    /// A share against the share of all cues together; one that differs by a factor of two and more than two points stands out.
    /// </summary>
    private static Markup Cell(Fraction share, Fraction usual, Device device)
    {
        var apart = Math.Abs((share - usual).ToDouble()) > 0.02;
        var mark = apart && share >= usual * 2 ? "more" : apart && share * 2 < usual ? "less" : "";
        var (sign, spoken) = mark switch
        {
            "more" => ("▴", "more than usual here: "),
            "less" => ("▾", "less than usual here: "),
            _ =>
            ("", "")
        };
        return Markup.Of($"<td class=\"n {device.Name()} {mark}\" data-label=\"{DevicePalette.Of(device).Title}\" "
            + $"data-value=\"{share.ToDouble():0.######}\">{Markup.When(mark.Length > 0, $"<span aria-hidden=\"true\">{sign}</span><span class=\"unseen\">{spoken}</span> ")}{(share.Sign == 0 ? "–" : PageText.PercentFine(share))}</td>");
    }
}
