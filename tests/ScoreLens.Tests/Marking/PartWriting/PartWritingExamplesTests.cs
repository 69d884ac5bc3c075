using ScoreLens.Marking;
using ScoreLens.Marking.PartWriting;
using ScoreLens.Sonorities;
using ScoreLens.TestKit.PlantedFaults;
using Xunit;

namespace ScoreLens.Tests.Marking.PartWriting;

/// <summary>
/// Small examples of our own after each rule as handbooks state it, wrong and right. The rules: Kostka and Payne, Tonal Harmony;
/// Aldwell and Schachter, Harmony and Voice Leading; Piston, Harmony; Laitz, The Complete Musician; Fux, Gradus. All from memory.
/// </summary>
public sealed class PartWritingExamplesTests
{
    // Kostka and Payne, ch. 5: objectionable parallels; contrary fifths and octaves; unequal and direct fifths.
    [Theory]
    [InlineData("parallel-fifths", "C major", "I ii", "C5 D5", "E4 F4", "G3 A3", "C3 D3", 1, "tenor bass")]
    [InlineData("parallel-fifths", "C major", "IV V", "C5 D5", "A4 B4", "F4 G4", "F3 B3", 1, "soprano tenor")]
    [InlineData("parallel-octaves", "C major", "IV V", "A4 B4", "C4 D4", "F3 G3", "F2 G2", 1, "tenor bass")]
    [InlineData("parallel-octaves", "C major", "I V", "G4 B4", "E4 G4", "C4 B3", "C4 B2", 1, "tenor bass")]
    [InlineData("parallel-unisons", "C major", "IV V", "C5 D5", "A4 B4", "F3 G3", "F3 G3", 1, "tenor bass")]
    [InlineData("fifths-by-contrary-motion", "C major", "V I", "B4 C5", "G4 E4", "D4 G4", "G3 C3", 1, "tenor bass")]
    [InlineData("octaves-by-contrary-motion", "C major", "V I", "B4 C5", "D4 E4", "G3 C4", "G3 C3", 1, "tenor bass")]
    [InlineData("direct-fifths", "C major", "IV ii", "F4 A4", "C4 F4", "A3 F4", "F3 D4", 1, "soprano bass")]
    [InlineData("direct-octaves", "C major", "V I", "D4 C5", "B3 C4", "G3 E4", "G2 C3", 1, "soprano bass")]
    [InlineData("diminished-to-perfect-fifth", "C major", "V65 I", "F4 G4", "D4 E4", "G3 C4", "B2 C3", 1, "soprano bass")]
    [InlineData("diminished-to-perfect-fifth", "C major", "viio I", "B4 C5", "D4 E4", "F3 G3", "B2 C3", 1, "tenor bass")]
    // Chord notes C–D of the soprano over F–G of the tenor, with B between (Kostka and Payne, ch. 11).
    [InlineData("fifths-around-non-chord-note", "C major", "IV V", "C5:1/2 B4:1/2 D5", "A4 G4", "F4 G4", "F3 B2", 1, "soprano tenor")]
    // A 9–8 suspension over parallel octaves (Piston).
    [InlineData("octaves-around-non-chord-note", "C major", "V IV", "D5 C5", "G4:3/2 F4:1/2", "B3 C4", "G3 F3", 1.5, "alto bass")]
    // Kostka and Payne, ch. 5: crossing, overlap, spacing, range.
    [InlineData("voice-crossing", "C major", "I", "C5", "E4", "G4", "C3", 0, "alto tenor")]
    [InlineData("voice-overlap", "C major", "I IV", "G4 C5", "E4 A4", "C4 C4", "C3 F3", 1, "soprano alto")]
    [InlineData("spacing", "C major", "I", "G5", "E4", "C4", "C3", 0, "soprano alto")]
    [InlineData("spacing", "C major", "I", "C5", "G4", "E3", "C3", 0, "alto tenor")]
    [InlineData("spacing", "C major", "I", "C5", "G4", "E4", "C2", 0, "tenor bass")]
    [InlineData("range", "C major", "I", "C5", "G4", "E4", "C2", 0, "bass")]
    [InlineData("range", "C major", "V", "B5", "G4", "D4", "G3", 0, "soprano")]
    [InlineData("range", "C major", "I", "G5", "E5", "C4", "C3", 0, "alto")]
    [InlineData("range", "C major", "ii", "F4", "D4", "A2", "D2", 0, "tenor")]
    // Aldwell and Schachter, ch. 6 and 7: the leading tone; Kostka and Payne, ch. 12 and 13: sevenths.
    [InlineData("doubled-leading-tone", "C major", "V", "B4", "D4", "B3", "G2", 0, "soprano tenor")]
    [InlineData("doubled-seventh", "C major", "V7", "F5", "F4", "B3", "G2", 0, "soprano alto")]
    [InlineData("leading-tone-unresolved", "C major", "V I", "B4 G4", "G4 E4", "D4 C4", "G3 C3", 1, "soprano")]
    [InlineData("leading-tone-unresolved", "A minor", "viio7/V V viio6 i", "A4 G#4 B4 C5", "F#4 E4 G#4 C5", "C4 B3 D4 C4", "D#3 E3 B2 A2",
        3, "alto")]
    [InlineData("leading-tone-unresolved", "C major", "V vi", "B4 A4", "G4 E4", "D4 C4", "G3 A3", 1, "soprano")]
    // Doubled, and neither rises: then both are said.
    [InlineData("leading-tone-unresolved", "C major", "V I", "B4 G4", "D4 G4", "B3 E4", "G2 C3", 1, "soprano")]
    [InlineData("leading-tone-unresolved", "C major", "V I", "B4 G4", "D4 G4", "B3 E4", "G2 C3", 1, "tenor")]
    [InlineData("seventh-unresolved", "C major", "V7 I", "F4 G4", "D4 E4", "B3 C4", "G3 C3", 1, "soprano")]
    [InlineData("seventh-unresolved", "C major", "ii7 V", "F4 D4", "C4 G4", "A3 B3", "D3 G2", 1, "alto")]
    // The bass does not take the resolution of a seventh that rises.
    [InlineData("seventh-unresolved", "C major", "V65 I", "F4 G4", "D4 E4", "G3 C4", "B2 C3", 1, "soprano")]
    // Kostka and Payne, ch. 22 and 23: the Neapolitan and the augmented sixths.
    [InlineData("augmented-sixth-not-outward", "A minor", "Ger65 V", "A4 G#4", "D#4 B3", "C4 B3", "F3 E3", 1, "alto")]
    [InlineData("augmented-sixth-not-outward", "A minor", "It6 V", "D#5 E5", "A4 G#4", "A3 B3", "F3 G#2", 1, "bass")]
    [InlineData("augmented-sixth-not-outward", "A minor", "Fr43 V", "D#5 B4", "B4 B4", "A3 G#3", "F3 E3", 1, "soprano")]
    [InlineData("augmented-sixth-not-outward", "A minor", "Ger65 Cad64", "A4 A4", "D#4 C4", "C4 C4", "F3 E3", 1, "alto")]
    // Spelled as an augmented sixth, whatever a reading makes of the chord.
    [InlineData("augmented-sixth-not-outward", "A minor", "viio7/V V", "A4 G#4", "D#4 B3", "C4 B3", "F3 E3", 1, "alto")]
    [InlineData("neapolitan-second-not-falling", "A minor", "N6 V", "Bb4 B4", "F4 E4", "D4 G#4", "D3 E3", 1, "soprano")]
    [InlineData("neapolitan-second-not-falling", "A minor", "N6 viio7/V V", "F4 F#4 E4", "Bb3 C4 B3", "D4 A3 G#3", "D3 D#3 E3", 1, "alto")]
    // Melody: Kostka and Payne, ch. 5; Fux.
    [InlineData("melodic-augmented-second", "A minor", "iv V", "F4 G#4", "D4 E4", "A3 B3", "D3 E3", 1, "soprano")]
    [InlineData("melodic-augmented-second", "A minor", "V VI", "B4 A4", "E4 C4", "G#3 F3", "E3 F3", 1, "tenor")]
    [InlineData("melodic-tritone", "C major", "IV V", "F4 B4", "C4 D4", "A3 G3", "F3 G3", 1, "soprano")]
    [InlineData("melodic-tritone", "C major", "IV V vi", "A4 G4 A4", "F4 B3 E4", "C4 D4 C4", "F3 G3 A3", 1, "alto")]
    [InlineData("unresolved-leap", "C major", "I IV V", "D4 C5 D5", "C4 A4 B4", "G3 F4 G4", "C3 F3 G3", 1, "soprano")]
    [InlineData("unresolved-leap", "C major", "I IV V", "E5 F4 D4", "C4 C4 B3", "G3 A3 G3", "C3 F3 G3", 1, "soprano")]
    // Completeness and six-fours: Kostka and Payne, ch. 5 and 9; doubling: Piston.
    [InlineData("missing-third", "C major", "I", "C5", "G4", "C4", "C3", 0, "soprano alto tenor bass")]
    [InlineData("six-four-out-of-place", "C major", "I vi64 IV", "G4 A4 A4", "E4 E4 F4", "C4 C4 C4", "C3 E3 F2", 1,
        "soprano alto tenor bass")]
    [InlineData("six-four-out-of-place", "C major", "IV Cad64 V:2", "A4 G4 G4:2", "F4 E4 D4:2", "C4 C4 B3:2", "F3 G3 G3:2", 1,
        "soprano alto tenor bass")]
    // No phrase ends on a six-four (Kostka and Payne, ch. 9).
    [InlineData("six-four-out-of-place", "C major", "IV I64:2", "A4 G4:2", "F4 E4:2", "C4 C4:2", "F3 G3:2", 1, "soprano alto tenor bass")]
    [InlineData("doubling", "C major", "I", "E5", "E4", "E4", "C3", 0, "soprano alto tenor")]
    [InlineData("doubling", "A minor", "Ger65", "A4", "F4", "D#4", "F3", 0, "alto bass")]
    public void A_fault_is_found_at_its_place_in_its_voices(
        string rule, string key, string chords, string soprano, string alto, string tenor, string bass, double onset, string voices)
    {
        var remarks = Check(key, chords, [soprano, alto, tenor, bass]).Where(r => r.Kind.Name() == rule).ToList();
        var remark = Assert.Single(remarks, r => r.Onset.ToDouble() == onset && string.Join(' ', r.Voices) == voices);
        Assert.NotEmpty(remark.Text);
        Assert.NotEmpty(remark.Advice);
        Assert.NotEmpty(remark.Notes);
        Assert.Equal(Criterion.PartWriting, remark.Criterion);
    }

    [Theory]
    // Repeated fifths are not parallel fifths (Kostka and Payne, ch. 5), a perfect fifth may go to a diminished one.
    // Alto and tenor exchange their notes: nothing moves.
    [InlineData("fifths-by-contrary-motion", "C major", "I I", "C5 E5", "G4 C4", "C4 G4", "C3 C3")]
    [InlineData("parallel-fifths", "C major", "I I", "E5 E5", "C5 C5", "G3 G3", "C3 C3")]
    [InlineData("parallel-fifths", "C major", "I viio6", "C5 B4", "G4 F4", "E4 D4", "C3 D3")]
    // The step from one phrase to the next.
    [InlineData("parallel-fifths", "C major", "I ii", "C5! D5", "E4! F4", "G3! A3", "C3! D3")]
    [InlineData("parallel-octaves", "C major", "IV V", "A4 G4", "F4 D4", "C4 B3", "F3 G3")]
    [InlineData("parallel-octaves", "C major", "I:2", "E4:2", "G3:2", "C4 C5", "C3 C4")]
    [InlineData("parallel-unisons", "C major", "I I", "G4 G4", "E4 E4", "C4 C4", "C4 C4")]
    [InlineData("fifths-by-contrary-motion", "C major", "V I", "B4 C5", "D4 E4", "G3 G3", "G2 C3")]
    [InlineData("octaves-by-contrary-motion", "C major", "V I", "B4 C5", "D4 E4", "G3 G3", "G3 C3")]
    // The soprano by step over a bass that leaps (Aldwell and Schachter, ch. 5).
    [InlineData("direct-fifths", "C major", "I V", "E5 D5", "G4 G4", "C4 B3", "C4 G3")]
    [InlineData("direct-octaves", "C major", "V I", "B4 C5", "D4 E4", "G3 G3", "G2 C3")]
    // Inside one chord.
    [InlineData("direct-octaves", "C major", "I:2", "E4 C5", "C4 C4", "G3 G3", "G2 C3")]
    // A bass that only changes its octave does not move (common practice).
    [InlineData("direct-fifths", "C major", "Cad64 V", "G4 D4", "E4 B3", "C4 G3", "G3 G2")]
    // Between upper voices, I–V43–I6 (Aldwell and Schachter, ch. 8).
    [InlineData("diminished-to-perfect-fifth", "C major", "I V43 I6", "E4 F4 G4", "C4 B3 C4", "G3 G3 G3", "C3 D3 E3")]
    [InlineData("fifths-around-non-chord-note", "C major", "I IV", "G4:1/2 F4:1/2 A4", "E4 F4", "C4 C4", "C3 F2")]
    // A suspension stands between, tied or struck again: 5–6–5 (Kostka and Payne, ch. 12).
    [InlineData("fifths-around-non-chord-note", "A minor", "v iv6", "B4 A4", "G4 F4", "E4 E4:1/2 D4:1/2", "E3 F3")]
    // The soprano anticipates its next note.
    [InlineData("fifths-around-non-chord-note", "C major", "vi V", "E5:1/2 D5:1/2 D5", "C5 B4", "A4 G4", "A3 G3")]
    // One harmony, in which nothing is led from chord to chord.
    [InlineData("fifths-around-non-chord-note", "C major", "ii65 ii7 V", "F4:2 G4", "C4:1/2 B3:1/2 A3 B3", "A3 F3 D3", "F3 D3 G2")]
    [InlineData("octaves-around-non-chord-note", "A minor", "i6 i V", "A4 A4 G#4", "C4 D4 E4", "E4 E4 B3", "C3 A2 E3")]
    [InlineData("octaves-around-non-chord-note", "C major", "I:2", "C5:1/2 D5:1/2 C5", "E4:2", "G3:2", "C3:2")]
    [InlineData("voice-crossing", "C major", "I", "C5", "G4", "G4", "C3")]
    // The same chord regrouped.
    [InlineData("voice-overlap", "C major", "I:2", "G4 E5", "E4 C5", "C4 G4", "C3:2")]
    [InlineData("spacing", "C major", "I", "G4", "E4", "C4", "C2")]
    [InlineData("range", "C major", "I", "G5", "C5", "E4", "C3")]
    // The seventh degree in iii does not lead (Aldwell and Schachter).
    [InlineData("doubled-leading-tone", "C major", "iii", "B4", "G4", "B3", "E3")]
    [InlineData("doubled-seventh", "C major", "V7", "G4", "F4", "B3", "G2")]
    // In an inner voice it falls to the fifth of I (Kostka and Payne); in 8–7–6 it falls on; viio6–I6 to the tonic.
    [InlineData("leading-tone-unresolved", "C major", "V I", "D5 C5", "B4 G4", "G4 E4", "G3 C3")]
    [InlineData("leading-tone-unresolved", "C major", "I V6 vi", "G4 G4 A4", "E4 D4 E4", "C4 G3 C4", "C4 B3 A3")]
    [InlineData("leading-tone-unresolved", "C major", "V7 vi", "D4 C4", "B3 C4", "F3 E3", "G2 A2")]
    // The note that it should go to is another voice's, at that very pitch (transferred resolution: Aldwell and Schachter, ch. 8).
    [InlineData("leading-tone-unresolved", "C major", "V I", "G4 C5", "D4 C4", "B3 E3", "G2 C3")]
    // Doubled, the other one rises; a step up into the next dominant.
    [InlineData("leading-tone-unresolved", "C major", "V I", "B4 C5", "D4 E4", "B3 G3", "G2 C3")]
    [InlineData("leading-tone-unresolved", "C major", "V6 V65/ii ii", "G4 A4 A4", "D4 E4 F4", "G3 G3 F3", "B2 C#3 D3")]
    // Falls; is held; is ornamented; the bass takes its resolution; I–V43–I6 (Kostka and Payne, ch. 13).
    [InlineData("seventh-unresolved", "C major", "V7 I", "F4 E4", "D4 C4", "B3 C4", "G2 C3")]
    [InlineData("seventh-unresolved", "C major", "ii7 V7", "C5 B4", "A4 G4", "F4 F4", "D3 G3")]
    [InlineData("seventh-unresolved", "C major", "V7 I", "F4:1/2 D4:1/2 E4", "D4 C4", "B3 C4", "G2 C3")]
    [InlineData("seventh-unresolved", "C major", "V7 I6", "F4 G4", "D4 C4", "B3 C4", "G2 E3")]
    [InlineData("seventh-unresolved", "C major", "I V43 I6", "E4 F4 G4", "C4 B3 C4", "G3 G3 G3", "C3 D3 E3")]
    // Exchanged with the bass, taken over by a passing bass, filled by a passing note.
    [InlineData("seventh-unresolved", "C major", "V43 V42 I6", "F4 D4 C4", "B3 B3 C4", "G3 G3 G3", "D3 F3 E3")]
    [InlineData("seventh-unresolved", "C major", "V7 V42 I6", "F4:2 G4", "D4:2 C4", "B3:2 C4", "G3 F3 E3")]
    [InlineData("seventh-unresolved", "Eb major", "V42 I", "F4 G4", "D4 Eb4", "Bb3 Bb3", "Ab3:1/2 G3:1/2 F3:1/2 Eb3:1/2")]
    // Outward to the octave, and a raised fourth that falls to the seventh of V7 (Kostka and Payne, ch. 23).
    [InlineData("augmented-sixth-not-outward", "A minor", "It6 V", "A4 G#4", "D#4 E4", "A3 B3", "F3 E3")]
    [InlineData("augmented-sixth-not-outward", "A minor", "It6 V7", "A4 G#4", "D#4 D4", "A3 B3", "F3 E3")]
    [InlineData("augmented-sixth-not-outward", "A minor", "Ger65 Cad64", "A4 A4", "D#4 E4", "C4 C4", "F3 E3")]
    [InlineData("augmented-sixth-not-outward", "A minor", "Fr43 V", "D#5 E5", "B4 B4", "A3 G#3", "F3 E3")]
    [InlineData("neapolitan-second-not-falling", "A minor", "N6 V", "Bb4 G#4", "F4 E4", "D4 B3", "D3 E3")]
    [InlineData("neapolitan-second-not-falling", "A minor", "N6 Cad64", "Bb4 A4", "F4 E4", "D4 C4", "D3 E3")]
    // In root position the bass leaps to V, or climbs.
    [InlineData("neapolitan-second-not-falling", "A minor", "bII V", "F4 E4", "D4 B3", "F3 G#3", "Bb2 E3")]
    [InlineData("neapolitan-second-not-falling", "A minor", "bII i6", "F4 E4", "D4 C4", "F3 A3", "Bb2 C3")]
    [InlineData("melodic-augmented-second", "A minor", "iv V", "F4 E4", "D4 B3", "A3 G#3", "D3 E3")]
    [InlineData("melodic-tritone", "C major", "V7:2", "B4 F4", "G4:2", "D4:2", "G3:2")]
    // A diminished fifth that turns back by step.
    [InlineData("melodic-tritone", "C major", "IV V I", "A4 G4 G4", "F4 B3 C4", "C4 D4 E4", "F3 G3 C3")]
    // The step back comes after the root of the same chord.
    [InlineData("melodic-tritone", "G minor", "iv V:2 i", "C5 A4:2 G4", "G4 F#4:2 G4", "Eb4 A3 D4 Bb3", "C3 D3:2 G2")]
    [InlineData("unresolved-leap", "C major", "I IV V", "C4 A4 G4", "G3 A3 G3", "E3 C4 B3", "C3 F3 G3")]
    // A diminished fourth in the bass, whose leading tone rises after an octave.
    [InlineData("unresolved-leap", "G minor", "i6 viio7:2 i", "G4 A4:2 Bb4", "D4 Eb4:2 D4", "G3 C4:2 Bb3", "Bb2 F#2 F#3 G3")]
    [InlineData("missing-third", "C major", "I", "C5", "E4", "C4", "C3")]
    // A 4–3 suspension brings the third.
    [InlineData("missing-third", "C major", "IV V:2", "A4 G4:2", "F4 D4:2", "C4:2 B3", "F3 G3:2")]
    [InlineData("missing-third", "C major", "IV V:2", "A4 G4:2", "F4 D4:2", "C4 C4:1/2 A3:1/2 B3", "F3 G3:2")]
    // Cadential on the strong beat, passing, pedal (Kostka and Payne, ch. 9).
    [InlineData("six-four-out-of-place", "C major", "IV:2 Cad64 V", "A4:2 G4 G4", "F4:2 E4 D4", "C4:2 C4 B3", "F3:2 G3 G3")]
    [InlineData("six-four-out-of-place", "C major", "I V64 I6", "G4 G4 G4", "E4 D4 C4", "C4 B3 C4", "C3 D3 E3")]
    [InlineData("six-four-out-of-place", "C major", "I IV64 I", "G4 A4 G4", "E4 F4 E4", "C4 C4 C4", "C3 C3 C3")]
    // A chromatic bass, a bass that is held on, viio over the bass of its V42.
    [InlineData("six-four-out-of-place", "G minor", "V65 viio64/iv iv6", "D4 D5 C5", "D4 D4 G4", "C4 B3 C4", "F#3 F3 Eb3")]
    [InlineData("six-four-out-of-place", "F major", "I IV64 viio I", "F4 F4 G4 A4", "C4 D4 E4 F4", "A3 Bb3 Bb3 C4", "F2 F3:3")]
    [InlineData("six-four-out-of-place", "A major", "I6 viio64 V42 I6", "A4 G#4 E4 E4", "E4 D4 B3 C#4", "A3 B3 G#3 A3", "A2 D3 D3 C#3")]
    // The third of VI doubled after V, the notes of the augmented sixth single.
    [InlineData("doubling", "C major", "V vi", "B4 C5", "G4 E4", "D4 C4", "G3 A3")]
    [InlineData("doubling", "A minor", "It6", "A4", "D#4", "A3", "F3")]
    public void What_the_handbooks_allow_passes(
        string rule, string key, string chords, string soprano, string alto, string tenor, string bass) =>
        Assert.DoesNotContain(Check(key, chords, [soprano, alto, tenor, bass]), r => r.Kind.Name() == rule);

    [Fact]
    public void Every_rule_has_examples_of_both_kinds()
    {
        var rules = PartWritingRules.All.Select(r => r.Name).ToHashSet();
        Assert.Superset(rules, RulesOf(nameof(A_fault_is_found_at_its_place_in_its_voices)));
        Assert.Superset(rules, RulesOf(nameof(What_the_handbooks_allow_passes)));

        static HashSet<string> RulesOf(string test) =>
            [.. typeof(PartWritingExamplesTests).GetMethod(test)!.GetCustomAttributes(typeof(InlineDataAttribute), false)
                .Cast<InlineDataAttribute>().Select(d => (string)d.Data[0]!)];
    }

    [Fact]
    public void V_without_a_third_and_the_V7_after_it_are_one_fault() =>
        Assert.Single(Check("C major", "V V7 I", ["D5 D5 C5", "G4 F4 E4", "G3 G3 G3", "G2 G2 C3"]), r => r.Kind.Name() == "missing-third");

    [Fact]
    public void A_note_added_below_the_last_bass_note_does_not_mix_up_the_voices()
    {
        // Alto and tenor cross, which voices shared by height would hide.
        var exercise = Exercise.Of("C major", "I IV V V7 I ii V7 I", "E4 A4 G4 G4 C5 D5 B4 C5", "C4 C4 B3 B3 E4 A3 F4 E4",
            "G3 F3 D3 D3 G3 F4 G3 G3", "C3 F3 G3 F3 E3 D3 G3 C3");
        var low = exercise.Score.Notes.Last(n => n.Part == 3) with { Pitch = Exercise.ParsePitch("C2") };
        var score = exercise.Score with { Notes = [.. exercise.Score.Notes, low] };
        var remarks = PartWritingCheck.Run(score, SonorityFinder.Find(score), exercise.Reading, PartWritingOptions.Default);
        Assert.Contains(remarks, r => r.Kind.Name() == "voice-crossing" && r.Onset == 5 && r.Voices.SequenceEqual(["alto", "tenor"]));
    }

    [Fact]
    public void Every_rule_has_a_name_a_sentence_and_a_source_and_can_be_turned_off()
    {
        Assert.Equal(PartWritingRules.All.Count, PartWritingRules.All.Select(r => r.Name).Distinct().Count());
        Assert.All(PartWritingRules.All, rule =>
        {
            Assert.Matches("^[a-z]+(-[a-z]+)*$", rule.Name);
            Assert.EndsWith(".", rule.Sentence, StringComparison.Ordinal);
            Assert.NotEmpty(rule.Source);
            Assert.Equal(0, PartWritingOptions.Default.With(rule.Name, 0).WeightOf(rule));
        });
        var exercise = Exercise.Of("C major", "IV V", "C5 D5", "A4 B4", "F4 G4", "F3 B3");
        var off = PartWritingOptions.Default.With("parallel-fifths", 0);
        Assert.DoesNotContain(
            PartWritingCheck.Run(exercise.Score, SonorityFinder.Find(exercise.Score), exercise.Reading, off), r =>
                r.Kind.Name() == "parallel-fifths");
    }

    [Fact]
    public void Strict_direct_motion_still_allows_horn_fifths()
    {
        // Two horns: C over E, D over G, E over C (Piston; the strict reading of direct fifths from memory).
        string[] voices = ["C5 D5 E5", "C5 B4 C5", "G4 G4 G4", "E4 G4 C5"];
        var strict = PartWritingOptions.Default with { StrictDirectMotion = true };
        Assert.DoesNotContain(Check("C major", "I6 V I", voices, strict), r => r.Kind.Name() == "direct-fifths");
        Assert.Contains(Check("C major", "I6 V I", voices, strict with { HornFifths = false }), r => r.Kind.Name() == "direct-fifths");
    }

    private static IReadOnlyList<Remark> Check(string key, string chords, string[] voices, PartWritingOptions? options = null)
    {
        var exercise = Exercise.Of(key, chords, voices);
        return PartWritingCheck.Run(exercise.Score, SonorityFinder.Find(exercise.Score), exercise.Reading, options
            ?? PartWritingOptions.Default);
    }
}
