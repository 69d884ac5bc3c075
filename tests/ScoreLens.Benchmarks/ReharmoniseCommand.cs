using System.CommandLine;
using System.Globalization;
using ScoreLens.Density;
using ScoreLens.Devices;
using ScoreLens.Notation;
using ScoreLens.Reharmonising;

namespace ScoreLens.Benchmarks;

/// <summary>
/// Writes alternatives into scores, reads the scores again, and counts how often the chord is then the one that was promised: key and
/// numeral, and device.
/// </summary>
internal static class ReharmoniseCommand
{
    public static Command Create()
    {
        var scores = new Argument<string[]>("SCORE") { Description = "Scores, or folders of them.", DefaultValueFactory = _ => ["testdata"] };
        var top = new Option<int>("--top") { Description = "Only the first N alternatives of every chord.", HelpName = "N", DefaultValueFactory = _ => int.MaxValue };
        var every = new Option<int>("--every") { Description = "Only every Nth chord.", HelpName = "N", DefaultValueFactory = _ => 1 };
        var losses = new Option<bool>("--losses") { Description = "Print what was read instead." };
        var command = new Command("reharmonise", "Writes alternatives into scores and counts how often they are read as what they were promised to be.") { scores, top, every, losses };
        command.SetAction(parse =>
        {
            var files = parse.GetRequiredValue(scores).SelectMany(Files).ToArray();
            var tries = files.AsParallel().AsOrdered().SelectMany(f => Try(f, parse.GetValue(top), parse.GetValue(every))).ToArray();
            if (parse.GetValue(losses))
            {
                foreach (var lost in tries.Where(t => t is { IsWritable: true, IsRight: false }))
                    Console.WriteLine($"{lost.File} {lost.Onset}: {lost.InsteadOf} -> {lost.Promised.Numeral} ({lost.Promised.Device?.Name() ?? "diatonic"}), read as {lost.Found}");
            }

            foreach (var device in DeviceNames.All) Print(device.Name(), tries.Where(t => t.Promised.Device == device));
            Print("diatonic", tries.Where(t => t.Promised.Device is null));
            Print("all", tries);
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
            $"{100.0 * written.Count(t => t.IsRight) / written.Length,5:0.0} % as promised, {100.0 * written.Count(t => t.IsNumeral) / written.Length,5:0.0} % in key and numeral, {100.0 * written.Count(t => t.IsDevice) / written.Length,5:0.0} % in device, of {written.Length} written");
        Console.WriteLine($"{name,-26} {all.Length,5} offered, {text}");
    }

    private static IEnumerable<Attempt> Try(string file, int top, int every)
    {
        var analysis = CueAnalysis.Of(ScoreFile.Load(file).Score);
        var reharmoniser = new Reharmoniser(analysis, Band.Default);
        for (var i = 0; i < analysis.Chords.Count; i += every)
        {
            foreach (var alternative in reharmoniser.At(i).Take(top))
            {
                var reading = analysis.Chords[i].Reading;
                var found = alternative.Rewriting.IsPossible ? Rereading.In(CueAnalysis.Of(alternative.Rewriting.ApplyTo(analysis.Score)), alternative) : null;
                yield return new Attempt(
                    Path.GetFileName(file), reading.Onset.ToString(), $"{reading.Numeral}", alternative, alternative.Rewriting.IsPossible, Rereading.Is(found, alternative),
                    found is not null && found.Reading.Key == alternative.Key && found.Reading.Numeral == alternative.Numeral,
                    found is not null && found.Device == alternative.Device,
                    $"{found?.Reading.Numeral} in {found?.Reading.Key} ({found?.Device?.Name() ?? "diatonic"})");
            }
        }
    }

    private static IEnumerable<string> Files(string path) =>
        Directory.Exists(path)
            ? Directory.EnumerateFiles(path, "*", SearchOption.AllDirectories)
                .Where(f => ScoreFile.Extensions.Contains(Path.GetExtension(f)) && !f.Contains("homework", StringComparison.Ordinal)).Order(StringComparer.Ordinal)
            : [path];

    private sealed record Attempt(
        string File, string Onset, string InsteadOf, Alternative Promised, bool IsWritable, bool IsRight, bool IsNumeral, bool IsDevice, string Found);
}
