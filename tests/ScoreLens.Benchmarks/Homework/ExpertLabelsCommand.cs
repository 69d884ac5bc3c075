using System.CommandLine;
using System.Globalization;
using ScoreLens.Marking;
using ScoreLens.Marking.Assignments;
using ScoreLens.Notation;
using ScoreLens.Reading;
using ScoreLens.TestKit.Corpus;
using ScoreLens.Theory;

namespace ScoreLens.Benchmarks.Homework;

/// <summary>
/// Hands in the experts' labels as a student's work and marks them without a model answer, by the program's reading of the notes: what is
/// deducted are the remarks that an expert would not accept.
/// </summary>
internal static class ExpertLabelsCommand
{
    // The works of the issue: sixty of the open corpus; those of the repository where it is absent.
    private static readonly (string Folder, int Works)[] Choice =
        [("open/chorales", 25), ("open/songs", 15), ("open/textbooks", 15), ("open/keyboard", 5)];

    public static Command Create()
    {
        var each = new Option<bool>("--each") { Description = "Print a line a work too." };
        var list = new Option<string?>("--list")
        {
            Description = "Print every remark of this kind that costs something: the place, what the expert writes, what is expected.",
            HelpName = "KIND",
        };
        var command = new Command("expert-labels",
            "Marks experts' labels on sixty works against the works' own notes: mean points of 100, and what is deducted.") { each, list };
        command.SetAction(parse =>
        {
            Run(parse.GetValue(each), parse.GetValue(list));
            return 0;
        });
        return command;
    }

    private static void Run(bool each, string? listed)
    {
        var works = CorpusWorks.Beside is { } corpus
            ? Choice.SelectMany(c => CorpusWorks.In(Path.Combine(corpus, c.Folder)).Take(c.Works)
                .Select(w => (Group: c.Folder, Work: ReferenceWork.Load(w)))).ToList()
            : [.. CorpusWorks.In(CorpusWorks.Vendored).Select(w => (Group: w.Group(), Work: ReferenceWork.Load(w)))];
        var marker = new Marker(AssignmentFile.Parse("title: Labels\npoints: {labels: 100}\nlabels: {compare-with: notes}\n", "."));
        var marked = works.AsParallel().AsOrdered().WithDegreeOfParallelism(2)
            .Select(w => (w.Group, w.Work.Name, Marked: marker.Mark(w.Work.Name, new ScoreFile(Labelled(w.Work), null)))).ToList();
        foreach (var (group, name, submission) in marked)
        {
            if (each) Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"  {group}/{name}: {submission.Total:0.0}"));
            foreach (var mark in submission.Labels?.Marks.Where(m => m.Lost > 0 && m.Remark?.Kind.Name() == listed) ?? [])
                Console.WriteLine($"  {name}, {mark.Place}: '{mark.Written}' for '{mark.Expected}'");
        }

        foreach (var group in marked.GroupBy(m => m.Group)) Print(group.Key, [.. group.Select(m => m.Marked)]);
        Print("all", [.. marked.Select(m => m.Marked)]);
        var labels = marked.Sum(m => m.Marked.Labels?.Demanded ?? 0);
        foreach (var kind in marked.SelectMany(m => m.Marked.Labels?.Marks ?? []).Where(m => m.Lost > 0)
            .GroupBy(m => m.Remark?.Kind.Name() ?? "carried").OrderByDescending(g => g.Sum(m => m.Lost)))
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
                $"  {kind.Key,-20} {kind.Count(),5} of {labels} labels, {100 * kind.Sum(m => m.Lost) / labels:0.00} points of 100"));
    }

    private static void Print(string name, IReadOnlyList<MarkedSubmission> submissions) => Console.WriteLine(string.Create(
        CultureInfo.InvariantCulture, $"{name}: {submissions.Count} works, mean {submissions.Average(s => s.Total):0.00}, "
            + $"lowest {submissions.Min(s => s.Total):0.0}, {submissions.Count(s => s.Total >= 99)} with 99 or more"));

    // A label for each change of chord, the key where it changes, as a student writes them under the score.
    private static Score Labelled(ReferenceWork work)
    {
        var texts = new List<ScoreText>();
        ChordReading? before = null;
        foreach (var chord in work.Reading.Chords.Where(c => c.Numeral is not null))
        {
            var isSame = before is not null && before.End == chord.Onset && before.Key == chord.Key && before.Numeral == chord.Numeral;
            if (!isSame)
                texts.Add(new ScoreText(chord.Onset, 0, 1, ScoreTextKind.Lyric,
                    chord.Key == before?.Key ? $"{chord.Numeral}" : $"{chord.Key}: {chord.Numeral}", "2"));
            before = chord;
        }

        var verses = work.Score.Texts.Where(t => t.Kind == ScoreTextKind.Lyric && t.Line is "1" or "");
        return work.Score with { Texts = [.. verses.Concat(texts).OrderBy(t => t.Onset)] };
    }
}
