using ScoreLens.Density;
using ScoreLens.Keys;
using ScoreLens.Notation;
using ScoreLens.TestKit.Corpus;
using Xunit;

namespace ScoreLens.Tests.Keys;

/// <summary>The rules of keys on the vendored works.</summary>
public sealed class KeyRuleTests
{
    [Fact]
    public void Names_are_read_back_and_others_are_refused()
    {
        foreach (var rule in Enum.GetValues<KeyRule>())
        {
            Assert.True(KeyRuleNames.TryParse(rule.Name(), out var read));
            Assert.Equal(rule, read);
        }

        Assert.False(KeyRuleNames.TryParse("Touch", out _));
        Assert.False(KeyRuleNames.TryParse(null, out _));
        Assert.Throws<ArgumentOutOfRangeException>(() => ((KeyRule)7).Name());
    }

    [Fact]
    public void The_stricter_the_rule_the_fewer_the_keys()
    {
        var counts = CorpusWorks.In(CorpusWorks.Vendored).Select(w => CueAnalysis.Of(ScoreFile.Load(w.ScorePath).Score)).Select(a =>
            (Touch: Keys(a.Under(KeyRule.Touch)), Confirm: Keys(a), Phrase: Keys(a.Under(KeyRule.Phrase)))).ToArray();
        Assert.All(counts, c => Assert.True(c.Touch >= c.Confirm && c.Confirm >= c.Phrase, $"{c}"));
        Assert.True(counts.Sum(c => c.Touch) > counts.Sum(c => c.Phrase));
    }

    [Fact]
    public void Another_rule_on_the_same_analysis_gives_what_reading_the_score_anew_gives()
    {
        foreach (var work in CorpusWorks.In(CorpusWorks.Vendored, sample: 3))
        {
            var score = ScoreFile.Load(work.ScorePath).Score;
            foreach (var rule in Enum.GetValues<KeyRule>())
            {
                var anew = ChordRow.Of(CueAnalysis.Of(score, rule));
                var under = ChordRow.Of(CueAnalysis.Of(score).Under(rule));
                Assert.Equal(anew.Select(Cells), under.Select(Cells));
                Assert.All(under, r => Assert.Equal(rule, r.Keys));
            }
        }

        static string Cells(ChordRow row) => $"{row.Chord.Reading.Onset} {row.Chord.Reading.Key} {row.Chord.Reading.Numeral} "
            + $"{row.Chord.Device}";
    }

    private static int Keys(CueAnalysis analysis) =>
        analysis.Reading.Chords.Where((c, i) => i == 0 || analysis.Reading.Chords[i - 1].Key != c.Key).Count();
}
