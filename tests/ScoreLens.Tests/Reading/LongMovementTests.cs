using ScoreLens.Notation;
using ScoreLens.Reading;
using ScoreLens.Theory;
using Xunit;

namespace ScoreLens.Tests.Reading;

/// <summary>
/// "The longer a movement, the longer its keys hold": what that must and must not do to music that is played again and again.
/// </summary>
public sealed class LongMovementTests
{
    public static TheoryData<string> Cues => [.. Directory.EnumerateFiles(Path.Combine(Places.TestData, "cues"), "*.musicxml")
        .Select(f => Path.GetFileName(f))];

    [Theory]
    [MemberData(nameof(Cues))]
    public void Music_that_is_repeated_changes_key_at_the_same_places_every_time_and_no_oftener_than_alone(string name)
    {
        var score = ScoreFile.Load(Path.Combine(Places.TestData, "cues", name)).Score;
        var times = (int)(500 / score.End.ToDouble()) + 1;
        var alone = Read(score).Chords;
        var repeated = Read(Repeated(score, times)).Chords;
        string[][] copies = [.. Enumerable.Range(0, times).Select(n => ChangesOfKey(repeated, score.End * n, score.End * (n + 1)))];
        for (var n = 2; n + 1 < times; n++) Assert.Equal(copies[1], copies[n]);
        // Alone, the way from the end back to the beginning is no change.
        Assert.True(copies[1].Length <= ChangesOfKey(alone, 0, score.End).Length + 1);
        Every.Item(repeated, c => Assert.InRange(c.Confidence, 0, 1));
    }

    private static HarmonicReading Read(Score score) => CueAnalysis.Of(score).Reading;

    // Where a copy goes to a key other than the one before, counted from the copy's start.
    private static string[] ChangesOfKey(IReadOnlyList<ChordReading> chords, Fraction from, Fraction to) =>
    [
        .. chords.Where((c, i) => c.Onset >= from && c.Onset < to && i > 0 && chords[i - 1].Key != c.Key)
            .Select(c => $"{c.Onset - from} {c.Key}"),
    ];

    private static Score Repeated(Score score, int times)
    {
        var copies = Enumerable.Range(0, times).ToArray();
        return score with
        {
            Measures = [.. copies.SelectMany(n => score.Measures.Select(m =>
                m with { Index = m.Index + (n * score.Measures.Count), Start = m.Start + (score.End * n) }))],
            Notes = [.. copies.SelectMany(n => score.Notes.Select(x => x with { Onset = x.Onset + (score.End * n) }))],
            ChordSymbols = [],
            Texts = [],
            Rests = [],
        };
    }
}
