using System.CommandLine;
using System.Diagnostics;
using System.Globalization;
using ScoreLens.Marking;
using ScoreLens.Marking.Assignments;

namespace ScoreLens.Benchmarks.Homework;

/// <summary>
/// Writes the invented class of <c>testdata/homework</c>, or measures how long marking it takes and whether every planted mistake is found.
/// </summary>
internal static class HomeworkCommand
{
    public static Command Create()
    {
        var folder = new Argument<string>("FOLDER") { Description = "The folder testdata/homework." };
        var write = new Option<bool>("--write") { Description = "Write the class's files anew." };
        var command = new Command("homework", "Marks the invented class of testdata/homework: time, and planted mistakes that are "
            + "found.") { folder, write };
        command.SetAction(parse =>
        {
            if (parse.GetValue(write)) HomeworkClass.Write(parse.GetRequiredValue(folder));
            else Measure(parse.GetRequiredValue(folder));
            return 0;
        });
        return command;
    }

    private static void Measure(string folder)
    {
        var marker = new Marker(AssignmentFile.Load(Path.Combine(folder, "assignment.yaml")));
        var files = Directory.GetFiles(Path.Combine(folder, "class")).Order(StringComparer.Ordinal).ToArray();
        var time = Stopwatch.StartNew();
        var marked = files.AsParallel().AsOrdered().WithDegreeOfParallelism(2)
            .Select(f => marker.MarkFile(Path.GetFileNameWithoutExtension(f), f)).ToDictionary(s => s.Name);
        time.Stop();
        int planted = 0, found = 0;
        foreach (var row in CsvFile.Load(Path.Combine(folder, "planted.csv"), "submission", "kind", "measure", "beat"))
        {
            planted++;
            var submission = marked[row["submission"]];
            var hit = row["measure"].Length == 0
                ? !submission.IsMarked
                : submission.Remarks.SelectMany(r => r.Parts.Prepend(r))
                    .Any(r => r.Kind.Name() == row["kind"] && r.Measure == row["measure"] && r.Beat.ToString() == row["beat"]);
            if (hit) found++;
            else Console.WriteLine($"not found: {string.Join(' ', row.Values)}");
        }

        Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"{files.Length} submissions in {time.Elapsed.TotalSeconds:0.00} s on 2 threads; {found} of {planted} planted mistakes found"));
    }
}
