namespace ScoreLens.Theory;

/// <summary>
/// A spelled pitch in a register: a <see cref="Tone"/> and an octave as MusicXML counts it, -1..10, where C4 is middle C.
/// The octave belongs to the letter: B#3 sounds like C4 and Cb4 like B3.
/// </summary>
public readonly record struct Pitch : IComparable<Pitch>
{
    /// <summary>The pitch of <paramref name="tone"/> in <paramref name="octave"/>.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The octave is outside -1..10.</exception>
    public Pitch(Tone tone, int octave)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(octave, -1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(octave, 10);
        Tone = tone;
        Octave = octave;
    }

    /// <summary>The spelled pitch class.</summary>
    public Tone Tone { get; }

    /// <summary>The octave of the letter; 4 begins at middle C.</summary>
    public int Octave { get; }

    /// <summary>Semitones above C-1, so that middle C is 60, as in MIDI 1.0. May leave 0..127 at the extremes.</summary>
    public int Midi => (12 * (Octave + 1)) + NaturalSemitones[Tone.Step] + Tone.Alteration;

    /// <summary>Letters above C0: the height on the staff, whatever the accidental.</summary>
    public int Staff => (7 * Octave) + Tone.Step;

    /// <summary>The pitches of a tone from one MIDI count up to another, both included, from the lowest up.</summary>
    internal static IEnumerable<Pitch> Between(Tone tone, int lowest, int highest)
    {
        for (var octave = -1; octave <= 10; octave++)
        {
            var pitch = new Pitch(tone, octave);
            if (pitch.Midi >= lowest && pitch.Midi <= highest) yield return pitch;
        }
    }

    /// <summary>By sound, then by height on the staff.</summary>
    public int CompareTo(Pitch other) => (Midi, Staff).CompareTo((other.Midi, other.Staff));

    /// <summary>Whether one pitch is lower than another.</summary>
    public static bool operator <(Pitch left, Pitch right) => left.CompareTo(right) < 0;

    /// <summary>Whether one pitch is at most as high as another.</summary>
    public static bool operator <=(Pitch left, Pitch right) => left.CompareTo(right) <= 0;

    /// <summary>Whether one pitch is higher than another.</summary>
    public static bool operator >(Pitch left, Pitch right) => left.CompareTo(right) > 0;

    /// <summary>Whether one pitch is at least as high as another.</summary>
    public static bool operator >=(Pitch left, Pitch right) => left.CompareTo(right) >= 0;

    /// <summary>Scientific pitch notation: <c>C4</c>, <c>Bb3</c>.</summary>
    public override string ToString() => Tone.ToString() + Octave.ToString(System.Globalization.CultureInfo.InvariantCulture);

    private static ReadOnlySpan<int> NaturalSemitones => [0, 2, 4, 5, 7, 9, 11];
}
