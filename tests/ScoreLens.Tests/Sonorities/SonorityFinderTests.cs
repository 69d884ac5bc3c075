using ScoreLens.Notation.MusicXml;
using ScoreLens.Sonorities;
using ScoreLens.Theory;
using Xunit;
using static ScoreLens.Tests.Notation.MusicXml.Xml;

namespace ScoreLens.Tests.Sonorities;

public sealed class SonorityFinderTests
{
    [Fact]
    public void A_vertical_begins_at_every_onset_and_silence_is_one_too()
    {
        var verticals = SonorityFinder.Find(Read(Partwise(
            Divisions(1) + Notes("C4 2", "rest 1", "D4 1") + Backup("4") + Note("E3 1", after: "<voice>2</voice>"))));
        Assert.Equal(["E3 C4", "", "D4"], verticals.Select(v => string.Join(' ', v.Notes.Select(n => n.Pitch))));
        Assert.Equal([0, 2, 3], verticals.Select(v => v.Onset));
        Assert.Equal([2, 1, 1], verticals.Select(v => v.Duration));
    }

    [Fact]
    public void Splitting_a_long_note_into_tied_ones_changes_nothing()
    {
        var whole = Read(Partwise(Divisions(1) + Notes("C4 4") + Backup("4") + Notes("E4 1", "F4 3"), Notes("C4 4")));
        var tied = Read(Partwise(
            Divisions(1) + Note("C4 1", after: "<tie type=\"start\"/>") + Note("C4 3", after: "<tie type=\"stop\"/>") + Backup("4")
                + Notes("E4 1", "F4 3"), Notes("C4 4")));
        var (a, b) = (SonorityFinder.Find(whole), SonorityFinder.Find(tied));
        Assert.Equal(a.Select(v => (v.Onset, v.Duration, string.Join(' ', v.Notes))),
            b.Select(v => (v.Onset, v.Duration, string.Join(' ', v.Notes))));
    }

    [Fact]
    public void Percussion_grace_and_cue_notes_are_no_part_of_a_vertical()
    {
        var score = Read(Parts(
            [Divisions(1) + "<note><grace/><pitch><step>D</step><octave>4</octave></pitch></note>" + Notes("C4 2")
                + Note("E4 2", "<cue/>")],
            [Attributes("<divisions>1</divisions><clef><sign>percussion</sign></clef>") + Notes("E4 1", "E4 1", "E4 1", "E4 1")]));
        var vertical = Assert.Single(SonorityFinder.Find(score));
        Assert.Equal("C4", Assert.Single(vertical.Notes).Pitch.ToString());
    }

    // The hierarchies of metre that every primer of music theory draws (common practice).
    [Theory]
    [InlineData("4", 4, "0:1 1:.25 2:.5 3:.25 1/2:.125 1/4:.0625")]
    [InlineData("2", 2, "0:1 2:.5 1:.25 1/2:.125")]
    [InlineData("3", 4, "0:1 1:.5 2:.5 1/2:.25")]
    [InlineData("2", 4, "0:1 1:.5 1/2:.25 1/4:.125")]
    [InlineData("6", 8, "0:1 3/2:.5 1/2:.25 1:.25 1/4:.125")]
    [InlineData("9", 8, "0:1 3/2:.5 3:.5 1/2:.25")]
    [InlineData("12", 8, "0:1 3:.5 3/2:.25 9/2:.25 1/2:.125")]
    [InlineData("6", 4, "0:1 3:.5 1:.25")]
    [InlineData("9", 4, "0:1 3:.5 6:.5 1:.25")]
    [InlineData("8", 8, "0:1 2:.5 1:.25 1/2:.125")]
    [InlineData("3+2", 8, "0:1 3/2:.5 1/2:.25 2:.25 1/4:.125")]
    [InlineData("2+2+3", 8, "0:1 1:.5 2:.5 3:.25")]
    [InlineData("5", 4, "0:1 1:.5 3:.5 1/2:.25")]
    [InlineData("4", 4, "1/3:.125 2/3:.125 4/3:.125")]
    public void Metrical_weight_halves_at_every_level_of_the_metre(string beats, int type, string expected)
    {
        var measure = Read(Partwise(Divisions(1) + Time(beats, type))).Measures[0];
        foreach (var pair in expected.Split(' '))
        {
            var (at, weight) = (Fraction.Parse(pair.Split(':')[0]),
                double.Parse(pair.Split(':')[1], System.Globalization.CultureInfo.InvariantCulture));
            Assert.True(weight == SonorityFinder.Weight(measure, at),
                $"{beats}/{type} at {at}: {SonorityFinder.Weight(measure, at)}, not {weight}");
        }
    }

    [Fact]
    public void A_pickup_and_the_second_half_of_a_split_measure_are_weak_where_they_stand_in_the_metre()
    {
        var score = Read(Partwise(
            "<measure number=\"0\" implicit=\"yes\">" + Divisions(1) + Notes("C4 1") + "</measure>",
            "<measure number=\"1\">" + Notes("C4 2") + "</measure>",
            "<measure number=\"X1\" implicit=\"yes\">" + Notes("C4 2") + "</measure>"));
        Assert.Equal([0.25, 1, 0.5], SonorityFinder.Find(score).Select(v => v.MetricalWeight));
    }

    [Fact]
    public void Every_note_of_a_song_with_piano_is_heard_for_exactly_its_time()
    {
        foreach (var path in Places.Scores(Places.External("works", "open", "songs")).Take(4))
        {
            var score = MusicXmlReader.Read(MusicXmlDocument.Load(path));
            var joined = SonorityFinder.JoinTies(score.Notes);
            Assert.Equal(
                score.Notes.Where(n => n.IsHarmonic).Aggregate(Fraction.Zero, (sum, n) => sum + n.Duration),
                joined.Aggregate(Fraction.Zero, (sum, n) => sum + n.End - n.Onset));
            var verticals = SonorityFinder.Find(score);
            for (var i = 1; i < verticals.Count; i++) Assert.Equal(verticals[i - 1].End, verticals[i].Onset);
            foreach (var vertical in verticals.Where((_, i) => i % 50 == 0))
                Assert.Equal(
                    joined.Where(n => n.Onset <= vertical.Onset && n.End > vertical.Onset).Select(n => n.Pitch).Order(),
                    vertical.Notes.Select(n => n.Pitch));
        }
    }
}
