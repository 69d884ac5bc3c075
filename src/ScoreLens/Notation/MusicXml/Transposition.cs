using ScoreLens.Theory;

namespace ScoreLens.Notation.MusicXml;

/// <summary>What is added to a written pitch to reach the sounding one.</summary>
/// <param name="Diatonic">Letters up (down where negative), octaves included.</param>
/// <param name="Chromatic">Semitones up, octaves included.</param>
internal readonly record struct Transposition(int Diatonic, int Chromatic)
{
    /// <summary>Fifths that turn the spelling to the score's side of the circle: 12, -12 or 0. They change no sound.</summary>
    public int Respelling { get; init; }

    /// <summary>The octave in which the music is doubled: 1 above, -1 below, 0 not at all.</summary>
    public int DoubledOctave { get; init; }

    /// <summary>Fifths from a written to a sounding tone.</summary>
    public int Fifths => (7 * Chromatic) - (12 * Diatonic) + Respelling;

    /// <summary>
    /// The interval of that many semitones whose spelling lies nearest on the line of fifths (six are an augmented fourth).
    /// </summary>
    public static Transposition Nearest(int semitones)
    {
        var octaves = (int)Math.Floor(semitones / 12.0);
        var letters = ((ReadOnlySpan<int>)[0, 1, 1, 2, 2, 3, 3, 4, 5, 5, 6, 6])[semitones - (12 * octaves)];
        return new Transposition(letters + (7 * octaves), semitones);
    }

    /// <summary>The tone that sounds for a written one, spelled within three accidentals.</summary>
    public Tone Apply(Tone written)
    {
        var fifths = written.Fifths + Fifths;
        while (fifths > Tone.MaxFifths) fifths -= 12;
        while (fifths < Tone.MinFifths) fifths += 12;
        return new Tone(fifths);
    }

    /// <summary>The pitch that sounds for a written one, or null where it is too low or too high to be a pitch.</summary>
    public Pitch? Apply(Pitch written)
    {
        if (Chromatic == 0 && Fifths == 0) return written;
        var tone = Apply(written.Tone);
        // The octave is that of the letter: B sharp sounds in the octave above the one that it is written in.
        var octave = (int)Math.Floor((written.Midi + Chromatic - NaturalSemitones(tone) - tone.Alteration) / 12.0) - 1;
        return octave is >= -1 and <= 10 ? new Pitch(tone, octave) : null;
    }

    private static int NaturalSemitones(Tone tone) => ((ReadOnlySpan<int>)[0, 2, 4, 5, 7, 9, 11])[tone.Step];
}
