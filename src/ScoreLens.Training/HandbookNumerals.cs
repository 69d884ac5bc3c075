using ScoreLens.Reading.Model;
using ScoreLens.Theory;

namespace ScoreLens.Training;

/// <summary>
/// Numerals that the model must know even where the corpus has too few: every device of docs/devices.md, in both modes and all
/// inversions, and the chords that they go to. Common practice, no source.
/// </summary>
internal static class HandbookNumerals
{
    private static readonly string[] Major =
    [
        "I", "ii", "iii", "IV", "V", "vi", "viio", "Imaj7", "ii7", "iii7", "IVmaj7", "V7", "vi7", "viiø7", "viio7",
        "i", "iio", "iiø7", "bIII", "iv", "iv7", "v", "bVI", "bVII", "bVII7", "bVImaj7", "bIIImaj7", "bII", "bIImaj7",
        "bII7", "bVI7", "V+", "V+7", "I7", "IV7", "II7", "III7", "VI7", "III", "VI", "II", "bV7", "bIII7", "biii", "bvi", "i7", "v7", "I+",
        "CTo7", "CTo7/V", "CTo7/IV", "It6", "Fr43", "Ger65",
    ];

    private static readonly string[] Minor =
    [
        "i", "iio", "III", "iv", "v", "V", "VI", "VII", "viio", "i7", "iiø7", "IIImaj7", "iv7", "v7", "V7", "VImaj7", "VII7", "viio7",
        "I", "IV", "IV7", "ii", "ii7", "bII", "bIImaj7", "bII7", "III+", "imaj7", "V+", "V+7", "VI7", "III7", "bV7", "vi", "iii",
        "bvi", "#iii",
        "#III", "#VI", "Imaj7", "CTo7", "CTo7/V", "CTo7/iv", "It6", "Fr43", "Ger65",
    ];

    private static readonly string[] MajorTargets = ["ii", "iii", "IV", "V", "vi", "bVI", "bIII", "bVII", "bII", "iv"];
    private static readonly string[] MinorTargets = ["III", "iv", "V", "VI", "VII", "v", "bII"];

    public static IEnumerable<NumeralClass> All() =>
        Of(Mode.Major, Major, MajorTargets).Concat(Of(Mode.Minor, Minor, MinorTargets)).Distinct();

    private static IEnumerable<NumeralClass> Of(Mode mode, string[] plain, string[] targets)
    {
        var applied = targets.SelectMany(t => (string[])[$"V/{t}", $"V7/{t}", $"viio/{t}", $"viio7/{t}", $"viiø7/{t}"])
            .Concat(targets.SelectMany(t => (string[])[$"bII7/{t}", $"It6/{t}", $"Ger65/{t}", $"Fr43/{t}"]));
        foreach (var text in plain.Concat(applied))
        {
            var root = NumeralClass.Of(Numeral.Parse(text), mode);
            for (var inversion = 0; inversion < root.Quality.Members().Length; inversion++)
            {
                if (root.Quality.IsAugmentedSixth() && inversion > 0 && root.Target is not null) break;
                yield return root with { Inversion = inversion };
            }
        }
    }
}
