using System.IO.Compression;
using System.Text.Json;
using ScoreLens.Grouping;
using ScoreLens.Notation;
using ScoreLens.Notation.MusicXml;
using ScoreLens.Reading.Model;
using ScoreLens.Sonorities;
using ScoreLens.Theory;
using ScoreLens.Training.Progressions;

namespace ScoreLens.Training;

/// <summary>
/// Writes what the trainer learns from: for every vertical the model's own features and the expert's label. Arrays are raw
/// little-endian, compressed; <c>index.json</c> says where each work begins and lists the vocabulary.
/// </summary>
internal static class Export
{
    private const int Unlabelled = -1;
    private const int VariationsOfAWork = 2;
    private const int TexturesOfAWork = 3;
    private const int HandbookPieces = 3000;

    /// <summary>Writes the works and some music invented for them; a number other than 0 asks for as much other invented music, without the works.</summary>
    public static void Run(string corpus, string output, int number = 0)
    {
        Directory.CreateDirectory(output);
        var works = CorpusWork.All(corpus);
        var vocabulary = Vocabulary(works);
        var classes = vocabulary.Index().ToDictionary(p => p.Item, p => p.Index);
        using var arrays = new Arrays(output);
        foreach (var work in works)
        {
            var score = MusicXmlReader.Read(MusicXmlDocument.Load(work.ScorePath));
            var reference = work.Labels();
            if (number == 0) arrays.Add(work.Name, work.Repertoire, work.Split.ToString(), score, reference, classes);
            if (work.Split != Split.Train) continue;
            for (var n = 1; n <= VariationsOfAWork; n++)
            {
                var seed = (number * VariationsOfAWork) + n;
                var (varied, factor) = Variation.Of(score, new Random(seed * 7919));
                ReferenceLabel[] labels = [.. reference.Select(l => l with { Onset = l.Onset * factor, Duration = l.Duration * factor })];
                arrays.Add($"{work.Name}#{seed}", work.Repertoire, "Variation", varied, labels, classes);
            }

            for (var n = 1; n <= TexturesOfAWork; n++)
            {
                var seed = (number * TexturesOfAWork) + n;
                var other = Retexture.Of(score, reference, new Random(seed * 6007));
                arrays.Add($"{work.Name}~{seed}", work.Repertoire, "Texture", other, reference, classes);
            }
        }

        for (var n = 1; n <= HandbookPieces; n++)
        {
            var seed = (number * HandbookPieces) + n;
            var written = PhraseComposer.Write(new Random(seed));
            arrays.Add($"handbook#{seed}", "handbook", "Handbook", written.Score, [.. written.Chords.Select(c => new ReferenceLabel(c.Onset, c.Duration, c.Key, c.Numeral))], classes);
        }

        var index = new
        {
            width = SonorityFeatures.Width,
            places = SonorityFeatures.Places,
            planes = ModelFormat.Planes,
            scalars = ModelFormat.Scalars,
            modes = ModelFormat.Modes,
            qualities = ModelFormat.Qualities,
            total = arrays.Position,
            works = arrays.Works,
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
        File.WriteAllText(Path.Combine(output, "index.json"), JsonSerializer.Serialize(index));
        Console.WriteLine($"{arrays.Works.Count} works, {arrays.Position} verticals, {vocabulary.Count} numerals");
    }

    /// <summary>Every numeral met at least thrice in training, and every device of the trade in all its inversions.</summary>
    private static List<NumeralClass> Vocabulary(IEnumerable<CorpusWork> works)
    {
        var met = works.Where(w => w.Split == Split.Train).SelectMany(w => w.Labels())
            .Where(l => l.Numeral is not null)
            .CountBy(l => NumeralClass.Of(l.Numeral!, l.Key.Mode))
            .Where(p => p.Value >= 3).Select(p => p.Key);
        return [.. met.Concat(HandbookNumerals.All()).Distinct().Where(c => c.ToNumeral() is not null)
            .OrderBy(c => c.Mode).ThenBy(c => c.Target ?? -100).ThenBy(c => c.Root).ThenBy(c => c.Quality).ThenBy(c => c.Inversion)];
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

    /// <summary>The arrays that grow work by work.</summary>
    private sealed class Arrays(string folder) : IDisposable
    {
        private readonly BinaryWriter _counts = Open(folder, "counts"), _indices = Open(folder, "indices"), _values = Open(folder, "values");
        private readonly BinaryWriter _labels = Open(folder, "labels"), _times = Open(folder, "times");

        public List<object> Works { get; } = [];

        public int Position { get; private set; }

        public void Add(
            string name, string repertoire, string split, Score score, IReadOnlyList<ReferenceLabel> reference, Dictionary<NumeralClass, int> classes)
        {
            var sonorities = SonorityFinder.Find(score);
            var (features, signatures) = SonorityFeatures.Of(score, sonorities, new GroupingEvidence(score, sonorities));
            ReferenceLabel? before = null;
            for (var t = 0; t < features.Length; t++)
            {
                _counts.Write((ushort)features[t].Indices.Length);
                foreach (var i in features[t].Indices) _indices.Write(i);
                foreach (var v in features[t].Values) _values.Write((Half)v);
                _times.Write((float)sonorities[t].Onset.ToDouble());
                _times.Write((float)sonorities[t].Duration.ToDouble());
                var label = LabelOf(reference, sonorities[t]);
                var known = label?.Numeral is { } numeral && classes.TryGetValue(NumeralClass.Of(numeral, label.Key.Mode), out var c) ? c : Unlabelled;
                _labels.Write((short)(label is null ? 0 : label.Key.Tonic.Fifths - signatures[t]));
                _labels.Write((short)(label is null ? Unlabelled : (int)label.Key.Mode));
                _labels.Write((short)known);
                _labels.Write((short)(label is not null && !ReferenceEquals(label, before) ? 1 : 0));
                _labels.Write((short)(label is not null && before is not null && before.Key != label.Key ? 1 : 0));
                _labels.Write((short)signatures[t]);
                before = label ?? before;
            }

            Works.Add(new { name, repertoire, split, start = Position, length = features.Length });
            Position += features.Length;
        }

        public void Dispose()
        {
            foreach (var writer in (BinaryWriter[])[_counts, _indices, _values, _labels, _times]) writer.Dispose();
        }

        private static BinaryWriter Open(string folder, string name) =>
            new(new BufferedStream(new GZipStream(File.Create(Path.Combine(folder, name + ".gz")), CompressionLevel.Optimal), 1 << 16));
    }
}
