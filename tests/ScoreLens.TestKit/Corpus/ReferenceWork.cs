using System.Globalization;
using ScoreLens.Notation;
using ScoreLens.Reading;
using ScoreLens.Theory;
using ScoreLens.Training;

namespace ScoreLens.TestKit.Corpus;

/// <summary>A work of a corpus, read: its score, and the expert's numerals as a reading.</summary>
internal sealed record ReferenceWork(string Name, Score Score, HarmonicReading Reading)
{
    /// <summary>The works of a part of a corpus such as <c>open/chorales</c>, by name, each read when it is asked for.</summary>
    public static IEnumerable<ReferenceWork> In(string corpus, string part) => CorpusWorks.In(Path.Combine(corpus, part)).Select(Load);

    /// <summary>Reads a work.</summary>
    public static ReferenceWork Load(CorpusWork work) =>
        new(Path.GetFileName(work.Folder), ScoreFile.Load(work.ScorePath).Score, Analysis(work));

    /// <summary>The expert's numerals; the home key is the one that lasts longest.</summary>
    public static HarmonicReading Analysis(CorpusWork work)
    {
        var chords = new List<ChordReading>();
        foreach (var row in CsvFile.Load(work.ReferencePath(), "onset", "duration", "key", "numeral"))
        {
            var key = Key.Parse(row["key"]);
            Numeral.TryParseByScale(row["numeral"], key.Mode, out var numeral);
            chords.Add(new ChordReading(
                Fraction.Parse(row["onset"], CultureInfo.InvariantCulture),
                Fraction.Parse(row["duration"], CultureInfo.InvariantCulture),
                key, numeral, 1, []));
        }

        var home = chords.GroupBy(c => c.Key).MaxBy(g => g.Sum(c => c.Duration.ToDouble()))?.Key ?? new Key(new Tone(0), Mode.Major);
        return new HarmonicReading(home, chords);
    }
}
