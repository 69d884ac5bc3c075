using System.Globalization;
using ScoreLens.Devices;
using ScoreLens.Theory;

namespace ScoreLens.Training.Progressions;

/// <summary>
/// A progression as a handbook writes it: numerals in the plain form, each with the device that the handbook calls it.
/// </summary>
/// <param name="Name">What it shows, in a few words.</param>
/// <param name="Source">The handbook that teaches it.</param>
/// <param name="Mode">Mode of its key.</param>
/// <param name="Chords">
/// Chords separated by blanks, each <c>NUMERAL(ALT)!DEVICE@DEGREE*LENGTH</c>; all but the numeral may be missing.
/// <c>(b5)</c> lowers and <c>(#5)</c> raises the fifth; the device is one of the short codes of <see cref="DeviceCodes"/>; a degree after
/// <c>@</c> is a pedal in the bass; the length counts in units of the harmonic rhythm. A token <c>&gt;vi</c> moves to the key of
/// that degree, counted from the first key.
/// </param>
public sealed record HandbookProgression(string Name, string Source, Mode Mode, string Chords)
{
    /// <summary>The short codes of devices.</summary>
    public static IReadOnlyDictionary<string, Device> DeviceCodes { get; } = new Dictionary<string, Device>
    {
        ["a6"] = Device.AugmentedSixth,
        ["N"] = Device.Neapolitan,
        ["sd"] = Device.SecondaryDominant,
        ["sl"] = Device.SecondaryLeadingTone,
        ["ts"] = Device.TritoneSubstitute,
        ["mx"] = Device.ModalMixture,
        ["ct"] = Device.CommonToneDiminished,
        ["cm"] = Device.ChromaticMediant,
        ["dm"] = Device.DoubleChromaticMediant,
        ["ad"] = Device.AlteredDominant,
        ["oc"] = Device.OtherChromatic,
    };

    /// <summary>The chords in a key.</summary>
    /// <exception cref="FormatException">A token is not of the form above.</exception>
    public IReadOnlyList<ProgressionChord> In(Key home)
    {
        var key = home;
        var chords = new List<ProgressionChord>();
        foreach (var token in Chords.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            if (token[0] == '>')
            {
                key = token == ">I" ? home : Target(token[1..]).In(home);
                continue;
            }

            chords.Add(Parse(token, key));
        }

        return chords;
    }

    private static AppliedTarget Target(string text) =>
        Numeral.Parse("V/" + text).Target ?? throw new FormatException($"'{text}' is not a degree.");

    private static ProgressionChord Parse(string token, Key key)
    {
        var length = 1;
        if (token.IndexOf('*', StringComparison.Ordinal) is >= 0 and var star)
            (token, length) = (token[..star], int.Parse(token[(star + 1)..], CultureInfo.InvariantCulture));
        Tone? pedal = null;
        if (token.IndexOf('@', StringComparison.Ordinal) is >= 0 and var at)
            (token, pedal) = (token[..at], key.Degree(int.Parse(token[(at + 1)..], CultureInfo.InvariantCulture)));
        Device? device = null;
        if (token.IndexOf('!', StringComparison.Ordinal) is >= 0 and var mark)
            (token, device) = (token[..mark], DeviceCodes[token[(mark + 1)..]]);
        var fifth = 0;
        if (token.IndexOf('(', StringComparison.Ordinal) is >= 0 and var open)
        {
            fifth = token[open + 1] == 'b' ? -7 : 7;
            token = token.Remove(open, token.IndexOf(')', StringComparison.Ordinal) - open + 1);
        }

        // A cadential six-four takes the mode of its key, which the text alone does not say.
        var numeral = token == "Cad64" ? Numeral.CadentialSixFour(key.Mode) : Numeral.Parse(token);
        var chord = ProgressionChord.Of(key, numeral);
        if (fifth != 0) chord = chord with { Tones = [.. chord.Tones.Select((t, member) => member == 2 ? t + fifth : t)] };
        return chord with
        {
            Bass = pedal ?? chord.Tones[numeral.Inversion],
            IsOverPedal = pedal is not null,
            Device = device,
            Length = length
        };
    }
}

/// <summary>A chord of a progression in a key.</summary>
/// <param name="Key">The local key.</param>
/// <param name="Numeral">The numeral in it.</param>
/// <param name="Tones">What sounds, in the order of the numeral's members; an altered fifth is altered here alone.</param>
/// <param name="Bass">The tone in the bass.</param>
/// <param name="IsOverPedal">Whether the bass is a pedal.</param>
/// <param name="Device">The device that the handbook calls it, or null where it is diatonic.</param>
/// <param name="Length">Units of the harmonic rhythm.</param>
public sealed record ProgressionChord(
    Key Key, Numeral Numeral, IReadOnlyList<Tone> Tones, Tone Bass, bool IsOverPedal, Device? Device, int Length)
{
    /// <summary>A plain chord: its numeral's tones in the key, a unit long.</summary>
    public static ProgressionChord Of(Key key, Numeral numeral)
    {
        ArgumentNullException.ThrowIfNull(numeral);
        var tones = numeral.Tones(key).ToArray();
        // A common-tone diminished seventh is spelled by where its notes go: the raised second and fourth rise.
        if (numeral.Kind == NumeralKind.CommonToneDiminished) tones = [tones[0], tones[0] + 9, tones[0] + 6, tones[0] + 3];
        return new ProgressionChord(key, numeral, tones, tones[numeral.Inversion], false, null, 1);
    }
}
