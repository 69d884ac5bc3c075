using System.Text.Json;
using ScoreLens.Grouping;
using ScoreLens.Notation;
using ScoreLens.Reading.Model;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Training;

/// <summary>Music to learn from: where it comes from, and what is true of it.</summary>
/// <param name="Name">A work's name in the corpus, with a number behind it where it is another version of the work.</param>
/// <param name="Repertoire">The repertoire.</param>
/// <param name="Kind">The part that it has in learning, as learn.py names it.</param>
/// <param name="Score">The music.</param>
/// <param name="Labels">Keys and numerals; none where nobody analysed it.</param>
internal sealed record Lesson(string Name, string Repertoire, string Kind, Score Score, IReadOnlyList<ReferenceLabel> Labels);

/// <summary>What the model sees of a lesson and what it is to say, vertical by vertical.</summary>
internal sealed record Exercise(
    Lesson Lesson,
    SonorityFeatures.Row[] Features,
    IReadOnlyList<Sonority> Sonorities,
    IReadOnlyList<ReferenceLabel?> Labels,
    int[] Signatures)
{
    /// <summary>The exercise of a lesson.</summary>
    public static Exercise Of(Lesson lesson)
    {
        var sonorities = SonorityFinder.Find(lesson.Score);
        var (features, signatures) = SonorityFeatures.Of(lesson.Score, sonorities, new GroupingEvidence(lesson.Score, sonorities));
        return new Exercise(lesson, features, sonorities, [.. sonorities.Select(s => LabelOf(lesson.Labels, s))], signatures);
    }

    // The label that covers most of the vertical.
    private static ReferenceLabel? LabelOf(IReadOnlyList<ReferenceLabel> labels, Sonority sonority)
    {
        int low = 0, high = labels.Count;
        while (low < high)
        {
            var middle = (low + high) / 2;
            if (labels[middle].Onset <= sonority.Onset) low = middle + 1;
            else high = middle;
        }

        ReferenceLabel? best = null;
        var most = Fraction.Zero;
        for (var i = Math.Max(0, low - 1); i < labels.Count && labels[i].Onset < sonority.End; i++)
        {
            var end = i + 1 < labels.Count ? labels[i + 1].Onset : labels[i].Onset + labels[i].Duration;
            var overlap = Fraction.Min(end, sonority.End) - Fraction.Max(labels[i].Onset, sonority.Onset);
            if (overlap <= most) continue;
            most = overlap;
            best = labels[i];
        }

        return best;
    }
}

/// <summary>
/// The arrays that learn.py reads, growing exercise by exercise: raw and little-endian. <c>index.json</c> says where each exercise begins,
/// lists the vocabulary, and names what the arrays count by position.
/// </summary>
internal sealed class TrainingArrays(string folder, IReadOnlyList<NumeralClass> vocabulary) : IDisposable
{
    private const short Unlabelled = -1;

    private readonly Dictionary<NumeralClass, short> _classes = vocabulary.Index().ToDictionary(p => p.Item, p => (short)p.Index);
    private readonly List<object> _works = [];
    private readonly BinaryWriter _counts = Open(folder, "counts"), _indices = Open(folder, "indices"), _values = Open(folder, "values");
    private readonly BinaryWriter _labels = Open(folder, "labels"), _times = Open(folder, "times");

    /// <summary>Verticals so far.</summary>
    public int Verticals { get; private set; }

    /// <summary>Adds the verticals of an exercise.</summary>
    public void Add(Exercise exercise)
    {
        ReferenceLabel? before = null;
        for (var t = 0; t < exercise.Features.Length; t++)
        {
            var (indices, values) = exercise.Features[t];
            _counts.Write((ushort)indices.Length);
            foreach (var i in indices) _indices.Write(i);
            foreach (var v in values) _values.Write((Half)v);
            _times.Write((float)exercise.Sonorities[t].Onset.ToDouble());
            _times.Write((float)exercise.Sonorities[t].Duration.ToDouble());
            var label = exercise.Labels[t];
            _labels.Write((short)(label is null ? 0 : label.Key.Tonic.Fifths - exercise.Signatures[t]));
            _labels.Write(label is null ? Unlabelled : (short)label.Key.Mode);
            var numeral = label?.Numeral is { } known ? NumeralClass.Of(known, label.Key.Mode) : default(NumeralClass?);
            _labels.Write(numeral is { } c ? _classes.GetValueOrDefault(c, Unlabelled) : Unlabelled);
            _labels.Write((short)(label is not null && !ReferenceEquals(label, before) ? 1 : 0));
            _labels.Write((short)(label is not null && before is not null && before.Key != label.Key ? 1 : 0));
            _labels.Write((short)exercise.Signatures[t]);
            before = label ?? before;
        }

        var lesson = exercise.Lesson;
        var length = exercise.Features.Length;
        _works.Add(new { name = lesson.Name, repertoire = lesson.Repertoire, split = lesson.Kind, start = Verticals, length });
        Verticals += exercise.Features.Length;
    }

    /// <summary>Writes the index.</summary>
    public void Close()
    {
        var index = new
        {
            width = SonorityFeatures.Width,
            places = SonorityFeatures.Places,
            planes = ModelFormat.Planes,
            scalars = ModelFormat.Scalars,
            modes = ModelFormat.Modes,
            qualities = ModelFormat.Qualities,
            total = Verticals,
            works = _works,
            vocabulary = vocabulary.Select(c => new
            {
                mode = ModelFormat.Modes[(int)c.Mode],
                root = c.Root,
                bass = c.Bass,
                target = c.Target,
                quality = ModelFormat.Qualities[(int)c.Quality],
                inversion = c.Inversion,
                text = c.ToNumeral()!.ToString(),
            }),
        };
        File.WriteAllText(Path.Combine(folder, "index.json"), JsonSerializer.Serialize(index));
    }

    public void Dispose()
    {
        foreach (var writer in (BinaryWriter[])[_counts, _indices, _values, _labels, _times]) writer.Dispose();
    }

    private static BinaryWriter Open(string folder, string name) =>
        new(new BufferedStream(File.Create(Path.Combine(folder, name)), 1 << 20));
}
