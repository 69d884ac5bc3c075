using ScoreLens.Reading;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Marking.Labels;

/// <summary>
/// What the notes say for a label, by themselves and against the label that was expected. It is asked where the program's reading is the
/// measure and the label is not the expected one: what the notes bear as well is no mistake.
/// </summary>
internal sealed class LabelEvidence(IReadOnlyList<Sonority> sonorities)
{
    // Verticals on weaker places than this are passed over when a whole chord is to fit.
    private const double Weak = 0.1;

    // Shares of notes closer than this are equal.
    private const double Equal = 1e-9;

    private const int Third = 1, Seventh = 3, Step = 2;

    /// <summary>Whether every note on the chord's stronger places belongs to the label, and its bass is the label's.</summary>
    public bool Fits(LabelMeaning meaning, ChordReading chord) =>
        During(chord.Onset, chord.End).Where(s => s.Onset >= chord.Onset && s.MetricalWeight > Weak).All(s => Fits(meaning, s))
        && At(chord.Onset) is { } first && HasBass(first, meaning);

    /// <summary>Whether the label names exactly what is struck where it stands, though the chord that is read goes on past it.</summary>
    public bool IsStruck(LabelMeaning meaning, Fraction onset) =>
        At(onset) is { Notes.Count: > 2 } sonority && sonority.Onset == onset && Fits(meaning, sonority) && HasBass(sonority, meaning)
        && meaning.Numeral.Tones(meaning.Key).All(t => sonority.Notes.Any(n => n.Pitch.Tone.IsEnharmonicWith(t)));

    /// <summary>Whether every note where the label stands belongs to it.</summary>
    public bool FitsAt(StudentLabel label) =>
        At(label.Onset) is { Notes.Count: > 1 } sonority && label.Meanings.Any(m => Fits(m, sonority));

    /// <summary>
    /// Whether the seventh by which a label and the expected one differ sounds during a part of the time only: a passing seventh may be
    /// named or not.
    /// </summary>
    public bool IsSeventhInPart(LabelMeaning meaning, LabelMeaning expected, Fraction from, Fraction to)
    {
        if (SeventhBetween(meaning, expected) is not { } seventh) return false;
        var during = During(from, to);
        var count = during.Count(s => s.Notes.Any(n => n.Pitch.Tone.IsEnharmonicWith(seventh)));
        return count > 0 && count < during.Count;
    }

    /// <summary>
    /// Whether the label has the bass that sounds where it stands, and the expected one that of another moment of the chord.
    /// </summary>
    public bool IsBassMoving(LabelMeaning meaning, LabelMeaning expected, Fraction onset, ChordReading chord) =>
        At(onset) is { } here && HasBass(here, meaning) && !HasBass(here, expected)
        && During(chord.Onset, chord.End).Any(s => HasBass(s, expected));

    /// <summary>
    /// Whether a label accounts for what sounds while it holds at least as well as the expected one: its tones are there, its bass is
    /// there, and no smaller share of the notes belongs to it. Notes held over from before may be suspensions or a pedal, so they count
    /// for neither label where other notes are struck.
    /// </summary>
    /// <param name="meaning">The label.</param>
    /// <param name="expected">The expected label.</param>
    /// <param name="from">Where the label stands.</param>
    /// <param name="to">Until when both are compared.</param>
    public bool AccountsAsWell(LabelMeaning meaning, LabelMeaning expected, Fraction from, Fraction to)
    {
        // A seventh that is held through the chord is its seventh; only the rule above leaves it open.
        if (SeventhBetween(meaning, expected) is not null) return false;
        var during = During(from, to);
        var tones = meaning.Numeral.Tones(meaning.Key);
        var isSameRoot = tones[0].IsEnharmonicWith(expected.Numeral.Root(expected.Key));
        return IsThere(meaning, during, isSameRoot ? 0 : 1) && BassAt(from, tones) is { } bass
            && bass.IsEnharmonicWith(meaning.Numeral.Bass(meaning.Key))
            && Share(meaning, during, from) >= Share(expected, during, from) - Equal;
    }

    /// <summary>
    /// Whether a chord only delays the one after it, which the label names: each of its notes belongs to the label or moves by step to a
    /// note that does.
    /// </summary>
    public bool IsDelayed(LabelMeaning meaning, ChordReading chord)
    {
        if (sonorities.FirstOrDefault(s => s.Onset >= chord.End) is not { Notes.Count: > 0 } next || next.Onset != chord.End) return false;
        var tones = meaning.Numeral.Tones(meaning.Key);
        var foreign = During(chord.Onset, chord.End).SelectMany(s => s.Notes)
            .Where(n => n.End == chord.End && !tones.Any(t => t.IsEnharmonicWith(n.Pitch.Tone)));
        return foreign.All(n => next.Notes.Any(m => next.IsStruck(m) && tones.Any(t => t.IsEnharmonicWith(m.Pitch.Tone))
            && Math.Abs(m.Pitch.Midi - n.Pitch.Midi) <= Step));
    }

    private IReadOnlyList<Sonority> During(Fraction from, Fraction to) =>
        [.. sonorities.Where(s => s.End > from && s.Onset < to && s.Notes.Count > 0)];

    private Sonority? At(Fraction onset) => sonorities.LastOrDefault(s => s.Onset <= onset);

    // Root and third of a triad, root and seventh of a seventh chord, and no more tones missing than may be; all of an augmented sixth.
    private static bool IsThere(LabelMeaning meaning, IReadOnlyList<Sonority> during, int mayBeMissing)
    {
        var tones = meaning.Numeral.Tones(meaning.Key);
        var missing = Enumerable.Range(0, tones.Count)
            .Where(i => !during.Any(s => s.Notes.Any(n => n.Pitch.Tone.IsEnharmonicWith(tones[i])))).ToList();
        if (missing.Count == 0) return true;
        return missing.Count <= mayBeMissing && !meaning.Numeral.Quality.IsAugmentedSixth() && missing[0] != 0
            && missing[0] != (tones.Count > Seventh ? Seventh : Third);
    }

    // The lowest note; over a note that is held from before and foreign to the chord, such as a pedal, the lowest that is struck.
    private Tone? BassAt(Fraction onset, IReadOnlyList<Tone> tones)
    {
        if (At(onset) is not { Bass: { } bass } here) return null;
        var isPedal = bass.Onset < onset && !tones.Any(t => t.IsEnharmonicWith(bass.Pitch.Tone));
        return (isPedal ? here.Notes.FirstOrDefault(n => n.Onset >= onset) ?? bass : bass).Pitch.Tone;
    }

    private static double Share(LabelMeaning meaning, IReadOnlyList<Sonority> during, Fraction from)
    {
        var tones = meaning.Numeral.Tones(meaning.Key);
        var (fitting, all) = (0.0, 0.0);
        foreach (var sonority in during)
        {
            var struck = sonority.Notes.Where(n => n.Onset >= from).ToList();
            var counted = struck.Count > 0 ? struck : sonority.Notes;
            var length = sonority.Duration.ToDouble();
            fitting += length * counted.Count(n => tones.Any(t => t.IsEnharmonicWith(n.Pitch.Tone))) / counted.Count;
            all += length;
        }

        return all > 0 ? fitting / all : 0;
    }

    private static bool HasBass(Sonority sonority, LabelMeaning meaning) =>
        sonority.Bass is { } bass && meaning.Numeral.Bass(meaning.Key).IsEnharmonicWith(bass.Pitch.Tone);

    // The seventh by which one of two chords differs from the other, a triad; null where they differ otherwise.
    private static Tone? SeventhBetween(LabelMeaning a, LabelMeaning b)
    {
        var (x, y) = (a.Numeral.Tones(a.Key), b.Numeral.Tones(b.Key));
        var (triad, seventh) = x.Count < y.Count ? (x, y) : (y, x);
        return triad.Count == Seventh && seventh.Count > Seventh && triad.Zip(seventh).All(p => p.First.IsEnharmonicWith(p.Second))
            ? seventh[Seventh] : null;
    }

    private static bool Fits(LabelMeaning meaning, Sonority sonority)
    {
        var tones = meaning.Numeral.Tones(meaning.Key);
        return sonority.Notes.All(n => tones.Any(t => t.IsEnharmonicWith(n.Pitch.Tone)));
    }
}
