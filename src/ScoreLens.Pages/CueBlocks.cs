using ScoreLens.Density;
using ScoreLens.Devices;
using ScoreLens.Notation.MusicXml;
using ScoreLens.Output;
using ScoreLens.Phrases;
using ScoreLens.Theory;
using ScoreLens.Wording;

namespace ScoreLens.Pages;

/// <summary>The building blocks of pages about one cue.</summary>
internal static class CueBlocks
{
    private static readonly int[] SureSteps = [30, 40, 50, 60, 70, 80, 90];

    private static readonly int[] RulerSteps = [1, 2, 4, 5, 10, 20, 25, 50, 100, 200, 500, 1000];

    private const int DensityHeight = 96, KeyTop = 122, KeyHeight = 24, ChordTop = 154, ChordHeight = 34, OverviewHeight = 212;

    /// <summary>Title, the facts in one line, and the balance in words and as a bar against the band.</summary>
    public static Markup Head(CueAnalysis analysis, CueDensity density)
    {
        var keys = analysis.Chords.Select(c => c.Reading.Key).Distinct().Count();
        return Markup.Of($"""
            <header class="head">
            <p class="kind">Harmonic reading</p>
            <h1>{TitleOf(analysis)}</h1>
            <dl class="facts">
            {HomeKeys(analysis)}
            {Fact("Measures", $"{analysis.Score.Measures.Count}")}
            {Fact("Chords", $"{density.Whole.Chords}")}
            {Fact("Phrases", $"{analysis.Phrases.Count}")}
            {Fact("Keys", $"{keys}")}
            </dl>
            {Balance(density)}
            {ByKeys(analysis)}
            </header>
            """);
    }

    public static string TitleOf(CueAnalysis analysis) => analysis.Score.Title.Length == 0 ? "Untitled" : analysis.Score.Title;

    private static Markup HomeKeys(CueAnalysis analysis) => analysis.Movements.Count == 1
        ? Fact("Home key", PageText.Name(analysis.Reading.HomeKey))
        : Fact("Movements", $"{analysis.Movements.Count}");

    /// <summary>A row a movement, where the file holds several: its home key and its balance.</summary>
    public static Markup Movements(CueAnalysis analysis, Band band)
    {
        if (analysis.Score.Movements.Count < 2) return Markup.Empty;
        var rows = analysis.Movements.Select(movement =>
        {
            var density = CueDensity.Of(movement, band);
            var (score, shares) = (movement.Score, density.Whole);
            return Markup.Of($"""
                <tr><th scope="row"><button type="button" class="go" data-time="{PageData.Time(score.Start):0.#####}" aria-label="Go to movement {movement.Movement}">{movement.Movement}</button></th>
                <td>{PageText.Name(movement.Reading.HomeKey)}</td><td class="n">{score.Measures.Count}</td><td class="n">{movement.Phrases.Count}</td>
                <td class="n" data-value="{shares.OutsideTime.ToDouble():0.######}">{PageText.PercentFine(shares.OutsideTime)}</td>
                <td class="meter">{Meter(shares, band)}</td>
                <td class="n" data-value="{shares.OutsideHomeTime.ToDouble():0.######}">{PageText.PercentFine(shares.OutsideHomeTime)}</td>
                <td>{VerdictSign(density.Verdict)}</td></tr>
                """);
        });
        return Markup.Of($"""
            <section aria-labelledby="movements-title">
            <h2 id="movements-title">Movements</h2>
            <div class="table-frame" role="region" aria-label="Table of movements" tabindex="0"><table class="sortable"><caption class="unseen">Movements and their balance</caption>
            <thead><tr><th scope="col">Movement</th><th scope="col">Home key</th><th scope="col" class="n">Measures</th><th scope="col" class="n">Phrases</th><th scope="col" class="n">Outside the key</th><th scope="col" data-unsorted="1">By device</th><th scope="col" class="n">Outside the home key</th><th scope="col">Against the band</th></tr></thead>
            <tbody>{rows}</tbody></table></div>
            </section>
            """);
    }

    public static Markup Fact(string name, string value) => Markup.Of($"<div><dt>{name}</dt><dd>{value}</dd></div>");

    private static Markup ByKeys(CueAnalysis analysis) => SharesByKeys.Of(analysis) is { Differ: true } shares
        ? Markup.Of($"<p class=\"by-keys\">The share depends on when a key counts as new: {KeysText.Shares(shares)}.</p>")
        : Markup.Of($"");

    private static Markup Balance(CueDensity density)
    {
        var (share, band) = (density.Whole.OutsideTime, density.Band);
        var verdict = density.Verdict switch
        {
            Verdict.Above => "more colour than",
            Verdict.Below => "plainer than",
            _ => "within",
        };
        return Markup.Of($"""
            <div class="balance">
            <p><strong>{PageText.Percent(share, band)}</strong> of the time lies outside the local key,
            {verdict} the band of {PageText.Percent(band.Low)} to {PageText.Percent(band.High)}.
            Measured against the home key it is {PageText.Percent(density.Whole.OutsideHomeTime)}.</p>
            <svg class="scale" width="100%" height="34" aria-hidden="true" focusable="false">
            <rect class="ground" x="0" y="8" width="100%" height="10" rx="5"/>
            {Stack(density.Whole, 8, 10)}
            <rect class="band-zone" x="{PageText.Along(band.Low.ToDouble())}" y="4" width="{PageText.Along((band.High - band.Low).ToDouble())}" height="18" rx="3"/>
            <text x="{PageText.Along(band.Low.ToDouble())}" y="33" text-anchor="middle">{PageText.Percent(band.Low)}</text>
            <text x="{PageText.Along(band.High.ToDouble())}" y="33" text-anchor="middle">{PageText.Percent(band.High)}</text>
            </svg>
            </div>
            """);
    }

    /// <summary>Devices side by side on a line that stands for all the time.</summary>
    public static Markup Stack(Shares shares, int top, int height)
    {
        var parts = new List<Markup>();
        var from = Fraction.Zero;
        foreach (var device in DeviceNames.All)
        {
            var share = shares.TimeOf(device);
            if (share.Sign == 0) continue;
            parts.Add(Markup.Of(
                $"<rect class=\"bar {device.Name()}\" x=\"{PageText.Along(from.ToDouble())}\" y=\"{top}\" "
                    + $"width=\"{PageText.Along(share.ToDouble())}\" height=\"{height}\"/>"));
            from += share;
        }

        return Markup.Join(parts);
    }

    /// <summary>The whole cue on one line of time: density of each phrase against the band, local keys, chords with devices.</summary>
    public static Markup Overview(CueAnalysis analysis, CueDensity density)
    {
        var end = analysis.Score.End;
        if (end.Sign == 0) return Markup.Empty;
        var top = Math.Clamp(density.Phrases.Select(p => p.Shares.OutsideTime.ToDouble()).Append(1.6 * density.Band.High.ToDouble())
            .Append(0.4).Max(), 0.4, 1);
        int Height(double share) => (int)Math.Round(DensityHeight * share / top);
        var bandTop = DensityHeight - Height(density.Band.High.ToDouble());
        var bandHeight = Height(density.Band.High.ToDouble()) - Height(density.Band.Low.ToDouble());

        var bars = new List<Markup>();
        foreach (var phrase in density.Phrases)
        {
            var x = PageText.Along(phrase.Phrase.Start, end);
            var width = phrase.Phrase.End - phrase.Phrase.Start;
            var y = (double)DensityHeight;
            foreach (var device in DeviceNames.All)
            {
                var height = DensityHeight * phrase.Shares.TimeOf(device).ToDouble() / top;
                if (height <= 0) continue;
                y -= height;
                bars.Add(Markup.Of($"<rect class=\"bar {device.Name()}\" x=\"{x}\" y=\"{y:0.#}\" width=\"{PageText.Along(width, end)}\" "
                    + $"height=\"{height:0.#}\"/>"));
            }

            var mark = phrase.Verdict switch { Verdict.Above => "▴", Verdict.Below => "▾", _ => "" };
            bars.Add(Markup.Of($"<line class=\"edge\" x1=\"{x}\" y1=\"0\" x2=\"{x}\" y2=\"{ChordTop + ChordHeight}\"/>"));
            var number = $"{phrase.Phrase.Number}{mark}";
            var fitting = TimelineText.Fitting(number, (width / end).ToDouble());
            if (fitting.Length > 0)
            {
                var middle = PageText.Along(phrase.Phrase.Start + (width / 2), end);
                bars.Add(Markup.Of($"<text class=\"number {fitting}\" x=\"{middle}\" y=\"{DensityHeight + 16}\" "
                    + $"text-anchor=\"middle\">{number}</text>"));
            }
        }

        var keys = new List<Markup>();
        foreach (var (key, from, to) in KeySpans(analysis))
        {
            keys.Add(Markup.Of($"<rect class=\"key {PageText.Tint(key, analysis.HomeKeyAt(from))}\" x=\"{PageText.Along(from, end)}\" "
                + $"y=\"{KeyTop}\" width=\"{PageText.Along(to - from, end)}\" "
                + $"height=\"{KeyHeight}\"><title>{PageText.Name(key)}</title></rect>"));
            foreach (var (label, fitting) in TimelineText.FirstFitting(((to - from) / end).ToDouble(), PageText.Name(key),
                PageText.Letter(key)))
                keys.Add(Markup.Of($"<text class=\"key-name {fitting}\" x=\"{PageText.Along(from + ((to - from) / 2), end)}\" "
                    + $"y=\"{KeyTop + 16}\" "
                    + $"text-anchor=\"middle\">{label}</text>"));
        }

        var chords = new List<Markup>();
        foreach (var (index, chord) in analysis.Chords.Index().Where(c => c.Item.Reading.Numeral is not null))
        {
            var (y, height, name) = chord.Device is { } device ? (ChordTop, ChordHeight, device.Name())
                : (ChordTop + 20, ChordHeight - 20, "plain");
            var number = chord.IsOutside ? Markup.Of($" data-chord=\"{index}\"") : Markup.Empty;
            chords.Add(Markup.Of($"<rect class=\"tick {name}\"{number} x=\"{PageText.Along(chord.Reading.Onset, end)}\" y=\"{y}\" "
                + $"width=\"{PageText.Along(chord.Reading.Duration, end)}\" height=\"{height}\"/>"));
        }

        return Markup.Of($"""
            <section class="overview" aria-labelledby="overview-title">
            <h2 id="overview-title">The cue at a glance</h2>
            <p class="hint">Share outside the key by phrase against the band (shaded), local keys, and chords: tall ones are chromatic. Press anywhere to go there.</p>
            <div class="overview-frame">
            <svg id="overview" width="100%" height="{OverviewHeight}" role="img" aria-label="{Summary(analysis, density)}">
            <rect class="band-zone" x="0" y="{bandTop}" width="100%" height="{bandHeight}"/>
            <text class="band-label" x="4" y="{bandTop - 4}">{PageText.Percent(density.Band.High)}</text>
            {bars}
            <line class="axis" x1="0" y1="{DensityHeight}" x2="100%" y2="{DensityHeight}"/>
            {keys}
            {chords}
            {Ruler(analysis, end)}
            <rect id="overview-window" class="window" x="0" y="{KeyTop - 4}" width="0" height="{ChordTop + ChordHeight - KeyTop + 8}" rx="4"/>
            <line id="overview-place" class="place" x1="0" y1="0" x2="0" y2="{ChordTop + ChordHeight + 4}"/>
            </svg>
            </div>
            {Legend(density.Whole)}
            {Sureness(analysis)}
            </section>
            """);
    }

    /// <summary>A choice of how sure a device's reading must be; the page's script fills in what it leaves.</summary>
    private static Markup Sureness(CueAnalysis analysis)
    {
        if (!analysis.Chords.Any(c => c.IsOutside)) return Markup.Empty;
        var least = (int)Math.Ceiling(100 * analysis.LeastConfidence);
        var options = SureSteps.Where(s => s > least).Prepend(least).Select(s =>
            Markup.Of($"<option value=\"{s}\">{(s == 0 ? "any confidence" : PageText.Percent(new Fraction(s, 100)) + " or more")}</option>"));
        return Markup.Of($"""
            <p class="sureness"><label>Show devices whose reading has a confidence of <select id="sure">{options}</select></label> <span id="sure-said" role="status"></span></p>
            """);
    }

    private static string Summary(CueAnalysis analysis, CueDensity density) =>
        $"Timeline of {analysis.Score.Measures.Count} measures. " + string.Join(" ", density.Phrases.Select(p =>
            $"Phrase {p.Phrase.Number}, {PageText.Name(p.Phrase.Key)}: {PageText.Percent(p.Shares.OutsideTime)} outside the key, "
                + $"{p.Verdict.Name()} the band."));

    private static IEnumerable<Markup> Ruler(CueAnalysis analysis, Fraction end)
    {
        var measures = analysis.Score.Measures;
        var step = RulerSteps.FirstOrDefault(s => measures.Count / s <= 14, 5000);
        var texts = new TimelineText();
        for (var i = 0; i < measures.Count; i++)
        {
            // The first measure gets its number, then every one whose printed number is a multiple of the step.
            if (i > 0 && !(int.TryParse(measures[i].Number, out var number) && number % step == 0)) continue;
            var fitting = texts.After(measures[i].Number, (measures[i].Start / end).ToDouble());
            if (fitting.Length == 0) continue;
            yield return Markup.Of($"<text class=\"ruler {fitting}\" x=\"{PageText.Along(measures[i].Start, end)}\" "
                + $"y=\"{OverviewHeight - 6}\">{measures[i].Number}</text>");
        }
    }

    /// <summary>Stretches of one local key.</summary>
    private static IEnumerable<(Key Key, Fraction From, Fraction To)> KeySpans(CueAnalysis analysis)
    {
        var chords = analysis.Chords;
        for (int i = 0, start = 0; i < chords.Count; i++)
        {
            if (i + 1 < chords.Count && chords[i + 1].Reading.Key == chords[start].Reading.Key
                && analysis.HomeKeyAt(chords[i + 1].Reading.Onset) == analysis.HomeKeyAt(chords[start].Reading.Onset)) continue;
            var to = i + 1 < chords.Count ? chords[i + 1].Reading.Onset : chords[i].Reading.End;
            yield return (chords[start].Reading.Key, chords[start].Reading.Onset, to);
            start = i + 1;
        }
    }

    /// <summary>Sign, colour and name of every device that occurs.</summary>
    public static Markup Legend(Shares whole)
    {
        var items = whole.Devices.Select(d => Markup.Of($"<li>{PageText.Title(d)} <span "
            + $"class=\"code\">{DevicePalette.Of(d).Code}</span></li>"));
        return Markup.When(whole.Devices.Count > 0, $"<ul class=\"legend\" aria-label=\"Devices in this cue\">{items}</ul>");
    }

    /// <summary>Every chord as a button, phrase by phrase, in one line of time that scrolls.</summary>
    public static Markup Strip(CueAnalysis analysis, CueDensity density)
    {
        var rows = analysis.Score.Measures.Count == 0 ? [] : ChordRow.Of(analysis);
        var index = 0;
        var isOfSeveral = analysis.Score.Movements.Count > 1;
        var last = analysis.Phrases.Count == 0 ? 0 : analysis.Phrases[^1].Number;
        var phrases = PhraseRow.Of(analysis, density).Select(phrase =>
        {
            var items = new List<Markup>();
            for (; index < rows.Count && (rows[index].Phrase == phrase.Phrase.Number || rows[index].Phrase == 0
                || phrase.Phrase.Number == last); index++)
                items.Add(ChordButton(rows, index, analysis.HomeKeyAt(rows[index].Chord.Reading.Onset)));
            return Markup.Of($"""
                <section class="phrase" aria-label="Phrase {phrase.Phrase.Number}">
                <p class="phrase-head"><b>Phrase {phrase.Phrase.Number}</b> {(isOfSeveral ? $"movement {phrase.Movement}, " : "")}{PageText.Measures(phrase.FirstMeasure, phrase.LastMeasure)}
                {Markup.When(phrase.Phrase.Cadence != Cadence.None, $"<span class=\"cadence\">{PageText.Name(phrase.Phrase.Cadence)}</span>")}
                <span class="share {phrase.Balance.Verdict.Name()}">{PageText.Percent(phrase.Balance.Shares.OutsideTime)} outside</span></p>
                <ol>{items}</ol>
                </section>
                """);
        }).ToArray();
        return Markup.Of($"""
            <section class="strip" aria-labelledby="strip-title">
            <h2 id="strip-title">Chord by chord</h2>
            <p class="hint">Choose a chord to see why it is read so. Arrow keys go from chord to chord; Home and End go to the first and the last.</p>
            <div id="strip" class="strip-line" role="group" aria-label="Chords in order">{phrases}</div>
            </section>
            """);
    }

    private static Markup ChordButton(IReadOnlyList<ChordRow> rows, int index, Key home)
    {
        var (row, before) = (rows[index], index == 0 ? null : rows[index - 1]);
        var (chord, reading) = (row.Chord, row.Chord.Reading);
        var measure = before is null || before.Measure != row.Measure ? row.Measure : "";
        var tint = PageText.Tint(reading.Key, home);
        if (reading.Numeral is not { } numeral)
            return Markup.Of($"<li class=\"{tint}\"><span class=\"bar-number\">{measure}</span><span class=\"silence\" title=\"no "
                + $"chord\">–</span></li>");
        var keyName = before is null || before.Chord.Reading.Key != reading.Key ? PageText.Letter(reading.Key) + ":" : "";
        var look = chord.Device is { } device ? DevicePalette.Of(device) : null;
        return Markup.Of($"""
            <li class="{tint}"><span class="bar-number">{measure}</span><button type="button" class="chord {chord.Device?.Name() ?? "plain"}" data-chord="{index}" tabindex="{(index == 0 ? 0 : -1)}"><span class="unseen">Measure {row.Measure}, beat {row.Beat.ToString()}: </span><span class="key-letter">{keyName}</span><span class="numeral">{PageText.Figures(numeral.ToDisplayString())}</span><span class="unseen"> in {PageText.Name(reading.Key)}</span><span class="tag">{(look is null ? Markup.Empty : Markup.Of($"<span class=\"sign\" aria-hidden=\"true\">{look.Sign}</span> {look.Code}<span class=\"unseen\"> {look.Title}</span>"))}</span></button></li>
            """);
    }

    /// <summary>The engraved score, filled in by the page's script, or the reason why it is not there.</summary>
    public static Markup Score(string? musicXml, string title = "The score", string hint = "Press any place in the score to see its chord.")
    {
        var missing = musicXml is null ? "There is no engraved view, because this file contains no notation."
            : PageAssets.Current.Engraver is null ? "The engraved view was left out: this build of the program was made without npm, "
                + "from which the engraving library comes."
            : "";
        return Markup.Of($"""
            <section class="score" aria-labelledby="score-title">
            <h2 id="score-title">{title}</h2>
            {(missing.Length > 0
                ? Markup.Of($"<p class=\"left-out\">{missing}</p>")
                : Markup.Of($"<p class=\"hint\">{hint}</p>{Views(musicXml ?? "")}<p id=\"score-state\" class=\"state\" role=\"status\"></p><div id=\"score\" class=\"sheet\" role=\"region\" aria-label=\"Engraved score\" tabindex=\"0\"></div>"))}
            </section>
            """);
    }

    // A full score opens on its reduction; what it holds is known when it is unpacked.
    private static Markup Views(string musicXml) => Markup.When(
        musicXml.Contains(OwnLabels.PartId, StringComparison.Ordinal),
        $"""
        <div id="score-views" class="views" role="group" aria-label="What is shown" hidden>
        <button type="button" data-view="reduction" aria-pressed="true">Harmonic reduction</button>
        <button type="button" data-view="highest" aria-pressed="false" title="Above the reduction, the part that plays the highest notes">With the highest part</button>
        <button type="button" data-view="full" aria-pressed="false">Full score</button>
        <details id="score-parts" class="parts" hidden><summary>Instruments</summary></details>
        </div>
        """);

    /// <summary>The controls for listening.</summary>
    public static Markup Player() => Markup.Of($"""
        <div class="player" role="region" aria-label="Listening">
        <button type="button" id="play" class="primary"><span aria-hidden="true">▶</span> Play<span class="wide"> from here</span></button>
        <button type="button" id="stop"><span aria-hidden="true">■</span> Stop</button>
        <label><span class="wide">What</span> <select aria-label="What to play" id="play-what"><option value="score">the score</option><option value="reduction">its harmony alone</option></select></label>
        <label><span class="wide">Tempo</span> <input aria-label="Tempo in quarter notes per minute" type="range" id="tempo" min="30" max="200" value="84" step="2"> <output id="tempo-value" for="tempo">84</output></label>
        <span id="play-place" class="place-text" role="status"></span>
        </div>
        """);

    /// <summary>Where the chosen chord is explained; filled in by the page's script.</summary>
    public static Markup Detail() => Markup.Of($"""
        <aside id="detail" class="detail" aria-label="The chosen chord" aria-live="polite" tabindex="-1">
        <p class="empty">Choose a chord in the timeline or in the score.</p>
        </aside>
        """);

    public static Markup DeviceTable(CueAnalysis analysis, CueDensity density)
    {
        var whole = density.Whole;
        var rows = whole.Devices.Select(device =>
        {
            var chords = analysis.Chords.Where(c => c.Device == device).ToArray();
            var first = chords.Length == 0 ? Fraction.Zero : chords[0].Reading.Onset;
            return Markup.Of($"""
                <tr><th scope="row" data-value="{DevicePalette.Of(device).Title}">{PageText.Title(device)}</th>
                <td class="n">{chords.Length}</td><td class="n" data-value="{whole.TimeOf(device).ToDouble():0.######}">{PageText.PercentFine(whole.TimeOf(device))}</td>
                <td class="n">{chords.Count(c => c.Resolution == Resolution.Resolved)}</td><td class="n">{chords.Count(c => c.Resolution == Resolution.Delayed)}</td>
                <td class="n">{chords.Count(c => c.Resolution == Resolution.Unresolved)}</td>
                <td><button type="button" class="go" data-time="{PageData.Time(first):0.#####}">m. {PageText.MeasureNumber(analysis.Score, first)}<span class="unseen">, the first {DevicePalette.Of(device).Title}</span></button></td></tr>
                """);
        });
        return Markup.Of($"""
            <section aria-labelledby="devices-title">
            <h2 id="devices-title">Devices</h2>
            {(whole.Devices.Count == 0 ? Markup.Of($"<p>Every chord belongs to its local key.</p>") : Markup.Of($"""
                <div class="table-frame" role="region" aria-label="Table of devices" tabindex="0"><table class="sortable"><caption class="unseen">Chromatic devices</caption>
                <thead><tr><th scope="col">Device</th><th scope="col" class="n">Chords</th><th scope="col" class="n">Share of time</th><th scope="col" class="n">Resolved</th><th scope="col" class="n">Delayed</th><th scope="col" class="n">Unresolved</th><th scope="col">First</th></tr></thead>
                <tbody>{rows}</tbody></table></div>
                """))}
            </section>
            """);
    }

    public static Markup PhraseTable(CueAnalysis analysis, CueDensity density)
    {
        var isOfSeveral = analysis.Score.Movements.Count > 1;
        var rows = PhraseRow.Of(analysis, density).Select(row => Markup.Of($"""
            <tr><th scope="row"><button type="button" class="go" data-time="{PageData.Time(row.Phrase.Start):0.#####}" aria-label="Go to phrase {row.Phrase.Number}">{row.Phrase.Number}</button></th>
            <td>{(isOfSeveral ? $"movement {row.Movement}, " : "")}{PageText.Measures(row.FirstMeasure, row.LastMeasure)}</td><td>{PageText.Name(row.Phrase.Key)}</td><td>{(row.Phrase.Cadence == Cadence.None ? "" : PageText.Name(row.Phrase.Cadence).Replace(" cadence", "", StringComparison.Ordinal))}</td>
            <td class="n">{row.Balance.Shares.Chords}</td>
            <td class="n" data-value="{row.Balance.Shares.OutsideTime.ToDouble():0.######}">{PageText.PercentFine(row.Balance.Shares.OutsideTime)}</td>
            <td class="meter">{Meter(row.Balance.Shares, density.Band)}</td>
            <td class="n" data-value="{row.Balance.Shares.OutsideHomeTime.ToDouble():0.######}">{PageText.PercentFine(row.Balance.Shares.OutsideHomeTime)}</td>
            <td>{VerdictSign(row.Balance.Verdict)}</td></tr>
            """));
        return Markup.Of($"""
            <section aria-labelledby="phrases-title">
            <h2 id="phrases-title">Phrases</h2>
            <div class="table-frame" role="region" aria-label="Table of phrases" tabindex="0"><table class="sortable"><caption class="unseen">Phrases and their balance</caption>
            <thead><tr><th scope="col">Phrase</th><th scope="col">Measures</th><th scope="col">Key at its end</th><th scope="col">Cadence</th><th scope="col" class="n">Chords</th><th scope="col" class="n">Outside the key</th><th scope="col" data-unsorted="1">By device</th><th scope="col" class="n">Outside the home key</th><th scope="col">Against the band</th></tr></thead>
            <tbody>{rows}</tbody></table></div>
            </section>
            """);
    }

    /// <summary>A bar from 0 to 100 %, devices side by side, with the band marked.</summary>
    public static Markup Meter(Shares shares, Band band) => Markup.Of($"""
        <svg width="100%" height="16" aria-hidden="true" focusable="false"><rect class="ground" x="0" y="3" width="100%" height="10"/>{Stack(shares, 3, 10)}<rect class="band-zone" x="{PageText.Along(band.Low.ToDouble())}" y="0" width="{PageText.Along((band.High - band.Low).ToDouble())}" height="16"/></svg>
        """);

    public static Markup VerdictSign(Verdict verdict) => verdict switch
    {
        Verdict.Above => Markup.Of($"<span class=\"verdict above\"><span aria-hidden=\"true\">▴</span> above</span>"),
        Verdict.Below => Markup.Of($"<span class=\"verdict below\"><span aria-hidden=\"true\">▾</span> below</span>"),
        _ => Markup.Of($"<span class=\"verdict within\"><span aria-hidden=\"true\">·</span> within</span>"),
    };
}
