using System.CommandLine;
using System.Globalization;
using ScoreLens.Notation;
using ScoreLens.Output.Tables;
using ScoreLens.Reading;
using ScoreLens.TestKit.Corpus;
using ScoreLens.Theory;
using ScoreLens.Training;

namespace ScoreLens.Benchmarks;

/// <summary>
/// Reads the worked examples of five published harmony textbooks (the corpus's textbooks folder) and reports each one: as
/// printed, or which chords are read otherwise. Nothing fails here: a textbook's reading is one reading.
/// </summary>
internal static class TextbooksCommand
{
    public static Command Create()
    {
        var folder = new Argument<string>("FOLDER")
        {
            Description = "A folder of works, each a score.mxl and a reference.csv.",
            DefaultValueFactory = _ => Path.Combine(CorpusWorks.DefaultFolder, "open", "textbooks"),
        };
        var only = new Option<string?>("--only") { Description = "Works whose path holds TEXT.", HelpName = "TEXT" };
        var command = new Command("textbooks", "Reads the textbooks' worked examples and reports each: as printed, or what is read "
            + "otherwise.") { folder, only };
        command.SetAction(parse =>
        {
            var path = Path.GetFullPath(parse.GetRequiredValue(folder));
            if (!Directory.Exists(path))
            {
                Console.WriteLine($"skipped: there is no folder {path}");
                return;
            }

            Report(CorpusWorks.In(path, parse.GetValue(only), 0));
        });
        return command;
    }

    private static void Report(IReadOnlyList<CorpusWork> works)
    {
        var reports = new string[works.Count];
        int asPrinted = 0, chords = 0, right = 0;
        Parallel.For(0, works.Count, i =>
        {
            var (report, total, same) = Compare(works[i]);
            reports[i] = report;
            Interlocked.Add(ref chords, total);
            Interlocked.Add(ref right, same);
            if (total == same) Interlocked.Increment(ref asPrinted);
        });
        foreach (var report in reports) Console.WriteLine(report);
        Console.WriteLine($"{asPrinted} of {works.Count} examples read as printed; {right} of {chords} chords.");
    }

    private static (string Report, int Chords, int Same) Compare(CorpusWork work)
    {
        using var text = File.OpenText(work.ReferencePath());
        var printed = ChordTable.Read(text, seventhsOfScale: true).Select(row => row.Chord.Reading)
            .Where(chord => chord.Numeral is not null).ToList();
        var read = CueAnalysis.Of(ScoreFile.Load(work.ScorePath).Score).Reading;
        var otherwise = new List<string>();
        foreach (var chord in printed)
        {
            var ours = Longest(read, chord);
            if (ours is not null && ours.Key == chord.Key && Same(ours, chord)) continue;
            otherwise.Add(string.Create(
                CultureInfo.InvariantCulture,
                $"  at {chord.Onset}: printed {chord.Key} {chord.Numeral}, read "
                    + $"{(ours is null ? "nothing" : $"{ours.Key} {ours.Numeral}")}"));
        }

        var head = otherwise.Count == 0
            ? $"{work.Name}: as printed ({printed.Count} chords)"
            : $"{work.Name}: {otherwise.Count} of {printed.Count} chords read otherwise";
        return (string.Join(Environment.NewLine, otherwise.Prepend(head)), printed.Count, printed.Count - otherwise.Count);
    }

    private static ChordReading? Longest(HarmonicReading reading, ChordReading printed) => reading.Chords
        .Where(c => c.Numeral is not null && c.Onset < printed.End && c.End > printed.Onset)
        .MaxBy(c => Fraction.Min(c.End, printed.End) - Fraction.Max(c.Onset, printed.Onset));

    // A cadential six-four is also written I64.
    private static bool Same(ChordReading ours, ChordReading printed) =>
        ours.Numeral!.RootFifths(ours.Key.Mode) == printed.Numeral!.RootFifths(printed.Key.Mode)
        && ours.Numeral.Quality == printed.Numeral.Quality
        && ours.Numeral.Inversion == printed.Numeral.Inversion
        && ours.Numeral.Target?.ToString() == printed.Numeral.Target?.ToString();
}
