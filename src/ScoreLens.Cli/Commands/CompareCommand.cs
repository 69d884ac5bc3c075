using System.CommandLine;
using System.Globalization;
using ScoreLens.Cli.Shared;
using ScoreLens.Density;
using ScoreLens.Devices;
using ScoreLens.Output.Tables;
using ScoreLens.Pages;
using ScoreLens.Theory;
using ScoreLens.Wording;

namespace ScoreLens.Cli.Commands;

/// <summary>Cues side by side: how much colour each has, and which device sets it apart.</summary>
internal static class CompareCommand
{
    public static Command Create()
    {
        var scores = new ScoreOptions();
        var band = BandOption.Create();
        var sure = SureOption.Create();
        var keys = KeysOption.Create();
        var clock = new ClockOption();
        var command = new DocumentedCommand(
            "compare",
            "Compares cues side by side, in the order given: prints a table, and writes comparison.csv and "
                + "comparison.page.html into the output folder. Takes scores and tables that annotate wrote "
                + "(NAME.chords.csv), also mixed. Default output folder: comparison.scorelens beside the first input.",
            "compare first.musicxml second.mxl third.chords.csv",
            "compare cues --out results");
        scores.AddTo(command);
        command.Add(band);
        command.Add(sure);
        command.Add(keys);
        clock.AddTo(command);
        command.SetAction(parse =>
        {
            var session = new Session(parse, scores, CueFile.Extensions);
            var limits = parse.GetValue(band);
            var rows = ComparisonRow.Of([.. session.ForEach(input =>
                CueFile.Load(input, session, parse.GetValue(keys), clock.Of(parse))).SelectMany(c => c)
                .Select(c => c.AtLeast(parse.GetValue(sure)))], limits);
            if (rows.Count == 0) return session.Status;
            var first = Path.TrimEndingDirectorySeparator(parse.GetRequiredValue(scores.Scores)[0]);
            var beside = Path.GetDirectoryName(Path.GetFullPath(first))!;
            var folder = session.OutFolder ?? Path.Combine(beside, "comparison.scorelens");
            using var results = session.ResultsIn(folder);
            results.Add("comparison.csv", writer => ComparisonTable.Write(rows, writer));
            results.Add("comparison.page.html", ComparisonPage.Write("",
                [.. rows.Select(r => new ComparedCue(r.Cue.Title, r.Cue.Key, r.Density.Whole) { FirstPlaces = FirstPlaces(r.Cue) })],
                    limits));
            results.Commit();
            session.Output.Write(Describe(rows));
            if (!session.IsQuiet) session.Output.WriteLine($"-> {folder}");
            return session.Status;
        });
        return command;
    }

    private static Dictionary<Device, string> FirstPlaces(TabledCue cue) => DeviceNames.All
        .Select(d => (Device: d, First: cue.First(d))).Where(d => d.First is not null)
        .ToDictionary(d => d.Device, d => PlaceText.Where(d.First!));

    private static string Describe(IReadOnlyList<ComparisonRow> rows)
    {
        string[] heads = ["cue", "key", "outside", "home", "verdict", "most typical"];
        var cells = rows.Select(r => (string[])
        [
            r.Cue.Title,
            r.Cue.Key?.ToString() ?? "-",
            ShareText.PercentInColumn(r.Density.Whole.OutsideTime),
            ShareText.PercentInColumn(r.Density.Whole.OutsideHomeTime),
            r.Density.Verdict.Name(),
            r.Characteristic is not { } c ? "-"
                : rows.Count == 1 ? $"{c.Device.Name()} {ShareText.PercentInColumn(c.Here)}"
                : $"{c.Device.Name()} {ShareText.PercentInColumn(c.Here)} (others {ShareText.PercentInColumn(c.Elsewhere)})",
        ]).ToList();
        var widths = heads.Select((h, i) => cells.Max(c => Math.Max(c[i].Length, h.Length))).ToArray();
        using var text = new StringWriter(CultureInfo.InvariantCulture);
        foreach (var line in cells.Prepend(heads))
            text.WriteLine(string.Join("  ", line.Select((cell, i) => i is 2 or 3 ? cell.PadLeft(widths[i]) : cell.PadRight(widths[i])))
                .TrimEnd());
        if (rows.Count > 1) Repeats(rows, text);
        return text.ToString();
    }

    private static string Alone(Device device, TabledCue cue) =>
        device.Name() + (cue.First(device) is { } first ? $", first in {PlaceText.Where(first)}" : "");

    // What a listener to the whole set hears again and again, and what one cue keeps to itself.
    private static void Repeats(IReadOnlyList<ComparisonRow> rows, StringWriter text)
    {
        var users = DeviceNames.All
            .Select(d => (Device: d, Cues: rows.Where(r => r.Density.Whole.QuartersOf(d).Sign > 0).Select(r => r.Cue).ToList()))
            .Where(u => u.Cues.Count > 0).ToList();
        foreach (var group in users.Where(u => u.Cues.Count > 1).GroupBy(u => u.Cues.Count).OrderByDescending(g => g.Key))
            text.WriteLine($"in {(group.Key == rows.Count ? "all" : $"{group.Key} of")} {rows.Count} cues: "
                + $"{string.Join(", ", group.Select(u => u.Device.Name()))}");
        foreach (var group in users.Where(u => u.Cues.Count == 1).GroupBy(u => u.Cues[0]))
            text.WriteLine($"in {group.Key.Title} alone: {string.Join("; ", group.Select(u => Alone(u.Device, group.Key)))}");
    }
}
