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

    public static Command Create()
    {
        var scores = new ScoreOptions();
        var band = BandOption.Create();
        var sure = SureOption.Create();
        var keys = KeysOption.Create();
        var csv = new Option<bool>("--csv") { Description = "Print a table instead, a row a phrase, with every chord responsible." };
        var command = new DocumentedCommand(
            "audit",
            "Says which phrases lie above or below the band of time outside the key, which device causes it, and which chords do not "
            + "resolve as expected. Takes scores and the tables that annotate wrote (NAME.chords.csv). Exit status 1 when a phrase leaves the band.",
            "audit cue.musicxml",
            "audit cues --band 15-25 --csv");
        scores.AddTo(command, writes: false);
        command.Add(band);
        command.Add(sure);
        command.Add(keys);
        command.Add(csv);
        command.SetAction(parse =>
        {
            var session = new Session(parse, scores, CueFile.Extensions);
            var limits = parse.GetValue(band);
            var table = parse.GetValue(csv);
            var audits = session.ForEach(input => Audit.Of(CueFile.Load(input, parse.GetValue(keys)).AtLeast(parse.GetValue(sure)), limits), audit =>
            {
                if (!table) session.Output.Write(Describe(audit));
            });
            if (table) AuditTable.Write(audits.SelectMany(a => a.Rows), session.Output);
            return session.StatusWhen(audits.Any(a => a.Rows.Any(r => r.Balance.Verdict != Verdict.Within)));
        });
        return command;
    }

    private static string Describe(Audit audit)
    {
        using var text = new StringWriter(CultureInfo.InvariantCulture);
        var (cue, density) = (audit.Cue, audit.Density);
        text.WriteLine($"{cue.Name}: {ShareText.Percent(density.Whole.OutsideTime)} of the time outside the key, {Against(density.Verdict, density.Band)}; {Counts(audit)}");
        if (Doubtful(cue, density) is { Sign: > 0 } doubtful)
            text.WriteLine($"  {ShareText.Percent(doubtful)} of the time outside the key rests on readings less sure than {ShareText.Percent(DoubtfulBelow)}");
        if (cue.OtherKeys is { Differ: true } other) text.WriteLine($"  {KeysText.Shares(other)}");
        for (var i = 0; i < audit.Rows.Count; i++)
        {
            var row = audit.Rows[i];
            // Plain phrases in a row are one line: what there is to say is that they are plain.
            if (row.Balance.Verdict == Verdict.Below)
            {
                var last = i;
                while (last + 1 < audit.Rows.Count && audit.Rows[last + 1].Balance.Verdict == Verdict.Below) last++;
                text.WriteLine($"  below  {Place(row, audit.Rows[last])}: {Range(audit.Rows.Skip(i).Take(last - i + 1))}");
                i = last;
                continue;
            }

            if (row.Balance.Verdict == Verdict.Within) continue;
            text.WriteLine($"  above  {Place(row, row)}: {ShareText.Percent(row.Balance.Shares.OutsideTime)}, by {Causes(row)}");
            var more = row.Outside.Count > ShownChords ? $" and {row.Outside.Count - ShownChords} more" : "";
            text.WriteLine($"         {string.Join("; ", row.Outside.Take(ShownChords).Select(PlaceText.WithDoubt))}{more}");
        }

        var unresolved = audit.Rows.SelectMany(r => r.Unresolved).ToList();
        if (unresolved.Count > 0)
        {
            var shown = unresolved.Take(ShownChords).Select(c => c.Chord.Device is { } device ? $"{PlaceText.WithDoubt(c)} ({device.Name()})"
                : PlaceText.Of(c));
            text.WriteLine($"  not resolved as expected: {string.Join("; ", shown)}{(unresolved.Count > ShownChords ? $" and {unresolved.Count - ShownChords} more" : "")}");
        }

        return text.ToString();
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
        var (from, to) = (first.Balance.Phrase.Number, last.Balance.Phrase.Number);
        var numbers = from == to ? $"phrase {from}" : $"phrases {from}-{to}";
        var (start, end) = (first.Place.FirstMeasure, last.Place.LastMeasure);
        return start.Length == 0 ? numbers : start == end ? $"{numbers}, m. {start}" : $"{numbers}, m. {start}-{end}";
    }

    private static string Range(IEnumerable<AuditRow> rows)
    {
        var shares = rows.Select(r => r.Balance.Shares.OutsideTime).ToList();
        var (least, most) = (shares.Min(), shares.Max());
        return most.Sign == 0 ? "nothing outside the key" : least == most ? ShareText.Percent(least)
            : $"{ShareText.Percent(least)} to {ShareText.Percent(most)}";
    }

    private static string Causes(AuditRow row)
    {
        var shares = row.Balance.Shares;
        return string.Join(", ", shares.Devices.Take(3).Select(d => $"{d.Name()} {ShareText.Percent(shares.TimeOf(d))}"));
    }

    private sealed record Audit(TabledCue Cue, CueDensity Density, IReadOnlyList<AuditRow> Rows)
    {
        public static Audit Of(TabledCue cue, Band band)
        {
            var density = CueDensity.Of([.. cue.Chords.Select(c => c.Chord)], [.. cue.Phrases.Select(p => p.Phrase)], band);
            return new Audit(cue, density, AuditRow.Of(cue, density));
        }
    }
}
