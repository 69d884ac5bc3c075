using ScoreLens.Notation;
using ScoreLens.Phrases;
using ScoreLens.Reading;
using ScoreLens.Sonorities;
using ScoreLens.Theory;
using Xunit;

namespace ScoreLens.Tests.Phrases;

/// <summary>Expected phrases and cadences are those by which the cues of testdata were laid out (see the README there).</summary>
public sealed class PhraseFinderTests
{
    // The chords of 1m1-morning-at-vell as laid out, half a measure each and a whole one at the end of a phrase.
    private const string Morning =
        "I vi IV V7 I IV V* I vi ii6 V7 Cad64 V7 I* IV I6 ii vi ii6 I6 V* I vi IV ii6 Cad64 V7 I*";

    [Fact]
    public void Four_phrases_of_four_measures_with_the_cadences_of_their_chords()
    {
        var score = Score("1m1-morning-at-vell");
        var phrases = PhraseFinder.Find(score, SonorityFinder.Find(score), Reading());
        Assert.Equal([0, 16, 32, 48], phrases.Select(p => p.Start));
        Assert.Equal([16, 32, 48, 64], phrases.Select(p => p.End));
        // The second phrase ends on the tonic with the fifth degree in the melody.
        Assert.Equal(["HC", "IAC", "HC", "PAC"], phrases.Select(p => p.Cadence.Name()));
        Every.Item(phrases, p => Assert.Equal("G major", p.Key.ToString()));
    }

    [Fact]
    public void A_tonic_under_another_degree_of_the_melody_is_an_imperfect_cadence()
    {
        var score = Score("1m1-morning-at-vell");
        // The last melody note goes from the first degree up to the third.
        var third = score with
        {
            Notes = [.. score.Notes.Select(n => n.Onset == 60 && n.Staff == 1
            ? n with { Pitch = new Pitch(Tone.Of('B'), n.Pitch.Octave + 1) } : n)]
        };
        var phrases = PhraseFinder.Find(third, SonorityFinder.Find(third), Reading());
        Assert.Equal(Cadence.ImperfectAuthentic, phrases[^1].Cadence);
    }

    [Fact]
    public void A_pickup_belongs_to_the_phrase_that_it_opens()
    {
        var score = Score("1m1-morning-at-vell");
        // The rest at the end of the second phrase is filled with a new note, which leads into the third.
        var led = score with
        {
            Notes = [.. score.Notes.Append(new Note(new Pitch(Tone.Of('D'), 5), 31, 1, 0, 1, "1", NoteMarks.None))
            .OrderBy(n => n.Onset)]
        };
        var phrases = PhraseFinder.Find(led, SonorityFinder.Find(led), Reading());
        Assert.Contains(phrases, p => p.Start == 31);
        Assert.DoesNotContain(phrases, p => p.Start == 32);
    }

    [Fact]
    public void Phrases_cover_the_score_without_gap_and_an_empty_one_has_none()
    {
        var score = Score("2m2-ansas-memory");
        var phrases = CueAnalysis.Of(score).Phrases;
        Assert.Equal(Fraction.Zero, phrases[0].Start);
        Assert.Equal(score.End, phrases[^1].End);
        for (var i = 1; i < phrases.Count; i++) Assert.Equal((phrases[i - 1].End, i + 1), (phrases[i].Start, phrases[i].Number));
        var empty = score with { Measures = [], Notes = [], Rests = [], Texts = [], ChordSymbols = [] };
        Assert.Empty(PhraseFinder.Find(empty, [], new HarmonicReading(Key.Parse("C major"), [])));
    }

    private static Score Score(string name) => ScoreFile.Load(Path.Combine(Places.TestData, "cues", name + ".musicxml")).Score;

    private static HarmonicReading Reading()
    {
        var key = Key.Parse("G major");
        var at = Fraction.Zero;
        var chords = new List<ChordReading>();
        foreach (var token in Morning.Split(' '))
        {
            var duration = token.EndsWith('*') ? 4 : 2;
            chords.Add(new ChordReading(at, duration, key, Numeral.Parse(token.TrimEnd('*')), 1, []));
            at += duration;
        }

        return new HarmonicReading(key, chords);
    }
}
