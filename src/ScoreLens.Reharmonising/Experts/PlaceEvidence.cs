using ScoreLens.Theory;

namespace ScoreLens.Reharmonising.Experts;

/// <summary>What is known of a place while its own chord is not looked at. Tones are semitones above the tonic, 0..11.</summary>
/// <param name="Mode">Mode of its key.</param>
/// <param name="Before">The chord before; null where the score begins.</param>
/// <param name="After">The chord after; null where the score ends.</param>
/// <param name="BassBefore">Bass of the chord before, -1 where there is none.</param>
/// <param name="BassAfter">Bass of the chord after, -1 where there is none.</param>
/// <param name="Melody">The melody's tones over it, each with its share of the melody's time; none where it rests.</param>
/// <param name="First">The melody's first tone, -1 where it rests.</param>
/// <param name="MelodyAfter">The melody's first tone after it, -1 where there is none.</param>
/// <param name="Metre">0 off the beats, 1 on a beat, 2 on the first beat of a measure.</param>
/// <param name="Length">0 to 3: up to one quarter note, two, four, more.</param>
internal sealed record PlaceEvidence(Mode Mode, ChordClass? Before, ChordClass? After, int BassBefore, int BassAfter,
    IReadOnlyList<(int Above, double Share)> Melody, int First, int MelodyAfter, int Metre, int Length)
{
    /// <summary>What is known of a place.</summary>
    /// <param name="key">Its key.</param>
    /// <param name="before">The chord before with its key; null where there is none.</param>
    /// <param name="after">The chord after with its key; null where there is none.</param>
    /// <param name="melody">The melody's notes over it.</param>
    /// <param name="start">Where it begins.</param>
    /// <param name="end">Where it ends.</param>
    /// <param name="weight">Metrical weight of its beginning, 0..1.</param>
    public static PlaceEvidence Of(Key key, (Key Key, Numeral Numeral)? before, (Key Key, Numeral Numeral)? after,
        IReadOnlyList<MelodyNote> melody, Fraction start, Fraction end, double weight)
    {
        var times = new SortedDictionary<int, double>();
        var all = 0.0;
        foreach (var note in melody)
        {
            var time = (Fraction.Min(end, note.Note.End) - Fraction.Max(start, note.Note.Onset)).ToDouble();
            var above = Tone.Semitones(key.Tonic, note.Note.Pitch.Tone);
            times[above] = times.GetValueOrDefault(above) + time;
            all += time;
        }

        return new PlaceEvidence(key.Mode, ClassOf(before), ClassOf(after), BassOf(before), BassOf(after),
            [.. times.Select(t => (t.Key, t.Value / all))],
            melody.Count == 0 ? -1 : Tone.Semitones(key.Tonic, melody[0].Note.Pitch.Tone),
            melody.Count == 0 || melody[^1].After is not { } next ? -1 : Tone.Semitones(key.Tonic, next.Tone),
            weight >= 1 ? 2 : weight >= OnBeat ? 1 : 0,
            end - start <= 1 ? 0 : end - start <= 2 ? 1 : end - start <= 4 ? 2 : 3);

        ChordClass? ClassOf((Key Key, Numeral Numeral)? chord) =>
            chord is { } c ? ChordClass.Of(key, c.Key, c.Numeral) : null;

        int BassOf((Key Key, Numeral Numeral)? chord) => chord is { } c ? Tone.Semitones(key.Tonic, c.Numeral.Bass(c.Key)) : -1;
    }

    // Half of a measure's weight and its quarter are beats in the common metres.
    private const double OnBeat = 0.25;
}
