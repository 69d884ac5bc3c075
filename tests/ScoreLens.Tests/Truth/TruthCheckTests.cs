using ScoreLens.Notation;
using ScoreLens.Phrases;
using ScoreLens.TestKit.Truth;
using ScoreLens.Theory;
using Xunit;

namespace ScoreLens.Tests.Truth;

/// <summary>The check itself: it finds each kind of fault where one is planted, and none where the notes bear the sentence out.</summary>
public sealed class TruthCheckTests
{
    private const string Row = "0,4,1,C major,V65/V,secondary-dominant,V,resolved,";

    // F# A C D over four quarters, then G B D G; the soprano goes C-B, the alto A-B, the bass F#-G.
    private static readonly Score Applied = Score(
        ("1", "C5", 0, 4), ("2", "A4", 0, 4), ("3", "D4", 0, 4), ("4", "F#3", 0, 4),
        ("1", "B4", 4, 4), ("2", "G4", 4, 4), ("3", "D4", 4, 4), ("4", "G3", 4, 4));

    [Theory]
    [InlineData("F# is the raised fourth degree, the leading tone of V; it rises to G as the chord moves to V.")]
    [InlineData("C falls to B and F# rises to G as the chord moves to V.")]
    [InlineData("D is kept.")]
    public void What_the_notes_bear_out_is_no_fault(string reason) => Assert.Empty(Faults(reason));

    [Theory]
    [InlineData("Gb is the leading tone of V; the chord moves to V.", FaultKind.Tone)]
    [InlineData("F#, A, Eb move to that chord by step.", FaultKind.Tone)]
    [InlineData("B and F# are an augmented sixth.", FaultKind.Tone)]
    [InlineData("F# is the raised fourth degree; it falls to G as the chord moves to V.", FaultKind.Movement)]
    [InlineData("C rises to D as the chord moves to V.", FaultKind.Movement)]
    [InlineData("F# is held as the chord moves to V.", FaultKind.Movement)]
    [InlineData("F# rises to G as the chord moves to vi.", FaultKind.NextChord)]
    [InlineData("F# rises to G as the chord moves through ii6 to V.", FaultKind.NextChord)]
    [InlineData("F# rises to G and V comes late, after ii.", FaultKind.NextChord)]
    [InlineData("F# sounds, but vi follows instead of V.", FaultKind.NextChord)]
    [InlineData("F# rises to G as the chord moves to V7.", FaultKind.NextNumeral)]
    [InlineData("F# is the lowered fifth degree; the chord moves to V.", FaultKind.Degree)]
    [InlineData("F# is the raised fourth degree, the leading tone of vi; the chord moves to V.", FaultKind.Degree)]
    [InlineData("It sounds with a pedal on A, degree 6 of C major, which is no tone of the chord.", FaultKind.Pedal)]
    [InlineData("It sounds with a pedal on E, degree 3 of C major, which is no tone of the chord.", FaultKind.Pedal)]
    [InlineData("Colourful, as ever.", FaultKind.Unread)]
    public void What_the_notes_do_not_bear_out_is_found(string reason, FaultKind kind) => Assert.Contains(kind, Faults(reason));

    [Theory]
    [InlineData("It stands over a pedal on B, degree 7 of C major, which is no tone of the chord.", false)]
    [InlineData("It sounds with a pedal on B, degree 7 of C major, which is no tone of the chord.", false)]
    [InlineData("It stands over a pedal on B, degree b7 of C major, which is no tone of the chord.", true)]
    [InlineData("It stands over a pedal on G, degree 5 of C major, which is no tone of the chord.", true)]
    public void A_pedal_sounds_through_the_chord_lowest_where_that_is_said(string reason, bool isFault)
    {
        var score = Score(
            ("1", "C5", 0, 4), ("2", "A4", 0, 4), ("3", "D4", 0, 4), ("4", "F#3", 0, 4), ("5", "B2", 0, 1), ("5", "B2", 1, 3),
            ("6", "G4", 0, 3), ("1", "B4", 4, 4), ("2", "G4", 4, 4), ("3", "D4", 4, 4), ("4", "G3", 4, 4));
        Assert.Equal(isFault ? [FaultKind.Pedal] : [], Faults("D is kept. " + reason, score: score));
    }

    [Theory]
    [InlineData("unresolved")]
    [InlineData("delayed")]
    public void A_resolution_that_is_otherwise_is_found(string said) =>
        Assert.Equal([FaultKind.Resolution], Faults("F# sounds.", Row.Replace("resolved", said, StringComparison.Ordinal)));

    [Fact]
    public void A_device_on_two_pitch_classes_is_found()
    {
        var thin = Score(("1", "F#4", 0, 4), ("2", "A3", 0, 4), ("1", "G4", 4, 4), ("2", "B3", 4, 4), ("3", "D3", 4, 4));
        Assert.Equal([FaultKind.FewNotes], Faults("F# sounds.", score: thin));
    }

    [Fact]
    public void A_chord_of_the_minor_dominant_before_the_major_one_is_found()
    {
        var score = Score(
            ("1", "C5", 0, 4), ("2", "A4", 0, 4), ("3", "D4", 0, 4), ("4", "F#3", 0, 4),
            ("1", "B4", 4, 4), ("3", "D4", 4, 4), ("4", "G3", 4, 4));
        var rows = Read("0,4,1,C minor,V65/v,secondary-dominant,v,resolved,F# rises to G.\n4,4,2,C minor,V,,,,\n");
        Assert.Equal([FaultKind.MinorDominant], TruthCheck.Run(score, [], rows).Faults.Select(f => f.Kind));
    }

    [Theory]
    [InlineData(8, Cadence.PerfectAuthentic, true)]
    [InlineData(4, Cadence.None, true)]
    [InlineData(4, Cadence.PerfectAuthentic, false)]
    public void A_Picardy_third_inside_a_phrase_or_without_a_cadence_is_found(int end, Cadence cadence, bool isFault)
    {
        var score = Score(
            ("1", "E5", 0, 4), ("2", "G4", 0, 4), ("3", "C4", 0, 4), ("1", "D5", 4, 4), ("2", "G4", 4, 4), ("3", "B3", 4, 4));
        var rows = Read("0,4,1,C minor,I,modal-mixture,,resolved,E is the raised third degree: a Picardy third.\n4,4,2,C minor,V6,,,,\n");
        var faults = TruthCheck.Run(score, [new Phrase(1, 0, end, rows[0].Key, cadence)], rows).Faults;
        Assert.Equal(isFault ? [FaultKind.Picardy] : [], faults.Select(f => f.Kind));
    }

    // A broken chord in one voice: F# D A D, then G; the last D lies between, and the strand F#-G is heard all the same.
    [Theory]
    [InlineData("D4", true)]
    [InlineData("E4", false)]
    public void A_broken_chord_moves_in_strands(string between, bool isHeard)
    {
        var score = Score(
            ("1", "A3", 0, 1), ("1", "C4", 1, 1), ("1", "F#4", 2, 1), ("1", between, 3, 1),
            ("1", "G4", 4, 2), ("1", "B4", 6, 1), ("1", "D4", 7, 1));
        Assert.Equal(isHeard ? [] : [FaultKind.Movement], Faults("F# rises to G.", score: score));
    }

    private static IEnumerable<FaultKind> Faults(string reason, string row = Row, Score? score = null) =>
        TruthCheck.Run(score ?? Applied, [], Read($"{row}\"{reason}\"\n4,4,2,C major,V,,,,\n")).Faults.Select(f => f.Kind);

    private static IReadOnlyList<TableRow> Read(string rows)
    {
        using var table = new StringReader("onset,duration,measure,key,numeral,device,target,resolution,reason\n" + rows);
        return TableRow.Read(table);
    }

    private static Score Score(params (string Voice, string Pitch, int Onset, int Duration)[] notes)
    {
        var measures = Enumerable.Range(0, 2).Select(m => new Measure(m, $"{m + 1}", 4 * m, 4, TimeSignature.Common, 0));
        return new Score("", [new Part(0, "P1", "", 1)], [.. measures], [.. notes.Select(Sounding)], [], [], []);
    }

    private static Note Sounding((string Voice, string Pitch, int Onset, int Duration) note) => new(
        new Pitch(Tone.Parse(note.Pitch[..^1]), note.Pitch[^1] - '0'), note.Onset, note.Duration, 0, 1, note.Voice, NoteMarks.None);
}
