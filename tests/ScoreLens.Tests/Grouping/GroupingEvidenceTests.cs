using ScoreLens.Grouping;
using ScoreLens.Notation;
using ScoreLens.Sonorities;
using ScoreLens.Theory;
using Xunit;

namespace ScoreLens.Tests.Grouping;

public sealed class GroupingEvidenceTests
{
    [Fact]
    public void What_begins_where_a_fermata_ends_has_the_cue_of_a_fermata()
    {
        var score = Lamplight();
        var ends = score.Notes.Where(n => n.Marks.HasFlag(NoteMarks.Fermata)).Select(n => n.Onset + n.Duration)
            .Where(end => end < score.End);
        Assert.NotEmpty(ends);
        Assert.Equal(ends.Distinct().Order(), Onsets(score, GroupingCue.Fermata));
    }

    [Fact]
    public void Without_marks_there_is_no_cue_of_marks()
    {
        var score = Lamplight();
        score = score with
        {
            Notes = [.. score.Notes.Select(n =>
            n with { Marks = n.Marks & ~(NoteMarks.Fermata | NoteMarks.SlurStart | NoteMarks.SlurStop | NoteMarks.BreathAfter) })]
        };
        foreach (var cue in (GroupingCue[])[GroupingCue.Fermata, GroupingCue.Slur, GroupingCue.UnderSlur,
            GroupingCue.Breath]) Assert.Empty(Onsets(score, cue));
    }

    [Fact]
    public void What_begins_after_a_silence_has_the_cue_of_silence()
    {
        var score = Lamplight();
        var gap = score.Measures[4];
        score = score with { Notes = [.. score.Notes.Where(n => n.Onset < gap.Start || n.Onset >= gap.End)] };
        Assert.Equal([gap.End], Onsets(score, GroupingCue.Silence));
    }

    [Fact]
    public void Every_cue_lies_between_nought_and_one()
    {
        var score = Lamplight();
        var evidence = new GroupingEvidence(score, SonorityFinder.Find(score));
        Every.Item(evidence.Places.SelectMany(p => evidence.At(p).ToArray()), cue => Assert.InRange(cue, 0, 1));
    }

    private static Score Lamplight() => ScoreFile.Load(Path.Combine(Places.TestData, "lamplight.musicxml")).Score;

    private static IEnumerable<Fraction> Onsets(Score score, GroupingCue cue)
    {
        var sonorities = SonorityFinder.Find(score);
        var evidence = new GroupingEvidence(score, sonorities);
        return evidence.Places.Where(p => evidence.At(p)[(int)cue] > 0.5).Select(p => sonorities[p].Onset);
    }
}
