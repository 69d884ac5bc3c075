using System.Diagnostics;
using System.Globalization;
using ScoreLens.Notation;
using ScoreLens.TestKit.Corpus;
using ScoreLens.Training;

namespace ScoreLens.Benchmarks;

/// <summary>The accuracy of works by the repository's own measure, for whoever has no corpus beside it.</summary>
internal static class OwnMeasure
{
    public static int Run(IReadOnlyList<CorpusWork> works, bool each, bool lists, int errors, string[] floors, int jobs)
    {
        var watch = Stopwatch.StartNew();
        var measured = new Agreement[works.Count];
        Parallel.For(0, works.Count, new ParallelOptions { MaxDegreeOfParallelism = jobs }, i =>
        {
            measured[i] = new Agreement();
            measured[i].Add(CueAnalysis.Of(ScoreFile.Load(works[i].ScorePath).Score), ReferenceWork.Analysis(works[i]));
        });
        var seconds = watch.Elapsed.TotalSeconds;
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"{works.Count} works analysed in {seconds:0.0} s, {jobs} at a time"));
        var groups = new SortedDictionary<string, Agreement>(StringComparer.Ordinal);
        foreach (var (work, figures) in works.Zip(measured))
        {
            if (each) Print(work.Name, figures, lists: false, 0);
            if (!groups.TryGetValue(work.Group(), out var group)) groups[work.Group()] = group = new Agreement();
            group.Add(figures);
        }

        foreach (var (name, figures) in groups) Print(name, figures, lists, errors);
        return Floors.AreMissed(floors, Figure) ? 1 : 0;

        double? Figure(string name, string field) =>
            groups.TryGetValue(name, out var group) && Agreement.Fields.Contains(field) ? group[field] : null;
    }

    private static void Print(string name, Agreement figures, bool lists, int examples)
    {
        var quarters = figures.Quarters.ToDouble();
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{name}: {figures.Works} works, {quarters:0} quarter notes"));
        var shares = Agreement.Fields.Select(f => string.Create(CultureInfo.InvariantCulture, $"{f} {figures[f]:0.000}"));
        Console.WriteLine("  " + string.Join("  ", shares));
        PrintKeysAndErrors(figures, lists, examples);
    }

    /// <summary>Prints what the corpus's script does not count: keys, the sign of the share outside, and the kinds of errors.</summary>
    public static void PrintKeysAndErrors(Agreement figures, bool lists = false, int examples = 0)
    {
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"  keys: the experts {figures.KeysStated}, the program {figures.KeysFound}; outside the key {figures.SharePoints:+0.0;-0.0} "
                + $"points in the mean work"));
        var errors = Agreement.ErrorKinds.Select(k => string.Create(CultureInfo.InvariantCulture, $"{k} {figures.Errors(k):0.000}"));
        Console.WriteLine("  errors, of the time: " + string.Join("; ", errors));
        Console.WriteLine($"  chords read as the expert does, with a device of his that is none here: {figures.Dropped.Count}");
        foreach (var error in Spread(figures.Disagreements, examples)) Console.WriteLine($"    {error.Kind}: {error.Title}, {error.Text}");
        if (!lists) return;
        foreach (var chord in figures.Dropped) Console.WriteLine("    " + chord);
        Console.WriteLine("  confidence: share of the time, stated, right");
        for (var bin = 0; bin < Agreement.Bins; bin++)
        {
            var (share, stated, right) = figures.Reliability(bin);
            if (share > 0) Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
                $"    {share,6:0.000} {stated,6:0.000} {right,6:0.000}"));
        }
    }

    // As many as are asked for, evenly spread over all that last a quarter note or more: nobody picks the errors that look well.
    private static IEnumerable<Disagreement> Spread(IReadOnlyList<Disagreement> all, int count)
    {
        var longer = all.Where(d => d.Duration >= 1).ToArray();
        return count >= longer.Length ? longer : Enumerable.Range(0, count).Select(i => longer[(2 * i + 1) * longer.Length / (2 * count)]);
    }
}
