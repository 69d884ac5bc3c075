using System.Globalization;
using ScoreLens.Density;
using ScoreLens.Devices;
using ScoreLens.Notation;
using ScoreLens.Output.Tables;
using ScoreLens.Reading;
using ScoreLens.Wording;
using Xunit;

namespace ScoreLens.Tests.Pipeline;

/// <summary>A chord is named once: whatever the table says in key and numeral is what its device was judged on.</summary>
public sealed class NamedOnceTests
{
    // Of the corpus beside the repository every so manyth score: the whole takes minutes.
    private const int Step = 12;

    [Fact]
    public void The_table_alone_gives_the_devices_of_the_vendored_works() => Check(Places.Scores(Places.External("works")));

    [Fact]
    public void The_table_alone_gives_the_devices_of_our_own_scores() => Check(Places.Scores(Path.Combine(Places.TestData, "cues")));

    [Fact]
    public void The_table_alone_gives_the_devices_of_the_corpus() =>
        Check(Places.Scores(SharedFiles.At("corpus")).Where(f => Path.GetFileName(f) == "score.mxl").Where((_, i) => i % Step == 0));

    private static void Check(IEnumerable<string> scores)
    {
        var count = 0;
        Parallel.ForEach(scores, score =>
        {
            var analysis = CueAnalysis.Of(ScoreFile.Load(score).Score);
            var read = Read(analysis);
            var again = CueAnalysis.Of(analysis.Score, analysis.Sonorities, new HarmonicReading(analysis.Reading.HomeKey, read));
            Assert.Equal(analysis.Chords.Select(Describe), again.Chords.Select(Describe));
            foreach (var chord in analysis.Reading.Chords.Where(c => c.Numeral is not null))
            {
                Assert.Equal(
                    chord.Numeral!.Tones(chord.Key).Select((tone, member) => member == 2 ? chord.Sound.AlteredFifth ?? tone : tone),
                        chord.Sound.Tones);
            }

            Interlocked.Increment(ref count);
        });
        Assert.True(count > 0, "No score was read.");
    }

    // Key and numeral as the table's text has them, and nothing else of the analysis.
    private static IReadOnlyList<ChordReading> Read(CueAnalysis analysis)
    {
        using var text = new StringWriter(CultureInfo.InvariantCulture);
        ChordTable.Write(ChordRow.Of(analysis), text);
        using var reader = new StringReader(text.ToString());
        return [.. ChordTable.Read(reader).Select(r => r.Chord.Reading)];
    }

    private static string Describe(TaggedChord chord) =>
        $"{chord.Reading.Onset} {chord.Reading.Key} {chord.Reading.Numeral}: {chord.Device} {string.Join(' ', chord.Also)} "
            + $"{chord.Target} {chord.Resolution} {ReasonText.Of(chord.Reason)}";
}
