using System.Globalization;
using ScoreLens.Notation;
using ScoreLens.Notation.MusicXml;
using ScoreLens.Reading;
using ScoreLens.Theory;

namespace ScoreLens.Tests.Corpus;

/// <summary>A work of the evaluation corpus: its score, and the expert's numerals as a reading.</summary>
internal sealed record ReferenceWork(string Name, Score Score, HarmonicReading Reading)
{
    /// <summary>The corpus beside the repository, or null where it is absent.</summary>
    public static string? Root
    {
        get
        {
            for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
            {
                if (!File.Exists(Path.Combine(folder.FullName, "ScoreLens.sln"))) continue;
                var corpus = Path.GetFullPath(Path.Combine(folder.FullName, "..", "shared", "corpus"));
                return Directory.Exists(corpus) ? corpus : null;
            }

            return null;
        }
    }

    /// <summary>The works of a folder such as <c>open/chorales</c>, by name; none where the corpus is absent.</summary>
    public static IEnumerable<ReferenceWork> In(string folder) =>
        Root is not { } root ? [] : Directory.GetDirectories(Path.Combine(root, folder)).Order(StringComparer.Ordinal).Select(Load);

    private static ReferenceWork Load(string folder)
    {
        var score = MusicXmlReader.Read(MusicXmlDocument.Load(Path.Combine(folder, "score.mxl")));
        var chords = new List<ChordReading>();
        foreach (var row in File.ReadLines(Path.Combine(folder, "reference.csv")).Skip(1).Select(r => r.Split(',')))
        {
            var key = Key.Parse(row[2]);
            Numeral.TryParseByScale(row[3], key.Mode, out var numeral);
            chords.Add(new ChordReading(Fraction.Parse(row[0], CultureInfo.InvariantCulture), Fraction.Parse(row[1], CultureInfo.InvariantCulture), key, numeral, 1, []));
        }

        var home = chords.GroupBy(c => c.Key).MaxBy(g => g.Sum(c => c.Duration.ToDouble()))?.Key ?? new Key(new Tone(0), Mode.Major);
        return new ReferenceWork(Path.GetFileName(folder), score, new HarmonicReading(home, chords));
    }
}
