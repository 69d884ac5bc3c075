using ScoreLens.Grouping;
using ScoreLens.Notation;
using ScoreLens.Reading.Model;
using ScoreLens.Sonorities;
using ScoreLens.Theory;
using ScoreLens.Training;
using ScoreLens.Training.Progressions;
using Xunit;

namespace ScoreLens.Tests.Reading.Model;

/// <summary>What the model sees of the same music in other clothes: doublings in any octave change nothing, a drone is no bass.</summary>
public sealed class ClothesTests
{
    [Fact]
    public void Doublings_change_no_plane_of_the_features()
    {
        for (var seed = 1; seed <= 20; seed++)
        {
            var (score, _) = Invented(seed);
            var doubled = Orchestration.Doubled(score, new Random(seed));
            Assert.True(doubled.Notes.Count > score.Notes.Count);
            var (plain, other) = (Planes(score), Planes(doubled));
            Assert.Equal(plain.Count, other.Count);
            for (var t = 0; t < plain.Count; t++)
                foreach (var plane in Enum.GetValues<SonorityFeatures.Plane>().Where(IsOfTones)) Assert.Equal(plain[t][plane],
                    other[t][plane]);
        }
    }

    [Fact]
    public void Drone_is_not_the_moving_bass_held_or_struck_anew()
    {
        for (var seed = 1; seed <= 20; seed++)
        {
            var (score, labels) = Invented(seed);
            var droned = Orchestration.WithDrone(score, labels, new Random(seed));
            var sonorities = SonorityFinder.Find(droned);
            var pedals = new Pedals(sonorities);
            var isLong = droned.End - droned.Start > 8;
            foreach (var sonority in sonorities)
            {
                if (sonority.Notes.Any(n => n.Part != score.Parts.Count && !pedals.IsPedal(n)))
                    Assert.True(!isLong || pedals.MovingBass(sonority)!.Part != score.Parts.Count);
            }
        }
    }

    [Fact]
    public void Figures_keep_the_tones_of_every_chord_and_its_bass()
    {
        var (score, _) = Invented(3);
        var block = score with { Notes = [.. score.Notes.Select(n => n with { Part = 0 })] };
        var figured = Orchestration.Figured(block, new Random(1));
        foreach (var measure in score.Measures)
        {
            var own = Tones(block, measure);
            Assert.Equal(own.Order(), Tones(figured, measure).Order());
        }
    }

    [Fact]
    public void Every_numeral_of_the_devices_can_be_said()
    {
        var known = ReadingModel.Default.Vocabulary.Classes.ToHashSet();
        foreach (var numeral in HandbookNumerals.All())
        {
            Assert.Contains(numeral, known);
            Assert.Equal(numeral, NumeralClass.Of(numeral.ToNumeral()!, numeral.Mode));
        }
    }

    [Theory]
    [InlineData("CTo7", 0)]
    [InlineData("CTo65", 9)]
    [InlineData("CTo43", 6)]
    [InlineData("CTo42", 3)]
    [InlineData("CTo65/V", 10)]
    public void Bass_of_a_common_tone_diminished_seventh_is_spelled_by_where_it_goes(string text, int fifths)
    {
        var numeral = NumeralClass.Of(Numeral.Parse(text), Mode.Major);
        Assert.Equal(fifths, numeral.Bass);
        Assert.Equal(text, numeral.ToNumeral()!.ToString());
    }

    [Fact]
    public void Composed_phrases_are_no_progressions_of_the_handbook()
    {
        var handbook = Handbook.All.Select(p => p.Chords).ToHashSet();
        for (var seed = 1; seed <= 500; seed++)
        {
            var phrases = PhraseComposer.Piece(new Random(seed)).Chords.Split('>', StringSplitOptions.RemoveEmptyEntries);
            Assert.DoesNotContain(phrases, p => handbook.Contains(p[(p.IndexOf(' ', StringComparison.Ordinal) + 1)..].Trim()));
        }
    }

    // The signature is the same for all, and windows count time, not tones that are struck.
    private static bool IsOfTones(SonorityFeatures.Plane plane) => plane is not SonorityFeatures.Plane.Top;

    private static (Score Score, ReferenceLabel[] Labels) Invented(int seed)
    {
        var written = PhraseComposer.Write(new Random(seed));
        return (written.Score, [.. written.Chords.Select(c => new ReferenceLabel(c.Onset, c.Duration, c.Key, c.Numeral))]);
    }

    private static HashSet<Tone> Tones(Score score, Measure measure) =>
        [.. score.Notes.Where(n => n.Onset < measure.End && n.End > measure.Start).Select(n => n.Pitch.Tone)];

    private static List<Dictionary<SonorityFeatures.Plane, float[]>> Planes(Score score)
    {
        var sonorities = SonorityFinder.Find(score);
        var (rows, _) = SonorityFeatures.Of(score, sonorities, new GroupingEvidence(score, sonorities));
        return
        [
            .. rows.Select(row =>
            {
                var dense = new float[SonorityFeatures.Width];
                for (var i = 0; i < row.Indices.Length; i++) dense[row.Indices[i]] = row.Values[i];
                return Enum.GetValues<SonorityFeatures.Plane>()
                    .ToDictionary(p => p, p => dense.AsSpan((int)p * SonorityFeatures.Places, SonorityFeatures.Places).ToArray());
            }),
        ];
    }
}
