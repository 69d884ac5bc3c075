using System.CommandLine;
using System.Diagnostics;
using System.Globalization;
using System.Text.Json;
using ScoreLens.Density;
using ScoreLens.Notation;
using ScoreLens.Output.Tables;
using ScoreLens.TestKit.Corpus;
using ScoreLens.Training;

namespace ScoreLens.Benchmarks;

/// <summary>
/// Analyses works in this process, several at a time, and compares the tables with the experts' analyses, repertoire by repertoire: by the
/// corpus's own <c>evaluate.py</c>, or, where the corpus is not beside the repository, by the same measure written here.
/// </summary>
internal static class AccuracyCommand
{
    public static Command Create()
    {
        var (corpus, only) = (WorkOptions.Corpus(), WorkOptions.Only());
        var sample = WorkOptions.Sample();
        var split = new Option<Split?>("--split")
        {
            Description = "Works by their part in learning: train (learned from), validation (open, kept out), "
                + "measure (noncommercial, measured only).",
        };
        var tables = new Option<string?>("--tables") { Description = "Keep the tables in DIR.", HelpName = "DIR" };
        var each = WorkOptions.Each();
        var lists = new Option<bool>("--lists")
        {
            Description = "Print for each repertoire how reliable the stated confidence is, step by step, and every device of the "
                + "expert's that is "
                + "left out though the chord is read as he does.",
        };
        var errors = new Option<int>("--errors")
        {
            Description = "Print N errors of each repertoire in notes, spread evenly over all that last a quarter note or more.",
            HelpName = "N",
        };
        var floors = new Option<string[]>("--floor")
        {
            Description = "Fail when a figure is below: REPERTOIRE:FIELD=SHARE, as open/chorales:numeral=.50 (may be repeated).",
            HelpName = "FLOOR",
            DefaultValueFactory = _ => [],
        };
        var own = new Option<bool>("--own-measure")
        {
            Description = "Compare by the repository's own measure even where evaluate.py is at hand.",
        };
        var jobs = new Option<int>("--jobs") { Description = "Works at a time.", DefaultValueFactory = _ => Environment.ProcessorCount };
        var command = new Command("accuracy", "Compares the reading with the experts' analyses of the corpus, per repertoire.")
        {
            corpus, only, split, sample, tables, each, lists, errors, floors, own, jobs,
        };
        command.SetAction(parse =>
        {
            var folder = Path.GetFullPath(parse.GetRequiredValue(corpus));
            if (!Directory.Exists(folder))
            {
                Console.Error.WriteLine($"There is no folder {folder}.");
                return 2;
            }

            var part = parse.GetValue(split);
            var works = CorpusWorks.In(folder, parse.GetValue(only), parse.GetValue(sample), work => part is null || work.Split == part);
            if (works.Count == 0)
            {
                Console.Error.WriteLine($"No work with a score.mxl and a reference.csv lies below {folder}.");
                return 2;
            }

            var script = parse.GetValue(own) ? null : FindScript(folder);
            if (script is null) return OwnMeasure.Run(
                works, parse.GetValue(each), parse.GetValue(lists), parse.GetValue(errors), parse.GetValue(floors)!,
                parse.GetValue(jobs));
            using var scratch = new Scratch();
            var kept = parse.GetValue(tables);
            return Measure(
                script, works, kept ?? scratch.Folder("tables"), scratch.Folder("corpus"), parse.GetValue(each), parse.GetValue(lists),
                parse.GetValue(errors), parse.GetValue(floors)!, parse.GetValue(jobs));
        });
        return command;
    }

    private static int Measure(
        string script, IReadOnlyList<CorpusWork> works, string tables, string selection, bool each, bool lists, int errors, string[] floors,
        int jobs)
    {
        Directory.CreateDirectory(tables);
        var watch = Stopwatch.StartNew();
        var groups = new SortedDictionary<string, Agreement>(StringComparer.Ordinal);
        Parallel.ForEach(works, new ParallelOptions { MaxDegreeOfParallelism = jobs }, work =>
        {
            var analysis = WriteTables(work, tables);
            var expert = ReferenceWork.Analysis(work);
            lock (groups)
            {
                if (!groups.TryGetValue(work.Group(), out var group)) groups[work.Group()] = group = new Agreement();
                group.Add(analysis, expert);
            }
        });
        var seconds = watch.Elapsed.TotalSeconds;
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"{works.Count} works analysed in {seconds:0.0} s, {jobs} at a time"));

        // The script walks a folder, and a work without a table counts as failed: it is given the chosen works alone.
        foreach (var work in works)
        {
            var folder = Directory.CreateDirectory(Path.Combine(selection, work.Name)).FullName;
            foreach (var file in (string[])["score.mxl", "reference.csv", "phrases.csv"])
            {
                var source = Path.Combine(work.Folder, file);
                if (File.Exists(source)) File.CreateSymbolicLink(Path.Combine(folder, file), source);
            }
        }

        var status = Evaluate(script, selection, tables, each ? ["--each"] : [], Console.Out);
        foreach (var (name, group) in groups)
        {
            Console.WriteLine(name);
            OwnMeasure.PrintKeysAndErrors(group, lists, errors);
        }

        if (floors.Length == 0) return status;
        using var json = new StringWriter(CultureInfo.InvariantCulture);
        status |= Evaluate(script, selection, tables, ["--json"], json);
        var figures = JsonDocument.Parse(json.ToString()).RootElement;
        return Floors.AreMissed(floors, Figure) ? 1 : status;

        double? Figure(string repertoire, string field) =>
            figures.TryGetProperty(repertoire, out var group) && group.TryGetProperty(field, out var figure) ? figure.GetDouble() : null;
    }

    private static CueAnalysis WriteTables(CorpusWork work, string folder)
    {
        var analysis = CueAnalysis.Of(ScoreFile.Load(work.ScorePath).Score);
        var stem = Path.Combine(folder, work.Name.Replace("/", "__", StringComparison.Ordinal));
        using (var chords = File.CreateText(stem + ".csv")) ChordTable.Write(ChordRow.Of(analysis), chords);
        using var phrases = File.CreateText(stem + ".phrases.csv");
        PhraseTable.Write(PhraseRow.Of(analysis, CueDensity.Of(analysis, Band.Default)), phrases);
        return analysis;
    }

    // evaluate.py lies in the corpus's top folder, above any part of it.
    private static string? FindScript(string corpus)
    {
        for (var folder = new DirectoryInfo(corpus); folder is not null; folder = folder.Parent)
        {
            var script = Path.Combine(folder.FullName, "evaluate.py");
            if (File.Exists(script)) return script;
        }

        return Places.SharedOrNull("corpus", "evaluate.py");
    }

    private static int Evaluate(string script, string works, string tables, string[] options, TextWriter output)
    {
        var start = new ProcessStartInfo("python3", [script, works, "--tables", tables, .. options]) { RedirectStandardOutput = true };
        using var process = Process.Start(start) ?? throw new InvalidOperationException("python3 could not be started.");
        while (process.StandardOutput.ReadLine() is { } line) output.WriteLine(line);
        process.WaitForExit();
        return process.ExitCode;
    }

    /// <summary>A folder that is gone afterwards.</summary>
    private sealed class Scratch : IDisposable
    {
        private readonly DirectoryInfo _root = Directory.CreateTempSubdirectory("scorelens-accuracy-");

        public string Folder(string name) => Directory.CreateDirectory(Path.Combine(_root.FullName, name)).FullName;

        public void Dispose() => _root.Delete(recursive: true);
    }
}
