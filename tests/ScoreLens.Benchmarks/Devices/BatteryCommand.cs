using System.CommandLine;
using System.Globalization;
using ScoreLens.Devices;
using ScoreLens.TestKit.Devices;

namespace ScoreLens.Benchmarks.Devices;

/// <summary>
/// The handbook battery: every device in all keys, textures and numbers of voices; how often the device is right and how often
/// a diatonic chord stays untagged, with the handbook's numerals given and through everything from the score on.
/// </summary>
internal static class BatteryCommand
{
    public static Command Create()
    {
        var every = new Option<int>("--every") { Description = "Take every Nth score.", HelpName = "N", DefaultValueFactory = _ => 1 };
        var given = new Option<bool>("--given") { Description = "Only with the handbook's own numerals." };
        var losses = new Option<string?>("--losses")
        {
            Description = "Write what went wrong into FILE, progression by progression.",
            HelpName = "FILE"
        };
        var command = new Command("battery", "Tries every device in handbook progressions, all keys and textures.") { every, given,
            losses };
        command.SetAction(parse =>
        {
            using var report = parse.GetValue(losses) is { } path ? File.CreateText(path) : null;
            Try("handbook's numerals given", false, parse.GetValue(every), report);
            if (!parse.GetValue(given)) Try("from the score on", true, parse.GetValue(every), report);
        });
        return command;
    }

    private static void Try(string title, bool wholePipeline, int every, TextWriter? report)
    {
        var answers = Battery.Run(wholePipeline, every).ToArray();
        Console.WriteLine($"{title}: {answers.Length} chords");
        foreach (var device in DeviceNames.All) Print(device.Name(), answers.Where(a => a.Truth.Device == device));
        Print("every device", answers.Where(a => a.Truth.Device is not null));
        Print("diatonic, untagged", answers.Where(a => a.Truth.Device is null));
        if (report is not null) Report(title, answers, report);
    }

    private static void Print(string name, IEnumerable<BatteryAnswer> answers)
    {
        var all = answers.ToArray();
        if (all.Length == 0) return;
        var right = all.Count(a => a.IsRight);
        var wrong = all.Where(a => !a.IsRight).GroupBy(a => a.Found?.Device?.Name() ?? "none").OrderByDescending(g => g.Count()).Take(3);
        var instead = string.Join(", ", wrong.Select(g => $"{g.Key} {g.Count()}"));
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"  {name,-26} {100.0 * right / all.Length,6:0.00} % of {all.Length,6}   {instead}"));
    }

    private static void Report(string title, BatteryAnswer[] answers, TextWriter report)
    {
        report.WriteLine($"# {title}");
        foreach (var group in answers.Where(a => !a.IsRight).GroupBy(a => (a.Progression, a.Index)).OrderByDescending(g => g.Count()))
        {
            var of = answers.Count(a => a.Progression == group.Key.Progression && a.Index == group.Key.Index);
            var truth = group.First().Truth;
            report.WriteLine($"- {group.Key.Progression.Mode} {group.Key.Progression.Name}: `{group.Key.Progression.Chords}`");
            report.WriteLine($"  chord {group.Key.Index + 1}, {truth.Numeral}, {truth.Device?.Name() ?? "diatonic"}: {group.Count()} of "
                + $"{of} wrong");
            foreach (var same in group.GroupBy(a => Said(a)).OrderByDescending(g => g.Count()).Take(4))
                report.WriteLine($"  - {same.Count()} times {same.Key}; first in {Where(same.First())}");
        }
    }

    private static string Said(BatteryAnswer answer)
    {
        if (answer.Found is not { } found) return "nothing";
        var key = found.Reading.Key == answer.Truth.Key ? "the key"
            : $"{found.Reading.Key} instead of {answer.Truth.Key}".Replace("#", "♯", StringComparison.Ordinal);
        if (found.Reading.Key != answer.Truth.Key)
        {
            var up = found.Reading.Key.Tonic - answer.Truth.Key.Tonic;
            key = $"a {found.Reading.Key.Mode.ToString().ToLowerInvariant()} key {up} fifths away";
        }

        return $"read as {found.Reading.Numeral} in {key}, called {found.Device?.Name() ?? "diatonic"}";
    }

    private static string Where(BatteryAnswer answer) =>
        $"{answer.Setting.Home}, {answer.Setting.Voices} voices, {answer.Setting.Texture}, "
            + $"{answer.Setting.Time.Beats}/{answer.Setting.Time.BeatType}";
}
