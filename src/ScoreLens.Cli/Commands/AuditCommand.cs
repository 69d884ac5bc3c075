using System.CommandLine;
using System.Globalization;
using ScoreLens.Cli.Shared;
using ScoreLens.Density;
using ScoreLens.Devices;
using ScoreLens.Output.Tables;
using ScoreLens.Theory;
using ScoreLens.Wording;

namespace ScoreLens.Cli.Commands;

/// <summary>The balance of every phrase against a band: which are overloaded or too plain, by what, and what does not resolve.</summary>
internal static class AuditCommand
{
    // Below this a reading is as likely wrong as right.
    private static readonly Fraction DoubtfulBelow = new(1, 2);

    // More chords than this do not fit a glance; the table has them all.
    private const int ShownChords = 8;

    // As many measures as a listener hears as one stretch: two phrases of four.
    private const int Stretch = 8;

    // Stretches on a line of the curve: eighty measures.
    private const int CurveColumns = 10;

    public static Command Create()
    {
        var scores = new ScoreOptions();
        var clock = new ClockOption();
        var within = new Option<int>("--within")
        {
            Description = "Distance in measures within which a recurring device counts as a return.",
            HelpName = "N",
            DefaultValueFactory = _ => Stretch,
            CustomParser = result =>
            {
                if (int.TryParse(result.Tokens[0].Value, NumberStyles.None, CultureInfo.InvariantCulture, out var measures)
                    && measures >= 1) return measures;
                result.AddError($"--within: '{result.Tokens[0].Value}' is not a number of measures from 1.");
                return Stretch;
            },
        };
        var band = BandOption.Create();
        var sure = SureOption.Create();
        var keys = KeysOption.Create();
        var csv = new Option<bool>("--csv")
        {
            Description = "Print a table instead: one row per phrase with all chords responsible.",
        };
        var curve = new Option<bool>("--curve")
        {
            Description = $"Print a table of the curve instead: the share outside the key for every {Stretch} measures.",
        };
        var command = new DocumentedCommand(
            "audit",
            "Shows which phrases lie above or below the band for time outside the key, which devices cause it, and which "
                + "chords do not resolve as expected. Takes scores and the tables that annotate wrote (NAME.chords.csv). "
                + "Exit status 1 if a phrase is outside the band.",
            "audit cue.musicxml",
            "audit cues --band 15-25 --csv");
        scores.AddTo(command, writes: false);
        command.Add(band);
        command.Add(sure);
        command.Add(keys);
        command.Add(csv);
        command.Add(curve);
        command.Add(within);
        clock.AddTo(command);
        command.SetAction(parse =>
        {
            var session = new Session(parse, scores, CueFile.Extensions);
            var limits = parse.GetValue(band);
            var (table, curves) = (parse.GetValue(csv), parse.GetValue(curve));
            if (table && curves) throw new UsageException("--csv and --curve each print a table; give one of them.");
            var audits = session.ForEach(
                input => CueFile.Load(input, session, parse.GetValue(keys), clock.Of(parse))
                    .Select(cue => Audit.Of(cue.AtLeast(parse.GetValue(sure)), limits)).ToList(),
                movements =>
                {
                    if (!table && !curves) movements.ForEach(m => session.Output.Write(Describe(m, parse.GetValue(within))));
                }).SelectMany(m => m).ToList();
            if (table) AuditTable.Write(audits.SelectMany(a => a.Rows), session.Output);
            if (curves) CurveTable.Write(audits.SelectMany(a => CurvePoint.Of(a.Cue, Stretch)), session.Output);
            return session.StatusWhen(audits.Any(a => a.Rows.Any(r => r.Balance.Verdict != Verdict.Within)));
        });
        return command;
    }

    private static string Describe(Audit audit, int within)
    {
        using var text = new StringWriter(CultureInfo.InvariantCulture);
        var (cue, density) = (audit.Cue, audit.Density);
        text.WriteLine($"{cue.Title}: {ShareText.Percent(density.Whole.OutsideTime, density.Band)} of the time outside the key, "
            + $"{Against(density.Verdict, density.Band)}; {Counts(audit)}");
        if (Doubtful(cue, density) is { Sign: > 0 } doubtful)
            text.WriteLine($"  {ShareText.Percent(doubtful)} of the time outside the key depends on readings with a confidence "
                + $"below {ShareText.Percent(DoubtfulBelow)}");
        if (cue.OtherKeys is { Differ: true } other) text.WriteLine($"  {KeysText.Shares(other)}");
        for (var i = 0; i < audit.Rows.Count; i++)
        {
            var row = audit.Rows[i];
            // Plain phrases in a row are one line: what there is to say is that they are plain.
            if (row.Balance.Verdict == Verdict.Below)
            {
                var last = i;
                while (last + 1 < audit.Rows.Count && audit.Rows[last + 1].Balance.Verdict == Verdict.Below) last++;
                text.WriteLine($"  below  {Place(row, audit.Rows[last])}: {Range(audit.Rows.Skip(i).Take(last - i + 1), density.Band)}");
                i = last;
                continue;
            }

            if (row.Balance.Verdict == Verdict.Within) continue;
            text.WriteLine($"  above  {Place(row, row)}: {ShareText.Percent(row.Balance.Shares.OutsideTime, density.Band)}, by "
                + $"{Causes(row.Balance.Shares)}");
            if (row.HeldOver is { } held) text.WriteLine($"         held over from before: {PlaceText.WithColour(held)}");
            foreach (var chord in row.Outside.Take(ShownChords)) text.WriteLine($"         {PlaceText.WithColour(chord)}");
            if (row.Outside.Count > ShownChords) text.WriteLine($"         and {row.Outside.Count - ShownChords} more");
        }

        var unresolved = audit.Rows.SelectMany(r => r.Unresolved).ToList();
        if (unresolved.Count > 0)
        {
            var shown = unresolved.Take(ShownChords).Select(c => c.Chord.Device is { } device
                ? $"{PlaceText.WithDoubt(c)} ({device.Name()})"
                : PlaceText.Of(c));
            text.WriteLine($"  not resolved as expected: "
                + $"{string.Join("; ", shown)}{(unresolved.Count > ShownChords ? $" and {unresolved.Count - ShownChords} more" : "")}");
        }

        if (DenseStretch.Of(cue, Stretch) is { } dense)
            text.WriteLine($"  densest {Stretch} measures: m. {dense.FirstMeasure}-{dense.LastMeasure}{From(dense.Rehearsal, dense.Time)}, "
                + $"{ShareText.Percent(dense.Shares.OutsideTime, density.Band)}, by {Causes(dense.Shares)}");
        foreach (var repetition in Repetition.Of(cue, within))
            text.WriteLine($"  again within {within} measures: {Returns(repetition)}");
        var sections = Section.Of(cue);
        if (sections.Count > 0) text.WriteLine("  by rehearsal mark:");
        foreach (var section in sections) text.WriteLine($"         {SectionLine(section, density.Band)}");
        WriteCurve(CurvePoint.Of(cue, Stretch), text);
        return text.ToString();
    }

    // The curve as lines of whole numbers, which the eye can follow.
    private static void WriteCurve(IReadOnlyList<CurvePoint> points, StringWriter text)
    {
        // Two numbers are no curve.
        if (points.Count < 3) return;
        text.WriteLine($"  share outside the key for every {Stretch} measures, in per cent:");
        foreach (var line in points.Chunk(CurveColumns))
            text.WriteLine($"         {$"m. {line[0].FirstMeasure}",-8}"
                + string.Concat(line.Select(p => $"{Math.Round(100 * p.Shares.OutsideTime.ToDouble(), MidpointRounding.AwayFromZero),5:0}")));
    }

    private static string From(string rehearsal, string time) =>
        PlaceText.Also(rehearsal, time) is { Length: > 0 } also ? $" (from {also})" : "";

    private static string Returns(Repetition repetition)
    {
        var later = repetition.Entries - 1;
        return $"{repetition.Device.Name()}, {repetition.Returns} of {later} {(later == 1 ? "return" : "returns")}"
            + (repetition.NumeralEntries > 1 ? $", most often {repetition.Numeral} ({repetition.NumeralEntries} of {repetition.Entries} "
            + $"entries)" : "");
    }

    private static string SectionLine(Section section, Band band)
    {
        var name = section.Mark.Length == 0 ? "before the first" : section.Mark;
        var devices = section.Shares.Devices;
        return $"{name} (m. {section.FirstMeasure}): {ShareText.Percent(section.Shares.OutsideTime, band)}"
            + (devices.Count == 0 ? "" : $", by {Causes(section.Shares)}");
    }

    // The share of the time outside the key that rests on doubtful readings.
    private static Fraction Doubtful(TabledCue cue, CueDensity density)
    {
        var least = DoubtfulBelow.ToDouble();
        var doubtful = cue.Chords.Select(c => c.Chord).Where(c => c.IsOutside && c.Reading.Confidence < least)
            .Aggregate(Fraction.Zero, (sum, c) => sum + c.Reading.Duration);
        return density.Whole.OutsideQuarters.Sign == 0 ? Fraction.Zero : Fraction.Min(1, doubtful / density.Whole.OutsideQuarters);
    }

    private static string Against(Verdict verdict, Band band) => verdict switch
    {
        Verdict.Above => $"ABOVE {band} %",
        Verdict.Below => $"below {band} %",
        _ => $"within {band} %",
    };

    private static string Counts(Audit audit)
    {
        if (audit.Rows.Count == 0) return "no phrase";
        var counts = audit.Rows.GroupBy(r => r.Balance.Verdict).ToDictionary(g => g.Key, g => g.Count());
        var parts = new[] { Verdict.Within, Verdict.Above, Verdict.Below }.Where(counts.ContainsKey)
            .Select(v => (Verdict: v, Count: counts[v])).ToList();
        var phrases = audit.Rows.Count == 1 ? "phrase" : "phrases";
        return parts is [var only] && audit.Rows.Count > 1
            ? $"all {only.Count} {phrases} {only.Verdict.Name()}"
            : string.Join(", ", parts.Select((p, i) => i == 0 ? $"{p.Count} {(p.Count == 1 ? "phrase" : "phrases")} {p.Verdict.Name()}"
                : $"{p.Count} {p.Verdict.Name()}"));
    }

    private static string Place(AuditRow first, AuditRow last)
    {
        var (low, high) = (first.Balance.Phrase.Number, last.Balance.Phrase.Number);
        var numbers = low == high ? $"phrase {low}" : $"phrases {low}-{high}";
        var (start, end) = (first.Place.FirstMeasure, last.Place.LastMeasure);
        var from = From(first.Place.Rehearsal, first.Place.Time);
        return start.Length == 0 ? numbers : start == end ? $"{numbers}, m. {start}{from}" : $"{numbers}, m. {start}-{end}{from}";
    }

    private static string Range(IEnumerable<AuditRow> rows, Band band)
    {
        var shares = rows.Select(r => r.Balance.Shares.OutsideTime).ToList();
        var (least, most) = (shares.Min(), shares.Max());
        return most.Sign == 0 ? "nothing outside the key" : least == most ? ShareText.Percent(least, band)
            : $"{ShareText.Percent(least, band)} to {ShareText.Percent(most, band)}";
    }

    private static string Causes(Shares shares) =>
        string.Join(", ", shares.Devices.Take(3).Select(d => $"{d.Name()} {ShareText.Percent(shares.TimeOf(d))}"));

    private sealed record Audit(TabledCue Cue, CueDensity Density, IReadOnlyList<AuditRow> Rows)
    {
        public static Audit Of(TabledCue cue, Band band)
        {
            var density = CueDensity.Of([.. cue.Chords.Select(c => c.Chord)], [.. cue.Phrases.Select(p => p.Phrase)], band);
            return new Audit(cue, density, AuditRow.Of(cue, density));
        }
    }
}
