using ScoreLens.Notation;
using ScoreLens.Notation.MusicXml;
using ScoreLens.Reading.Model;
using ScoreLens.Theory;
using ScoreLens.Training.Progressions;

namespace ScoreLens.Training;

/// <summary>
/// Writes what the trainer learns from: for every vertical the model's own features and the expert's label. A folder holds either the works
/// with other versions of them and invented pieces, or, for a number other than 0, as much other invented music, or the music that nobody
/// analysed.
/// </summary>
internal static class Export
{
    private const int VariationsOfAWork = 2;
    private const int TexturesOfAWork = 3;
    private const int HandbookPieces = 3000;
    private const int VersionsOfAReading = 2;

    // The stated confidence from which a reading of the library is taught in other versions of the music.
    private const double Sure = 0.5;

    /// <summary>Writes the works, if the number is 0, and music invented for them.</summary>
    public static void Run(string corpus, string output, int number)
    {
        var works = CorpusWork.All(corpus);
        var lessons = works.AsParallel().AsOrdered().SelectMany(work => LessonsOf(work, number))
            .Concat(ParallelEnumerable.Range(1, HandbookPieces).AsOrdered().Select(n => Invented((number * HandbookPieces) + n)));
        Write(output, works, lessons);
    }

    /// <summary>
    /// Writes the scores of the corpus that have no analysis, with what the library reads in them after its search and its decision on
    /// keys; and other versions of them, labelled where the library is sure of what it reads in the score as it is written.
    /// </summary>
    public static void RunUnlabelled(string corpus, string output)
    {
        var folder = Path.Combine(corpus, "unlabelled");
        var paths = Directory.EnumerateFiles(folder, "*.mxl", SearchOption.AllDirectories).Order(StringComparer.Ordinal);
        Write(output, CorpusWork.All(corpus), paths.AsParallel().AsOrdered().SelectMany(path =>
        {
            var name = Path.GetRelativePath(folder, path).Replace('\\', '/');
            var repertoire = Path.GetFileName(Path.GetDirectoryName(path))!;
            var score = Load(path);
            var read = CueAnalysis.Of(score).Reading.Chords.Select(c =>
                (Label: new ReferenceLabel(c.Onset, c.Duration, c.Key, c.Numeral), IsSure: c.Confidence >= Sure)).ToArray();
            ReferenceLabel[] sure = [.. read.Select(r => r.IsSure ? r.Label : r.Label with { Numeral = null })];
            var random = new Random(unchecked((int)StableHash.Of(name)));
            return Enumerable.Range(1, VersionsOfAReading)
                .Select(n => Other($"{name}#{n}", repertoire, "Heard", sure, Variation.Of(score, random)))
                .Prepend(new Lesson(name, repertoire, "Unlabelled", score, [.. read.Select(r => r.Label)]));
        }));
    }

    /// <summary>Every numeral met at least thrice in training, and every device of the trade in all its inversions.</summary>
    public static IReadOnlyList<NumeralClass> Vocabulary(IEnumerable<CorpusWork> works)
    {
        var met = works.Where(w => w.Split == Split.Train).SelectMany(w => w.Labels())
            .Where(l => l.Numeral is not null)
            .CountBy(l => NumeralClass.Of(l.Numeral!, l.Key.Mode))
            .Where(p => p.Value >= 3).Select(p => p.Key);
        return [.. met.Concat(HandbookNumerals.All()).Distinct().Where(c => c.ToNumeral() is not null)
            .OrderBy(c => c.Mode).ThenBy(c => c.Target ?? -100).ThenBy(c => c.Root).ThenBy(c => c.Quality).ThenBy(c => c.Inversion)];
    }

    private static void Write(string output, IReadOnlyList<CorpusWork> works, ParallelQuery<Lesson> lessons)
    {
        Directory.CreateDirectory(output);
        var vocabulary = Vocabulary(works);
        using var arrays = new TrainingArrays(output, vocabulary);
        foreach (var exercise in lessons.Select(Exercise.Of)) arrays.Add(exercise);
        arrays.Close();
        Console.WriteLine($"{output}: {arrays.Verticals} verticals, {vocabulary.Count} numerals");
    }

    private static IEnumerable<Lesson> LessonsOf(CorpusWork work, int number)
    {
        if (work.Split == Split.Measure || (number > 0 && work.Split != Split.Train)) yield break;
        var score = Load(work.ScorePath);
        var reference = work.Labels();
        if (number == 0) yield return new Lesson(work.Name, work.Repertoire, work.Split.ToString(), score, reference);
        if (work.Split != Split.Train) yield break;
        for (var n = 1; n <= VariationsOfAWork; n++)
        {
            var seed = (number * VariationsOfAWork) + n;
            yield return Version($"{work.Name}#{seed}", "Variation", Variation.Of(score, work.Random(seed)));
        }

        var drone = work.Random(1_000_000 + number);
        yield return Version($"{work.Name}_{number}", "Clothed", Variation.WithDrone(score, reference, drone));
        yield return Version($"{work.Name}@{number}", "Clothed", Variation.Unmarked(score, work.Random(2_000_000 + number)));
        for (var n = 1; n <= TexturesOfAWork; n++)
        {
            var seed = (number * TexturesOfAWork) + n;
            var other = Retexture.Of(score, reference, work.Random(-seed));
            yield return new Lesson($"{work.Name}~{seed}", work.Repertoire, "Texture", other, reference);
        }

        Lesson Version(string name, string kind, (Score Score, Fraction Factor) version) =>
            Other(name, work.Repertoire, kind, reference, version);
    }

    private static Lesson Other(
        string name, string repertoire, string kind, IReadOnlyList<ReferenceLabel> labels, (Score Score, Fraction Factor) version) => new(
        name, repertoire, kind, version.Score,
        [.. labels.Select(l => l with { Onset = l.Onset * version.Factor, Duration = l.Duration * version.Factor })]);

    // One invented piece in four is clothed like the works.
    private static Lesson Invented(int seed)
    {
        var random = new Random(seed);
        var written = PhraseComposer.Write(random);
        ReferenceLabel[] labels = [.. written.Chords.Select(c => new ReferenceLabel(c.Onset, c.Duration, c.Key, c.Numeral))];
        var score = random.Next(12) switch
        {
            0 => Orchestration.Doubled(written.Score, random),
            1 => Orchestration.WithDrone(written.Score, labels, random),
            2 => Orchestration.Figured(written.Score, random),
            _ => written.Score,
        };
        return new Lesson($"handbook#{seed}", "handbook", "Handbook", score, labels);
    }

    private static Score Load(string path) => MusicXmlReader.Read(MusicXmlDocument.Load(path));
}
