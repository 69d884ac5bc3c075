using ScoreLens.Notation;
using ScoreLens.Reading;
using ScoreLens.Reading.Refinement;
using ScoreLens.Sonorities;
using ScoreLens.Theory;
using ScoreLens.Training.Progressions;
using Xunit;

namespace ScoreLens.Tests.Devices;

/// <summary>The battery is only worth something if what it writes is what it says that it writes.</summary>
public sealed class ProgressionWriterTests
{
    [Theory]
    [InlineData(3)]
    [InlineData(4)]
    [InlineData(5)]
    [InlineData(6)]
    public void Every_handbook_progression_is_written_with_the_bass_and_only_the_tones_of_its_numerals(int voices)
    {
        foreach (var progression in Handbook.All)
        {
            var home = new Key(new Tone(progression.Mode == Mode.Major ? -3 : 0), progression.Mode);
            var setting = new Setting(home, voices, Texture.Block, TimeSignature.Common, 2, Close: progression.Name.Length % 2 == 0);
            var chords = progression.In(home);
            var written = ProgressionWriter.Write(progression, setting, new Random(voices));
            Assert.Equal(chords.Count, written.Chords.Count);
            for (var i = 0; i < chords.Count; i++)
            {
                var sounding = written.Score.Notes.Where(n => n.Onset == written.Chords[i].Onset).OrderBy(n => n.Pitch).ToArray();
                Assert.Equal(voices, sounding.Length);
                Assert.Equal(chords[i].Bass, sounding[0].Pitch.Tone);
                Every.Item(sounding.Skip(1), n => Assert.Contains(n.Pitch.Tone, chords[i].Tones));
            }
        }
    }

    [Fact]
    public void The_same_random_numbers_give_the_same_score()
    {
        var first = PhraseComposer.Write(new Random(7));
        var second = PhraseComposer.Write(new Random(7));
        Assert.Equal(first.Score.Notes, second.Score.Notes);
    }

    [Fact]
    public void Pieces_at_random_fill_their_measures_without_gaps_in_the_truth()
    {
        for (var seed = 0; seed < 60; seed++)
        {
            var piece = PhraseComposer.Write(new Random(seed));
            Assert.Equal(Fraction.Zero, piece.Chords[0].Onset);
            for (var i = 1; i < piece.Chords.Count; i++) Assert.Equal(piece.Chords[i - 1].Onset + piece.Chords[i - 1].Duration,
                piece.Chords[i].Onset);
            Assert.Equal(piece.Score.End, piece.Chords[^1].Onset + piece.Chords[^1].Duration);
            Assert.Equal(piece.Score.End, piece.Score.Notes.Max(n => n.End));
            Every.Item(piece.Score.Notes, n => Assert.True(n.Duration > 0 && n.End <= piece.Score.MeasureAt(n.Onset).End));
        }
    }

    [Fact]
    public void The_sounding_chord_of_a_complete_block_is_the_one_that_was_written()
    {
        foreach (var progression in Handbook.All)
        {
            var home = new Key(new Tone(progression.Mode == Mode.Major ? 2 : 1), progression.Mode);
            var written = ProgressionWriter.Write(progression, new Setting(home, 4, Texture.Block, TimeSignature.Common, 2), new Random(1));
            var sonorities = SonorityFinder.Find(written.Score);
            var chords = progression.In(home);
            for (var i = 0; i < chords.Count; i++)
            {
                var sounding = sonorities.Single(s => s.Onset == written.Chords[i].Onset).Notes.Select(n => n.Pitch.Tone).ToHashSet();
                var altered = !chords[i].Tones.ToHashSet().SetEquals(chords[i].Numeral.Tones(chords[i].Key));
                if (chords[i].IsOverPedal || altered || chords[i].Numeral.Kind == NumeralKind.CommonToneDiminished
                    || !sounding.SetEquals(chords[i].Tones)) continue;
                var found = SoundingChord.Identify(sonorities, written.Chords[i].Onset, written.Chords[i].Onset + written.Chords[i]
                    .Duration, ReadingSettings.Default);
                Assert.NotNull(found);
                Assert.True(found.IsComplete && found.IsSpelled, $"{progression.Name}: {chords[i].Numeral} found as {found}");
                Assert.Equal(chords[i].Numeral.Quality, found.Quality);
                Assert.Equal(chords[i].Tones[0], found.Tones[0]);
                Assert.Equal(chords[i].Bass, found.Tones[found.Inversion]);
            }
        }
    }
}
