using System.CommandLine;
using System.Globalization;
using ScoreLens.Density;
using ScoreLens.Devices;
using ScoreLens.Marking;
using ScoreLens.Marking.PartWriting;
using ScoreLens.Notation;
using ScoreLens.Reharmonising;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Benchmarks;

/// <summary>
/// Writes alternatives into scores, reads the scores again, and counts how often the chord is then the one that was promised: key and
/// numeral, and device; and how the voices go there: faults against the part-writing rules, and how far the accompaniment's single lines
/// move into and out of the chord.
/// </summary>
internal static class ReharmoniseCommand
{
    private static readonly string[] Faults = ["parallel-fifths", "parallel-octaves", "parallel-unisons", "doubled-leading-tone"];

    public static Command Create()
    {
        var scores = new Argument<string[]>("SCORE")
        {
            Description = "Scores, or folders of them.",
            DefaultValueFactory = _ =>
            ["testdata"]
        };
        var top = new Option<int>("--top")
        {
            Description = "Only the first N alternatives of every chord.",
            HelpName = "N",
            DefaultValueFactory = _ => int.MaxValue
        };
        var every = new Option<int>("--every") { Description = "Only every Nth chord.", HelpName = "N", DefaultValueFactory = _ => 1 };
        var losses = new Option<bool>("--losses") { Description = "Print what was read instead." };
        var command = new Command("reharmonise",
            "Writes alternatives into scores and counts how often they are read as what they were promised to be.") { scores, top, every,
            losses };
        command.SetAction(parse =>
        {
            var files = parse.GetRequiredValue(scores).SelectMany(Files).ToArray();
            var tries = files.AsParallel().AsOrdered().SelectMany(f => Try(f, parse.GetValue(top), parse.GetValue(every))).ToArray();
            if (parse.GetValue(losses))
            {
                foreach (var lost in tries.Where(t => t is { IsWritable: true, IsRight: false }))
                    Console.WriteLine($"{lost.File} {lost.Onset}: {lost.InsteadOf} -> {lost.Promised.Numeral} "
                        + $"({lost.Promised.Device?.Name() ?? "diatonic"}), read as {lost.Found}");
            }

            foreach (var device in DeviceNames.All) Print(device.Name(), tries.Where(t => t.Promised.Device == device));
            Print("diatonic", tries.Where(t => t.Promised.Device is null));
            Print("all", tries);
            Print("as they stand", tries.Select(t => t.Before));
            Print("as written", tries.Select(t => t.After));
        });
        return command;
    }

    private static void Print(string name, IEnumerable<Attempt> tries)
    {
        var all = tries.ToArray();
        var written = all.Where(t => t.IsWritable).ToArray();
        if (all.Length == 0) return;
        var text = written.Length == 0 ? "none written" : string.Create(
            CultureInfo.InvariantCulture,
            $"{100.0 * written.Count(t => t.IsRight) / written.Length,5:0.0} % as promised, "
                + $"{100.0 * written.Count(t => t.IsNumeral) / written.Length,5:0.0} % in key and numeral, "
                + $"{100.0 * written.Count(t => t.IsDevice) / written.Length,5:0.0} % in device, of {written.Length} written");
        Console.WriteLine($"{name,-26} {all.Length,5} offered, {text}");
    }

    private static void Print(string name, IEnumerable<Voices?> voices)
    {
        var all = voices.OfType<Voices>().ToArray();
        var moved = all.SelectMany(v => v.Steps).ToArray();
        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"{name,-26} {string.Join(", ", Faults.Select((f, i) => $"{all.Sum(v => v.Faults[i])} {f}"))}; of {moved.Length} steps of "
                + $"single lines {moved.Count(m => m > 4)} beyond a third, {moved.DefaultIfEmpty().Average():0.00} semitones in the mean"));
    }

    private static IEnumerable<Attempt> Try(string file, int top, int every)
    {
        var analysis = CueAnalysis.Of(ScoreFile.Load(file).Score);
        var reharmoniser = new Reharmoniser(analysis, Band.Default);
        var remarks = Remarks(analysis);
        for (var i = 0; i < analysis.Chords.Count; i += every)
        {
            foreach (var alternative in reharmoniser.At(i, all: true).Take(top))
            {
                var reading = analysis.Chords[i].Reading;
                var again = alternative.Rewriting.IsPossible ? CueAnalysis.Of(alternative.Rewriting.ApplyTo(analysis.Score)) : null;
                var found = again is null ? null : Rereading.In(again, alternative);
                yield return new Attempt(
                    Path.GetFileName(file), reading.Onset.ToString(), $"{reading.Numeral}", alternative, alternative.Rewriting.IsPossible,
                        Rereading.Is(found, alternative),
                    found is not null && found.Reading.Key == alternative.Key && found.Reading.Numeral == alternative.Numeral,
                    found is not null && found.Device == alternative.Device,
                    $"{found?.Reading.Numeral} in {found?.Reading.Key} ({found?.Device?.Name() ?? "diatonic"})",
                    again is null ? null : Voices.In(analysis.Score, remarks, alternative), again is null ? null
                        : Voices.In(again.Score, Remarks(again), alternative));
            }
        }
    }

    private static IReadOnlyList<Remark> Remarks(CueAnalysis analysis) =>
        PartWritingCheck.Run(analysis.Score, analysis.Sonorities, analysis.Reading, PartWritingOptions.Default);

    private static IEnumerable<string> Files(string path) =>
        Directory.Exists(path)
            ? Directory.EnumerateFiles(path, "*", SearchOption.AllDirectories)
                .Where(f => ScoreFile.Extensions.Contains(Path.GetExtension(f)) && !f.Contains("homework", StringComparison.Ordinal))
                    .Order(StringComparer.Ordinal)
            : [path];

    private sealed record Attempt(
        string File, string Onset, string InsteadOf, Alternative Promised, bool IsWritable, bool IsRight, bool IsNumeral, bool IsDevice,
            string Found,
        Voices? Before, Voices? After);

    /// <summary>How the voices go in a span, into it and out of it.</summary>
    private sealed record Voices(IReadOnlyList<int> Faults, IReadOnlyList<int> Steps)
    {
        public static Voices In(Score score, IReadOnlyList<Remark> remarks, Alternative alternative)
        {
            var (start, end) = (alternative.Rewriting.Start, alternative.Rewriting.End);
            var lines = SonorityFinder.JoinTies(score.Notes).GroupBy(n => (n.Part, n.Staff, n.Voice)).Where(g => g.Key != (0, 1, "1"));
            return new Voices(
                [.. ReharmoniseCommand.Faults.Select(f => remarks.Count(r => r.Kind.Name() == f && r.Onset >= start && r.Onset <= end))],
                    [.. lines.SelectMany(l => Motion(l, [start, end]))]);
        }

        private static IEnumerable<int> Motion(IEnumerable<SoundingNote> line, Fraction[] places) =>
            from place in places
            let before = line.Where(n => n.End == place).ToArray()
            let after = line.Where(n => n.Onset == place).ToArray()
            where before.Length == 1 && after.Length == 1
            select Math.Abs(after[0].Pitch.Midi - before[0].Pitch.Midi);
    }
}
