using System.Diagnostics;
using System.Globalization;
using ScoreLens.Notation;
using ScoreLens.TestKit.Corpus;
using ScoreLens.Training;

namespace ScoreLens.Benchmarks;

/// <summary>The accuracy of works by the repository's own measure, for whoever has no corpus beside it.</summary>
internal static class OwnMeasure
{
    public static int Run(IReadOnlyList<CorpusWork> works, bool each, string[] floors, int jobs)
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
            if (each) Print(work.Name, figures);
            if (!groups.TryGetValue(work.Group(), out var group)) groups[work.Group()] = group = new Agreement();
            group.Add(figures);
        }

        foreach (var (name, figures) in groups) Print(name, figures);
        return Floors.AreMissed(floors, Figure) ? 1 : 0;

        double? Figure(string name, string field) =>
            groups.TryGetValue(name, out var group) && Agreement.Fields.Contains(field) ? group[field] : null;
    }

    private static void Print(string name, Agreement figures)
    {
        var quarters = figures.Quarters.ToDouble();
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{name}: {figures.Works} works, {quarters:0} quarter notes"));
        var shares = Agreement.Fields.Select(f => string.Create(CultureInfo.InvariantCulture, $"{f} {figures[f]:0.000}"));
        Console.WriteLine("  " + string.Join("  ", shares));
        PrintKeysAndErrors(figures);
    }

    /// <summary>Prints what the corpus's script does not count: keys, the sign of the share outside, and the kinds of errors.</summary>
    public static void PrintKeysAndErrors(Agreement figures)
    {
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"  keys: the experts {figures.KeysStated}, the program {figures.KeysFound}; outside the key {figures.SharePoints:+0.0;-0.0} points in the mean work"));
        var errors = Agreement.ErrorKinds.Select(k => string.Create(CultureInfo.InvariantCulture, $"{k} {figures.Errors(k):0.000}"));
        Console.WriteLine("  errors, of the time: " + string.Join("; ", errors));
    }
}
