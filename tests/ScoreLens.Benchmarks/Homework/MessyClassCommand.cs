using System.CommandLine;
using System.Diagnostics;
using System.Globalization;

namespace ScoreLens.Benchmarks.Homework;

/// <summary>
/// Marks an invented class of forty with everything that real classes hand in, and compares each row with what was written down beforehand.
/// </summary>
internal static class MessyClassCommand
{
    public static Command Create()
    {
        var homework = new Argument<string>("FOLDER") { Description = "The folder testdata/homework, for the assignment." };
        var command = new Command("messy-class",
            "Marks an invented class of forty as real ones are, and compares each row with what was written down beforehand.") { homework };
        command.SetAction(parse => Report(parse.GetRequiredValue(homework)));
        return command;
    }

    private static int Report(string homework)
    {
        var folder = Directory.CreateTempSubdirectory("scorelens-messy-").FullName;
        try
        {
            var expected = CsvFile.Load(Path.Combine(AppContext.BaseDirectory, "messy-class.csv"), "student", "case", "status", "least",
                "most", "says");
            MessyClass.Write(folder, [.. expected.Select(r => (r["student"], r["case"]))]);
            foreach (var name in (string[])["assignment.yaml", "given.musicxml", "model.musicxml"]) File.Copy(Path.Combine(homework, name),
                Path.Combine(folder, name));
            var time = Stopwatch.StartNew();
            Cli.CommandLine.Run(
                ["mark", Path.Combine(folder, "class"), "--assignment", Path.Combine(folder, "assignment.yaml"), "--roster",
                    Path.Combine(folder, "roster.csv"),
                    "--out", Path.Combine(folder, "out"), "--quiet", "--jobs", "2"],
                TextWriter.Null, TextWriter.Null);
            time.Stop();
            var rows = CsvFile.Load(Path.Combine(folder, "out", "marks.csv"), "submission", "status", "total", "message")
                .ToDictionary(r => r["submission"]);
            var right = expected.Count(e => IsAsExpected(e, rows.GetValueOrDefault(e["student"])));
            Console.WriteLine(string.Create(
                CultureInfo.InvariantCulture, $"{right} of {expected.Count} rows as written down beforehand; {rows.Count} rows in all; "
                    + $"{time.Elapsed.TotalSeconds:0.0} s on 2 threads"));
            return right == expected.Count && rows.Count == expected.Count ? 0 : 1;
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static bool IsAsExpected(IReadOnlyDictionary<string, string> expected, IReadOnlyDictionary<string, string>? row)
    {
        if (row is not null && row["status"] == expected["status"] && row["message"].Contains(expected["says"], StringComparison.Ordinal)
            && IsInRange(row["total"], expected))
            return true;
        Console.WriteLine($"{expected["student"]} ({expected["case"]}): "
            + $"{(row is null ? "no row" : $"{row["status"]} {row["total"]} {row["message"]}")}, "
            + $"expected {expected["status"]} {expected["least"]}-{expected["most"]} {expected["says"]}");
        return false;
    }

    private static bool IsInRange(string total, IReadOnlyDictionary<string, string> expected)
    {
        if (expected["least"].Length == 0) return total.Length == 0;
        return double.TryParse(total, CultureInfo.InvariantCulture, out var points)
            && points >= double.Parse(expected["least"], CultureInfo.InvariantCulture)
                && points <= double.Parse(expected["most"], CultureInfo.InvariantCulture);
    }
}
