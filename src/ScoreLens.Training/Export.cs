using System.IO.Compression;
using System.Text.Json;
using ScoreLens.Notation.MusicXml;
using ScoreLens.Reading.Model;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Training;

/// <summary>
/// Writes what the trainer learns from: for every vertical the model's own features and the expert's label. Arrays are raw
/// little-endian, compressed; <c>index.json</c> says where each work begins and lists the vocabulary.
/// </summary>
internal static class Export
{
    private const int Unlabelled = -1;

    public static void Run(string corpus, string output)
    {
        Directory.CreateDirectory(output);
        var works = CorpusWork.All(corpus);
        var vocabulary = Vocabulary(works);
        var classes = vocabulary.Index().ToDictionary(p => p.Item, p => p.Index);
        using var counts = Open(output, "counts");
        using var indices = Open(output, "indices");
        using var values = Open(output, "values");
        using var labels = Open(output, "labels");
        using var times = Open(output, "times");
        var rows = new List<object>();
        var position = 0;
        foreach (var work in works)
        {
            var score = MusicXmlReader.Read(MusicXmlDocument.Load(work.ScorePath));
            var sonorities = SonorityFinder.Find(score);
            var (features, signatures) = SonorityFeatures.Of(score, sonorities);
            var reference = work.Labels();
            var before = new ReferenceLabel?[1];
            for (var t = 0; t < features.Length; t++)
            {
                counts.Write((ushort)features[t].Indices.Length);
                foreach (var i in features[t].Indices) indices.Write(i);
                foreach (var v in features[t].Values) values.Write((Half)v);
                times.Write((float)sonorities[t].Onset.ToDouble());
                times.Write((float)sonorities[t].Duration.ToDouble());
                var label = LabelOf(reference, sonorities[t]);
                var known = label?.Numeral is { } numeral && classes.TryGetValue(Simplify(numeral, label.Key.Mode), out var c) ? c : Unlabelled;
                labels.Write((short)(label is null ? 0 : label.Key.Tonic.Fifths - signatures[t]));
                labels.Write((short)(label is null ? Unlabelled : (int)label.Key.Mode));
                labels.Write((short)known);
                labels.Write((short)(label is not null && !ReferenceEquals(label, before[0]) ? 1 : 0));
                labels.Write((short)(label is not null && before[0] is { } b && b.Key != label.Key ? 1 : 0));
                labels.Write((short)signatures[t]);
                before[0] = label ?? before[0];
            }

            rows.Add(new { name = work.Name, repertoire = work.Repertoire, split = work.Split.ToString(), start = position, length = features.Length });
            position += features.Length;
        }

        var index = new
        {
            width = SonorityFeatures.Width,
            planes = SonorityFeatures.Planes,
            places = SonorityFeatures.Places,
            total = position,
            works = rows,
            vocabulary = vocabulary.Select(c => new
            {
                mode = (int)c.Mode,
                root = c.Root,
                bass = c.Bass,
                target = c.Target,
                quality = (int)c.Quality,
                inversion = c.Inversion,
                text = c.ToNumeral()!.ToString(),
            }),
        };
        File.WriteAllText(Path.Combine(output, "index.json"), JsonSerializer.Serialize(index));
        Console.WriteLine($"{works.Count} works, {position} verticals, {vocabulary.Count} numerals");
    }

    /// <summary>Every numeral met at least thrice in training, and every device of the trade in all its inversions.</summary>
    private static List<NumeralClass> Vocabulary(IEnumerable<CorpusWork> works)
    {
        var met = works.Where(w => w.Split == Split.Train).SelectMany(w => w.Labels())
            .Where(l => l.Numeral is not null)
            .CountBy(l => Simplify(l.Numeral!, l.Key.Mode))
            .Where(p => p.Value >= 3).Select(p => p.Key);
        return [.. met.Concat(HandbookNumerals.All()).Distinct().Where(c => c.ToNumeral() is not null)
            .OrderBy(c => c.Mode).ThenBy(c => c.Target ?? -100).ThenBy(c => c.Root).ThenBy(c => c.Quality).ThenBy(c => c.Inversion)];
    }

    private static NumeralClass Simplify(Numeral numeral, Mode mode) => NumeralClass.Of(numeral, mode);

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

    private static BinaryWriterCompressed Open(string output, string name) => new(Path.Combine(output, name + ".gz"));

    private sealed class BinaryWriterCompressed(string path)
        : BinaryWriter(new BufferedStream(new GZipStream(File.Create(path), CompressionLevel.Optimal), 1 << 16));
}
