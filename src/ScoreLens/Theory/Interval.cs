namespace ScoreLens.Theory;

/// <summary>A spelled interval from one pitch to another, upwards positive.</summary>
/// <param name="Steps">Letters between the pitches: 0 for a unison, 4 for a fifth.</param>
/// <param name="Semitones">Semitones between them.</param>
internal readonly record struct Interval(int Steps, int Semitones)
{
    public static Interval Between(Pitch from, Pitch to) => new(to.Staff - from.Staff, to.Midi - from.Midi);

    public int Direction => Math.Sign(Semitones);

    public Interval Size => Semitones < 0 || (Semitones == 0 && Steps < 0) ? new(-Steps, -Semitones) : this;

    public bool IsStep => Math.Abs(Steps) == 1 && Math.Abs(Semitones) <= 2;

    public bool IsLeap => Math.Abs(Steps) > 1;

    /// <summary>A perfect fifth, with or without octaves.</summary>
    public bool IsFifth => Mod(Steps, 7) == 4 && Mod(Semitones, 12) == 7;

    /// <summary>A diminished fifth, with or without octaves.</summary>
    public bool IsDiminishedFifth => Mod(Steps, 7) == 4 && Mod(Semitones, 12) == 6;

    /// <summary>A unison, an octave or octaves.</summary>
    public bool IsOctave => Mod(Steps, 7) == 0 && Mod(Semitones, 12) == 0;

    /// <summary>The interval in words, whatever its direction: <c>augmented second</c>.</summary>
    public override string ToString()
    {
        var size = Size;
        var number = size.Steps < 0 ? 0 : size.Steps;
        var octaves = number / 7;
        var within = number - (7 * octaves);
        var natural = (ReadOnlySpan<int>)[0, 2, 4, 5, 7, 9, 11];
        var excess = size.Semitones - (12 * octaves) - natural[within];
        var perfect = within is 0 or 3 or 4;
        var quality = (perfect, excess) switch
        {
            (true, 0) => number % 7 == 0 ? "" : "perfect ",
            (false, 0) => "major ",
            (false, -1) => "minor ",
            (_, > 0) => "augmented ",
            _ => "diminished ",
        };
        return quality + number switch
        {
            0 => "unison",
            1 => "second",
            2 => "third",
            3 => "fourth",
            4 => "fifth",
            5 => "sixth",
            6 => "seventh",
            7 => "octave",
            8 => "ninth",
            9 => "tenth",
            10 => "eleventh",
            11 => "twelfth",
            _ => $"interval of {number + 1} steps",
        };
    }

    private static int Mod(int value, int modulus) => ((value % modulus) + modulus) % modulus;
}
