using ScoreLens.Density;
using ScoreLens.Devices;
using ScoreLens.Notation;
using ScoreLens.Output.Annotation;
using ScoreLens.Reading;
using ScoreLens.TestKit.Truth;
using ScoreLens.Theory;
using ScoreLens.Wording;
using Xunit;

namespace ScoreLens.Tests.Devices;

/// <summary>A tone that stays while chords change to which it does not belong is a pedal, named by its degree where it begins.</summary>
public sealed class PedalPointTests
{
    private static readonly Key CMajor = Key.Parse("C major");

    [Theory]
    [InlineData("C", "1")]
    [InlineData("G", "5")]
    [InlineData("Ab", "b6")]
    [InlineData("F#", "#4")]
    public void Degree_is_told_in_the_key_in_which_it_begins(string tone, string degree) =>
        Assert.Equal(degree, new PedalPoint(Tone.Parse(tone), CMajor, 0, 16, 0).Degree);

    [Fact]
    public void Held_tonic_under_tonic_and_dominant_is_a_pedal()
    {
        var pedal = Assert.Single(Analysis("C", "I", "V7", "IV", "I").Pedals);
        Assert.Equal(("1", Fraction.Zero, (Fraction)16), (pedal.Degree, pedal.Start, pedal.End));
    }

    [Fact]
    public void Held_dominant_over_which_it_is_foreign_once_is_a_pedal() =>
        Assert.Equal("5", Assert.Single(Analysis("G", "V", "IV", "ii", "V7").Pedals).Degree);

    [Fact]
    public void Tone_that_belongs_to_every_chord_is_none() => Assert.Empty(Analysis("C", "I", "IV", "vi", "I").Pedals);

    [Fact]
    public void Row_label_and_sentence_name_it()
    {
        var analysis = Analysis("C", "I", "V7", "IV", "I");
        Assert.All(ChordRow.Of(analysis), r => Assert.Equal("1", r.Pedal));
        var labels = AnalysisLabels.Of(analysis, LabelOptions.Default).Labels.OfType<LyricLabel>().Where(l => l.Text.Contains("pedal"));
        Assert.Equal(("pedal 1", Fraction.Zero), (Assert.Single(labels).Text, labels.First().Onset));

        var rows = ChordRow.Of(analysis);
        Assert.Equal(["V7 in C major over a pedal on C, degree 1 of C major, which is no tone of the chord"], PedalText.Of(rows[1]));
        Assert.EndsWith("which is a tone of the chord", Assert.Single(PedalText.Of(rows[0])), StringComparison.Ordinal);
    }

    [Fact]
    public void The_reason_of_a_device_ends_with_the_pedal_that_it_stands_over()
    {
        var analysis = Analysis("G", "I", "V7/V", "V", "I");
        var reason = ReasonText.Of(ChordRow.Of(analysis)[1]);
        Assert.StartsWith("F# is the raised fourth degree", reason, StringComparison.Ordinal);
        Assert.EndsWith(". It stands over a pedal on G, degree 5 of C major, which is no tone of the chord.", reason,
            StringComparison.Ordinal);
        Assert.Empty(TruthCheck.Run(analysis).Faults);
    }

    // Four chords of four quarter notes in close position over a tone that is held, tied from measure to measure.
    private static CueAnalysis Analysis(string held, params string[] numerals)
    {
        var notes = new List<Note>();
        var chords = new List<ChordReading>();
        foreach (var (i, text) in numerals.Index())
        {
            var numeral = Numeral.Parse(text);
            var ties = (i > 0 ? NoteMarks.TieStop : NoteMarks.None) | (i + 1 < numerals.Length ? NoteMarks.TieStart : NoteMarks.None);
            notes.Add(new Note(new Pitch(Tone.Parse(held), 2), 4 * i, 4, 1, 1, "1", ties));
            notes.AddRange(numeral.Tones(CMajor).Select(t => new Note(new Pitch(t, 4), 4 * i, 4, 0, 1, "1", NoteMarks.None)));
            chords.Add(new ChordReading(4 * i, 4, CMajor, numeral, 1, []));
        }

        var measures = numerals.Select((_, i) => new Measure(i, $"{i + 1}", 4 * i, 4, TimeSignature.Common, 0));
        var score = new Score("", [new Part(0, "P1", "Choir", 1), new Part(1, "P2", "Organ", 1)], [.. measures], notes, [], [], []);
        return CueAnalysis.Of(score, new HarmonicReading(CMajor, chords));
    }
}
