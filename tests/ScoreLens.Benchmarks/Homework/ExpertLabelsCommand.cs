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
        var each = new Option<bool>("--each")
        {
            Description = "Print a line a work too, or with --spoil each wrong label that was not marked.",
        };
        var list = new Option<string?>("--list")
        {
            Description = "Print every remark of this kind that costs something: the place, what the expert writes, what is expected.",
            HelpName = "KIND",
        };
        var context = new Option<bool>("--context") { Description = "Print the notes while each listed chord lasts." };
        var spoil = new Option<int?>("--spoil")
        {
            Description = "Write a wrong label in place of every fifth one, at random by this seed, and count how many are marked.",
            HelpName = "SEED",
        };
        var command = new Command("expert-labels",
            "Marks experts' labels on sixty works against the works' own notes: mean points of 100, and what is deducted.")
        {
            each, list, context, spoil,
        };
        command.SetAction(parse =>
        {
            var works = Works();
            if (parse.GetValue(spoil) is { } seed) SpoiledLabels.Print(Marker(), works, seed, parse.GetValue(each));
            else Run(works, parse.GetValue(each), parse.GetValue(list), parse.GetValue(context));
            return 0;
        });
        return command;
    }

    private static Marker Marker() =>
        new(AssignmentFile.Parse("title: Labels\npoints: {labels: 100}\nlabels: {compare-with: notes}\n", "."));

    private static List<(string Group, ReferenceWork Work)> Works() => CorpusWorks.Beside is { } corpus
        ? [.. Choice.SelectMany(c => CorpusWorks.In(Path.Combine(corpus, c.Folder)).Take(c.Works)
            .Select(w => (c.Folder, ReferenceWork.Load(w))))]
        : [.. CorpusWorks.In(CorpusWorks.Vendored).Select(w => (w.Group(), ReferenceWork.Load(w)))];

    private static void Run(List<(string Group, ReferenceWork Work)> works, bool each, string? listed, bool context)
    {
        var marker = Marker();
        var marked = works.AsParallel().AsOrdered().WithDegreeOfParallelism(2)
            .Select(w => (w.Group, w.Work.Name, Marked: marker.Mark(w.Work.Name, new ScoreFile(Labelled(w.Work), null)))).ToList();
        foreach (var (group, name, submission) in marked)
        {
            if (each) Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"  {group}/{name}: {submission.Total:0.0}"));
            foreach (var mark in submission.Labels?.Marks.Where(m => m.Lost > 0 && m.Remark?.Kind.Name() == listed) ?? [])
            {
                Console.WriteLine($"  {name}, {mark.Place}: '{mark.Written}' for '{mark.Expected}'");
                if (!context) continue;
                if (submission.File!.Score.Texts.LastOrDefault(t => t.Line == "2" && t.Onset < mark.Onset) is { } before)
                    Console.WriteLine($"      the label before: '{before.Text}', {(mark.Onset - before.Onset).ToDouble():0.##} earlier");
                foreach (var row in NoteTable(submission.Analysis!, mark.Onset)) Console.WriteLine($"      {row}");
            }
        }

        foreach (var group in marked.GroupBy(m => m.Group)) Print(group.Key, [.. group.Select(m => m.Marked)]);
        Print("all", [.. marked.Select(m => m.Marked)]);
        var labels = marked.Sum(m => m.Marked.Labels?.Demanded ?? 0);
        foreach (var kind in marked.SelectMany(m => m.Marked.Labels?.Marks ?? []).Where(m => m.Lost > 0)
            .GroupBy(m => m.Remark?.Kind.Name() ?? "carried").OrderByDescending(g => g.Sum(m => m.Lost)))
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
                $"  {kind.Key,-20} {kind.Count(),5} of {labels} labels, {100 * kind.Sum(m => m.Lost) / labels:0.00} points of 100"));
    }

    // What sounds from the label on until the chord ends, a row a vertical: when, how long, the notes from the bass up.
    internal static IEnumerable<string> NoteTable(CueAnalysis analysis, Fraction onset)
    {
        var end = analysis.Reading.Chords.LastOrDefault(c => c.Onset <= onset)?.End ?? onset;
        foreach (var s in analysis.Sonorities.Where(s => s.End > onset && s.Onset <= end))
        {
            var notes = string.Join(' ', s.Notes.Select(n => s.IsStruck(n) ? $"{n.Pitch}" : $"({n.Pitch})"));
            yield return string.Create(CultureInfo.InvariantCulture,
                $"{(s.Onset - onset).ToDouble(),6:0.##} {s.Duration.ToDouble(),5:0.##}  {notes}");
        }

        foreach (var c in analysis.Reading.Chords.Where(c => c.End > onset && c.Onset <= end))
        {
            var others = string.Join("; ", c.RunnersUp.Select(r => string.Create(CultureInfo.InvariantCulture,
                $"{r.Numeral} in {r.Key} {100 * r.Probability:0} %")));
            yield return string.Create(CultureInfo.InvariantCulture,
                $"read {(c.Onset - onset).ToDouble():0.##}: {c.Numeral} in {c.Key}, {100 * c.Confidence:0} %, then {others}");
        }
    }

    private static void Print(string name, IReadOnlyList<MarkedSubmission> submissions) => Console.WriteLine(string.Create(
        CultureInfo.InvariantCulture, $"{name}: {submissions.Count} works, mean {submissions.Average(s => s.Total):0.00}, "
            + $"lowest {submissions.Min(s => s.Total):0.0}, {submissions.Count(s => s.Total >= 99)} with 99 or more"));

    /// <summary>A label for each change of chord, the key where it changes, as a student writes them under the score.</summary>
    /// <param name="work">The work.</param>
    /// <param name="other">What is written in place of the expert's numeral: null for that itself, empty for nothing.</param>
    internal static Score Labelled(ReferenceWork work, Func<ChordReading, bool, string?>? other = null)
    {
        var texts = new List<ScoreText>();
        ChordReading? before = null;
        foreach (var chord in work.Reading.Chords.Where(c => c.Numeral is not null))
        {
            var isSame = before is not null && before.End == chord.Onset && before.Key == chord.Key && before.Numeral == chord.Numeral;
            var hasKey = chord.Key != before?.Key;
            before = chord;
            if (isSame) continue;
            var text = other?.Invoke(chord, hasKey) ?? $"{chord.Numeral}";
            if (text.Length > 0)
                texts.Add(new ScoreText(chord.Onset, 0, 1, ScoreTextKind.Lyric, hasKey ? $"{chord.Key}: {text}" : text, "2"));
        }

        var verses = work.Score.Texts.Where(t => t.Kind == ScoreTextKind.Lyric && t.Line is "1" or "");
        return work.Score with { Texts = [.. verses.Concat(texts).OrderBy(t => t.Onset)] };
    }
}
