using ScoreLens.Theory;

namespace ScoreLens.Training.Progressions;

/// <summary>
/// Phrases that show a chromatic chord in any inversion, in both modes, with what handbooks let follow it: the tonic, one or two coloured
/// chords with their goals, a cadence. Every device comes about as often as every other (common practice, no source).
/// </summary>
internal static class ColouredPhrase
{
    private static readonly string[] MajorOpenings =
    [
        "I", "I", "I", "I6", "I V6 I", "I IV I", "I vi", "I V", "I IV", "I iii", "I ii6 V", "I viio6 I6", "I IV64 I", "I V43 I6",
        "I V7 I", "Imaj7",
    ];

    private static readonly string[] MinorOpenings =
    [
        "i", "i", "i", "i6", "i V6 i", "i iv i", "i VI", "i V", "i iv", "i III", "i iio6 V", "i viio6 i6", "i iv64 i", "i V43 i6",
        "i V7 i", "i7",
    ];

    private static readonly string[] MajorCloses =
    [
        "V I", "V7 I", "ii6 V I", "ii65 V7 I", "IV V7 I", "Cad64 V7 I", "ii6 Cad64 V7 I", "vi ii6 V7 I", "V7 vi IV V I", "IV I",
        "V", "V7 Imaj7",
    ];

    private static readonly string[] MinorCloses =
    [
        "V i", "V7 i", "iio6 V i", "iiø65 V7 i", "iv V7 i", "Cad64 V7 i", "iv Cad64 V7 i", "VI iio6 V7 i", "V7 VI iv V i", "iv i",
        "V", "V7 I!mx",
    ];

    // Of each device: its chords in root position, and what they go to. A chord before a bar comes first.
    private static readonly (string Code, string[] Chords, string[] Goals)[] Major =
    [
        ("cm", ["III", "VI"], ["I", "I6", "IV", "ii6", "V", "IV6", "I IV", "vi"]),
        ("cm", ["III", "VI", "bIII", "bVI"], ["I", "I6", "I64 V"]),
        ("dm", ["biii", "bvi"], ["I", "I6", "IV", "V", "V7", "ii6", "I IV"]),
        ("mx", ["i", "iv", "iv7", "iio", "iiø7", "v"], ["I", "V", "V7", "I6", "Cad64 V7", "IV"]),
        ("mx", ["bIII", "bVI", "bVII", "bVII7", "bVImaj7", "bIIImaj7"], ["I", "V", "IV", "ii6", "iv!mx V", "I6", "V7", "bVII!mx I"]),
        ("mx", ["viio7"], ["I", "I6"]),
        ("N", ["bII", "bII", "bIImaj7"], ["V", "V7", "V65", "Cad64 V7", "viio7/V!sl V", "V42 I6"]),
        ("ts", ["bII7"], ["I", "Imaj7", "I6"]),
        ("ts", ["bIII7"], ["ii", "ii7", "ii6"]),
        ("ts", ["bVI7"], ["V", "V7"]),
        ("ts", ["bV7"], ["IV", "IVmaj7"]),
        ("ct", ["I|CTo7", "I6|CTo7", "I|CTo7"], ["I", "I6", "I64 V"]),
        ("ct", ["V|CTo7/V", "IV V|CTo7/V"], ["V", "V7", "V65", "V6"]),
        ("ct", ["IV|CTo7/IV"], ["IV", "IV6"]),
        ("a6", ["It6", "Fr43", "Ger65"], ["V", "V7", "Cad64 V7", "Cad64 V", "V6", "I64 V"]),
        ("a6", ["It6/vi", "Ger65/vi", "Fr43/vi"], ["V/vi!sd vi", "V7/vi!sd vi"]),
        ("a6", ["Ger65/ii", "It6/iii"], ["V7/ii!sd ii", "ii", "iii"]),
        ("sd", ["V/ii", "V7/ii"], ["ii", "ii6", "ii7", "V7/V!sd V"]),
        ("sd", ["V/iii", "V7/iii"], ["iii", "iii6", "vi"]),
        ("sd", ["V/IV", "V7/IV", "V7/IV"], ["IV", "IV6", "ii6"]),
        ("sd", ["V/V", "V7/V", "V7/V"], ["V", "V7", "V6", "Cad64 V7", "ii6 V"]),
        ("sd", ["V/vi", "V7/vi"], ["vi", "vi6", "IV", "V7/ii!sd ii"]),
        ("sl", ["viio/ii", "viio7/ii", "viiø7/ii"], ["ii", "ii6"]),
        ("sl", ["viio/iii", "viio7/iii"], ["iii", "iii6"]),
        ("sl", ["viiø7/IV", "viio7/IV", "viio/IV"], ["IV", "IV6"]),
        ("sl", ["viio/V", "viio7/V", "viiø7/V"], ["V", "V6", "V7", "Cad64 V7"]),
        ("sl", ["viio/vi", "viio7/vi"], ["vi", "vi6"]),
        ("ad", ["V+", "V+7", "V7(b5)", "V7|V+7"], ["I", "I6", "vi"]),
        ("oc", ["I+", "#iv"], ["IV", "vi", "V"]),
    ];

    private static readonly (string Code, string[] Chords, string[] Goals)[] Minor =
    [
        ("cm", ["bvi", "biii", "vi", "#iii"], ["i", "i6", "iv", "V", "V7", "i iv"]),
        ("dm", ["#III", "#VI"], ["i", "i6", "iv", "V", "iio6", "i iv"]),
        ("mx", ["I", "Imaj7"], ["iv", "i", "iv6", "IV!mx V"]),
        ("mx", ["IV", "IV7", "ii", "ii7"], ["i", "i6", "V64 i", "VII III"]),
        ("N", ["bII", "bII", "bIImaj7"], ["V", "V7", "V65", "Cad64 V7", "viio7/V!sl V", "V42 i6"]),
        ("ts", ["bII7"], ["i", "i7", "i6"]),
        ("ts", ["VI7"], ["V", "V7"]),
        ("ct", ["i|CTo7", "i6|CTo7"], ["i", "i6"]),
        ("ct", ["V|CTo7/V"], ["V", "V7", "V6"]),
        ("ct", ["iv|CTo7/iv"], ["iv", "iv6"]),
        ("a6", ["It6", "Fr43", "Ger65"], ["V", "V7", "Cad64 V7", "Cad64 V", "V6"]),
        ("a6", ["It6/iv", "Ger65/iv"], ["V/iv!sd iv", "V7/iv!sd iv"]),
        ("sd", ["V/III", "V7/III"], ["III", "III6", "VI"]),
        ("sd", ["V/iv", "V7/iv"], ["iv", "iv6", "iio6"]),
        ("sd", ["V/V", "V7/V"], ["V", "V7", "V6", "Cad64 V7", "iv V"]),
        ("sd", ["V/VI", "V7/VI"], ["VI", "VI6", "iv"]),
        ("sd", ["V/VII", "V7/VII"], ["VII", "VII6", "VII III"]),
        ("sl", ["viio/iv", "viio7/iv"], ["iv", "iv6"]),
        ("sl", ["viio/V", "viio7/V"], ["V", "V6", "V7", "Cad64 V7"]),
        ("sl", ["viio/III", "viiø7/III", "viio7/III"], ["III", "III6"]),
        ("sl", ["viiø7/VI", "viio7/VI"], ["VI", "VI6"]),
        ("ad", ["V+", "V+7", "V7(b5)"], ["i", "i6", "VI"]),
    ];

    /// <summary>One phrase of a mode, in the notation of <see cref="HandbookProgression"/>.</summary>
    public static string Write(Mode mode, Random random)
    {
        var major = mode == Mode.Major;
        var devices = major ? Major : Minor;
        var parts = new List<string> { Pick(major ? MajorOpenings : MinorOpenings, random) };
        for (var n = random.Next(3) == 0 ? 2 : 1; n > 0; n--)
        {
            var (code, chords, goals) = devices[random.Next(devices.Length)];
            var chord = Pick(chords, random);
            if (chord.IndexOf('|', StringComparison.Ordinal) is >= 0 and var bar)
            {
                parts.Add(chord[..bar]);
                chord = chord[(bar + 1)..];
            }

            parts.Add($"{Inverted(chord, random)}!{code}");
            parts.Add(Pick(goals, random));
        }

        parts.Add(Pick(major ? MajorCloses : MinorCloses, random));
        return string.Join(' ', parts);
    }

    // Root position half of the time; an altered fifth stays where it is told by its bass.
    private static string Inverted(string chord, Random random)
    {
        if (chord.Contains('(', StringComparison.Ordinal)) return chord;
        var numeral = Numeral.Parse(chord);
        var inversion = random.Next(2) == 0 ? 0 : random.Next(numeral.Quality.Members().Length);
        return (numeral.Kind switch
        {
            NumeralKind.CommonToneDiminished => Numeral.CommonToneDiminished(inversion, numeral.Target),
            NumeralKind.AugmentedSixth => Numeral.AugmentedSixth(numeral.Quality, inversion, numeral.Target),
            _ => new Numeral(numeral.Degree, numeral.Quality, inversion, numeral.Alteration, numeral.Target),
        }).ToString();
    }

    private static string Pick(string[] from, Random random) => from[random.Next(from.Length)];
}
