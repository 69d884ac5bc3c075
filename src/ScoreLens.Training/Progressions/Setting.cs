using ScoreLens.Notation;
using ScoreLens.Theory;

namespace ScoreLens.Training.Progressions;

/// <summary>How the voices of a progression are laid out.</summary>
public enum Texture
{
    /// <summary>Block chords on two staves.</summary>
    Block,

    /// <summary>Each voice a part of its own.</summary>
    Parts,

    /// <summary>Bass on the beat, the upper voices after it.</summary>
    AfterBeat,

    /// <summary>Broken upwards from the bass.</summary>
    BrokenUp,

    /// <summary>Broken up and down.</summary>
    BrokenUpDown,

    /// <summary>The lower voices broken low, high, middle, high under a held top voice.</summary>
    Alberti,

    /// <summary>Block chords; the top voice with passing, neighbouring, suspended and anticipated notes.</summary>
    Melodic,

    /// <summary>Every voice a part, every voice with non-chord notes now and then.</summary>
    MelodicParts,

    /// <summary>Broken lower voices under a melody with non-chord notes.</summary>
    MelodyOverBroken,
}

/// <summary>How a progression is written down.</summary>
/// <param name="Home">The key that it starts in.</param>
/// <param name="Voices">Number of voices, 3..6.</param>
/// <param name="Texture">The layout.</param>
/// <param name="Time">The metre.</param>
/// <param name="Unit">Quarter notes of one unit of the harmonic rhythm.</param>
/// <param name="WithSignature">Whether the key signature is written; else there is none and every accidental stands at its note.</param>
/// <param name="SimpleSpelling">Whether double accidentals are respelled as simple ones, as many people write them.</param>
/// <param name="Close">Whether the upper voices are stacked in close position, as at a keyboard, instead of led by the rules.</param>
public sealed record Setting(
    Key Home, int Voices, Texture Texture, TimeSignature Time, Fraction Unit, bool WithSignature = true, bool SimpleSpelling = false,
        bool Close = false)
{
    private static readonly int[] MajorTonics = [0, 1, 2, 3, 4, 5, 6, -1, -2, -3, -4, -5];
    private static readonly int[] MinorTonics = [3, 4, 5, 6, 7, 8, 9, 2, 1, 0, -1, -2];

    /// <summary>The twelve keys of a mode in which people write: six sharps to five flats.</summary>
    public static IEnumerable<Key> Keys(Mode mode) =>
        (mode == Mode.Major ? MajorTonics : MinorTonics).Select(t => new Key(new Tone(t), mode));

    /// <summary>A setting at random in one of the twelve keys.</summary>
    public static Setting Any(Mode mode, Random random)
    {
        ArgumentNullException.ThrowIfNull(random);
        var tonics = mode == Mode.Major ? MajorTonics : MinorTonics;
        return Any(new Key(new Tone(tonics[random.Next(12)]), mode), random);
    }

    /// <summary>A setting at random in a given key.</summary>
    public static Setting Any(Key home, Random random)
    {
        ArgumentNullException.ThrowIfNull(random);
        TimeSignature[] times = [new(4, 4), new(4, 4), new(4, 4), new(3, 4), new(3, 4), new(2, 4), new(6, 8), new(2, 2), new(12, 8)];
        var time = times[random.Next(times.Length)];
        var textures = Enum.GetValues<Texture>();
        var texture = textures[random.Next(textures.Length)];
        List<Fraction> units = [time.Length];
        if ((time.Length / time.PulseLength).Numerator % 2 == 0) units.Add(time.Length / 2);
        // A broken chord needs time for its notes.
        if (texture is Texture.Block or Texture.Parts or Texture.Melodic or Texture.MelodicParts) units.Add(time.PulseLength);
        var unit = units[random.Next(units.Count)];
        var voices = random.Next(8) switch { 0 => 3, 1 or 2 => 5, 3 => 6, _ => 4 };
        return new Setting(home, voices, texture, time, unit, random.Next(4) > 0, random.Next(3) == 0, random.Next(3) == 0);
    }
}
