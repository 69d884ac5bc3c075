using System.CommandLine;
using System.Globalization;
using ScoreLens.Notation;
using ScoreLens.Phrases;
using ScoreLens.Sonorities;
using ScoreLens.TestKit.Corpus;
using ScoreLens.Theory;
using ScoreLens.Training;

namespace ScoreLens.Benchmarks;

/// <summary>
/// How well phrases are found: against the annotators' phrase marks where the corpus has them; on chorales against the
/// fermatas, which are taken out of the score first; on songs against the sentences of the words, which are taken out too.
/// </summary>
internal static class PhrasesCommand
{
    private static readonly Fraction Tolerance = 2;

    public static Command Create()
    {
        var (corpus, only) = (WorkOptions.Corpus(), WorkOptions.Only());
        var harmony = new Option<string>("--harmony")
        {
            Description = "Whose harmony the phrases are found with: expert, own or both.",
            DefaultValueFactory = _ => "both"
        };
        harmony.AcceptOnlyFromAmong("expert", "own", "both");
        var each = WorkOptions.Each();
        var command = new Command("phrases", "Compares phrase starts and cadences with the annotators', per repertoire.") { corpus, only,
            harmony, each };
        command.SetAction(parse =>
        {
            var folder = Path.GetFullPath(parse.GetRequiredValue(corpus));
            if (!Directory.Exists(folder))
            {
                Console.WriteLine($"skipped: there is no corpus at {folder}");
                return 0;
            }

            foreach (var whose in parse.GetRequiredValue(harmony) is var one && one == "both" ? (string[])["expert", "own"] : [one])
            {
                Console.WriteLine(whose == "own" ? "with the program's own reading" : "with the expert's numerals");
                Run(folder, parse.GetValue(only), whose == "own", parse.GetValue(each));
            }

            return 0;
        });
        return command;
    }

    // A line a repertoire, then what became of the annotated cadences.
    private static void Run(string corpus, string? only, bool useReader, bool each)
    {
        var confusion = new SortedDictionary<(string Expert, string Found), int>();
        foreach (var repertoire in CorpusWorks.In(corpus, only, 0).GroupBy(w => w.Group()))
        {
            int marked = 0, found = 0, both = 0, works = 0, ends = 0, met = 0;
            foreach (var work in repertoire)
            {
                var score = ScoreFile.Load(work.ScorePath).Score;
                var table = Path.Combine(work.Folder, "phrases.csv");
                List<Fraction> truth;
                if (File.Exists(table)) truth = Marked(Phrases(table), Chords(work));
                else if (work.Folder.Contains("chorales", StringComparison.Ordinal)) (score, truth) = WithoutFermatas(score);
                else if (work.Folder.Contains("songs", StringComparison.Ordinal)) (score, truth) = WithoutWords(score);
                else continue;
                if (truth.Count < 2) continue;
                var sonorities = SonorityFinder.Find(score);
                var reading = useReader ? CueAnalysis.Of(score).Reading : ReferenceWork.Analysis(work);
                var phrases = PhraseFinder.Find(score, sonorities, reading);
                var starts = phrases.Skip(1).Select(p => p.Start).ToList();
                var (m, f, b) = Match(truth.Skip(1).ToList(), starts);
                (marked, found, both, works) = (marked + m, found + f, both + b, works + 1);
                if (each) Console.WriteLine($"  {work.Name}: marked {m}, found {f}, both {b}; {string.Join(' ', starts)} | "
                    + $"{string.Join(' ', truth.Skip(1))}");
                if (!File.Exists(table)) continue;
                Confuse(Phrases(table), phrases, confusion);
                var goals = Goals(Phrases(table), Chords(work));
                ends += goals.Count;
                met += goals.Count(g => starts.Any(s => s >= g.Onset - Tolerance && s <= g.Next + Tolerance));
            }

            if (works > 0) Print(repertoire.Key, works, marked, found, both);
            if (ends > 0) Console.WriteLine($"  of {ends} last chords of phrases, {met} have a phrase that begins with them or after them");
        }

        if (confusion.Count > 0) Print(confusion);
    }

    private static (int Marked, int Found, int Both) Match(List<Fraction> truth, List<Fraction> starts)
    {
        var left = new List<Fraction>(starts);
        var both = 0;
        foreach (var mark in truth)
        {
            if (left.Count == 0) break;
            var near = left.MinBy(s => Distance(s, mark).ToDouble());
            if (Distance(near, mark) > Tolerance) continue;
            left.Remove(near);
            both++;
        }

        return (truth.Count, starts.Count, both);
    }

    // Some annotators mark where a phrase begins; others (two backslashes) its last chord, and the next phrase begins with the chord after
    // it.
    private static List<Fraction> Marked(IReadOnlyList<IReadOnlyDictionary<string, string>> phrases,
        IReadOnlyList<IReadOnlyDictionary<string, string>> chords)
    {
        var starts = new SortedSet<Fraction>(phrases.Where(r => r["phrase"].Contains('{', StringComparison.Ordinal))
            .Select(r => Fraction.Parse(r["onset"])));
        var onsets = chords.Select(r => Fraction.Parse(r["onset"])).ToList();
        if (starts.Count == 0) starts.Add(onsets[0]);
        foreach (var last in phrases.Where(r => r["phrase"].Contains('\\', StringComparison.Ordinal))
            .Select(r => Fraction.Parse(r["onset"])))
            if (onsets.Find(o => o > last) is { Sign: > 0 } next) starts.Add(next);
        return [.. starts];
    }

    // A last chord may open the next phrase too: the marks do not tell.
    private static List<(Fraction Onset, Fraction Next)> Goals(IReadOnlyList<IReadOnlyDictionary<string, string>> phrases,
        IReadOnlyList<IReadOnlyDictionary<string, string>> chords)
    {
        var onsets = chords.Select(r => Fraction.Parse(r["onset"])).ToList();
        return
        [
            .. from row in phrases
               where row["phrase"].Contains('\\', StringComparison.Ordinal)
               let onset = Fraction.Parse(row["onset"])
               let next = onsets.Find(o => o > onset)
               where next.Sign > 0
               select (onset, next),
        ];
    }

    private static Fraction Distance(Fraction a, Fraction b) => a > b ? a - b : b - a;

    private static void Print(string name, int works, int marked, int found, int both)
    {
        double precision = (double)both / Math.Max(found, 1), recall = (double)both / Math.Max(marked, 1);
        var f1 = both == 0 ? 0 : 2 * precision * recall / (precision + recall);
        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"{name}: {works} works, {marked} phrase starts, precision {precision:F3} recall {recall:F3} f1 {f1:F3}"));
    }

    // An annotated cadence against the phrase that ends soonest after it, if that is within a measure of four quarters.
    private static void Confuse(IEnumerable<IReadOnlyDictionary<string, string>> rows, IReadOnlyList<Phrase> phrases,
        SortedDictionary<(string Expert, string Found), int> confusion)
    {
        foreach (var row in rows.Where(r => r["cadence"].Length > 0))
        {
            var onset = Fraction.Parse(row["onset"]);
            var phrase = phrases.FirstOrDefault(p => p.End >= onset && p.End - onset <= 4);
            var name = phrase is null ? "no end" : phrase.Cadence.Name() is { Length: > 0 } n ? n : "none";
            var pair = (row["cadence"].Split('.')[0].Trim(), name);
            confusion[pair] = confusion.GetValueOrDefault(pair) + 1;
        }
    }

    private static void Print(SortedDictionary<(string Expert, string Found), int> confusion)
    {
        string[] columns = ["PAC", "IAC", "HC", "DC", "PC", "none", "no end"];
        Console.WriteLine("cadences: a row as the annotators name it, a column as it is found");
        Console.WriteLine($"{"",6}{string.Concat(columns.Select(c => $"{c,8}"))}");
        foreach (var expert in confusion.Keys.Select(k => k.Expert).Distinct())
            Console.WriteLine($"{expert,6}{string.Concat(columns.Select(c => $"{confusion.GetValueOrDefault((expert, c)),8}"))}");
    }

    private static (Score Score, List<Fraction> Truth) WithoutFermatas(Score score)
    {
        var soprano = score.Notes.Where(n => n.Part == 0 && n.Staff == 1).OrderBy(n => n.Onset).ToList();
        var truth = new SortedSet<Fraction> { Fraction.Zero };
        foreach (var note in soprano.Where(n => n.Marks.HasFlag(NoteMarks.Fermata)))
        {
            if (soprano.Find(n => n.Onset >= note.End) is { } next) truth.Add(next.Onset);
        }

        return (score with { Notes = [.. score.Notes.Select(n => n with { Marks = n.Marks & ~NoteMarks.Fermata })] }, [.. truth]);
    }

    private static (Score Score, List<Fraction> Truth) WithoutWords(Score score)
    {
        var truth = new SortedSet<Fraction> { Fraction.Zero };
        foreach (var staff in score.Texts.Where(t => t.Kind == ScoreTextKind.Lyric).GroupBy(t => (t.Part, t.Staff, t.Line)).Take(1))
        {
            var end = '.';
            foreach (var syllable in staff.OrderBy(t => t.Onset))
            {
                var text = syllable.Text.Trim();
                if (text.Length == 0) continue;
                if (end is '.' or '!' or '?' or ';' or ':' || (end == ',' && char.IsUpper(text[0]))) truth.Add(syllable.Onset);
                end = text[^1];
            }
        }

        return (score with { Texts = [.. score.Texts.Where(t => t.Kind != ScoreTextKind.Lyric)] }, [.. truth]);
    }

    private static IReadOnlyList<IReadOnlyDictionary<string, string>> Chords(CorpusWork work) =>
        CsvFile.Load(work.ReferencePath(), "onset");

    private static IReadOnlyList<IReadOnlyDictionary<string, string>> Phrases(string table) =>
        CsvFile.Load(table, "onset", "phrase", "cadence");
}
