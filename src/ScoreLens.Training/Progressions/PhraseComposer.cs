using ScoreLens.Theory;

namespace ScoreLens.Training.Progressions;

/// <summary>
/// Composes phrases at random from what handbooks say may follow what: an opening on the tonic, prolongations, a
/// predominant with or without colour, a cadence. Gives the devices in many surroundings, where <see cref="Handbook"/> gives
/// each in one; the progressions of the handbook itself are kept out, since the battery tries the reader on them.
/// </summary>
public static class PhraseComposer
{
    private static readonly string[] MajorProlong =
    [
        "V6 I", "V43 I6", "viio6 I6", "V42 I6", "V65 I", "V7 I", "IV64 I", "V64 I6", "vi", "iii", "vi I6", "V7 vi", "IV I6",
        "V7/IV!sd IV I",
        "V42/IV!sd IV6 I", "V7/vi!sd vi", "V65/vi!sd vi", "viio7/vi!sl vi", "V/vi!sd vi", "V7/iii!sd iii", "CTo7!ct I",
        "CTo65!ct I6", "viio7!mx I",
        "III!cm I", "VI!cm I", "bVI!mx I", "biii!dm I", "bvi!dm I", "bIII!mx I6", "i!mx", "V+!ad I", "V7@1 I", "iv64!mx I",
        "bVII!mx IV I", "V7/vi!sd IV",
        "V CTo7/V!ct V", "It6/vi!a6 V/vi!sd vi", "V7 bVI!mx", "bII7!ts I", "I+!oc vi", "viiø65 I6", "viiø7 I", "iii IV I6", "V/vi!sd IV",
        "bIII!mx I", "bVI!mx I", "III!cm I6", "VI!cm I6", "biii!dm I6", "bvi!dm I6", "bIII!mx bVI!mx I", "bVII7!mx I", "iv6!mx I",
        "iv!mx I", "bVI!mx bVII!mx I", "v!mx IV I",
        "V+7!ad I", "V7(b5)!ad I", "III!cm IV", "VI!cm IV", "bII7!ts I6",
    ];

    private static readonly string[] MajorPredominant =
    [
        "ii", "ii6", "ii65", "ii7", "IV", "IV6", "vi ii6", "vi IV", "iii vi ii", "IVmaj7 ii7", "V7/ii!sd ii", "V65/ii!sd ii",
        "V43/ii!sd ii6", "viio7/ii!sl ii",
        "V/ii!sd ii6", "V7/IV!sd IV", "V42/IV!sd IV6", "iv!mx", "iv6!mx", "iiø65!mx", "iiø7!mx", "iio6!mx", "bVI!mx",
        "bVI!mx iv6!mx", "bVI!mx ii6", "bIII!mx IV",
        "IV iv!mx", "V7/vi!sd vi ii6", "V7/vi!sd V7/ii!sd", "vi7 ii7", "bIII7!ts ii7", "iii7 bIII7!ts ii7",
        "iiø7/ii!oc V7/ii!sd ii", "#iv!oc IV",
        "I6 IV", "bVII!mx IV", "viio7/iii!sl iii IV", "V/vi!sd IV ii6",
    ];

    private static readonly string[] MajorColour =
    [
        "", "", "", "", "V7/V!sd", "V65/V!sd", "V/V!sd", "viio7/V!sl", "viiø7/V!sl", "viio65/V!sl", "Ger65!a6", "It6!a6",
        "Fr43!a6", "N6!N", "bII!N", "bVI7!ts", "V9/V!sd",
        "iiø65!mx", "N6!N viio7/V!sl", "V42/V!sd", "V43/V!sd",
    ];

    private static readonly string[] MajorCadence =
    [
        "V I", "V7 I", "V7 I", "Cad64 V7 I", "Cad64 V I", "V V7 I", "V7 vi IV V7 I", "V7 bVI!mx ii6 V7 I", "V+!ad I", "V+7!ad I",
        "V7(b5)!ad I", "viio7!mx I",
        "V7 I iv!mx I", "V7 IV6 V65 I", "V9 I", "V7 bII7!ts Imaj7", "V7 V7/IV!sd IV I", "V",
    ];

    private static readonly string[] JazzCadence =
    [
        "V7 Imaj7", "bII7!ts Imaj7", "iv7!mx bVII7!mx Imaj7", "V+7!ad Imaj7", "V7/V!sd bVI7!ts V7 bII7!ts Imaj7", "V7 bII7!ts I",
        "V9 Imaj7", "bVI7!ts V7 Imaj7", "ii7 bII7!ts I", "bVI7!ts V I", "ii7 bII7!ts Imaj7", "bVI7!ts V7 I",
    ];

    private static readonly string[] MinorProlong =
    [
        "V6 i", "V43 i6", "viio6 i6", "viio7 i", "V42 i6", "V65 i", "V7 i", "iv64 i", "V64 i6", "VI", "iv i6", "V7 VI",
        "viio65 i6", "viio43 i6", "v6 iv6 V i",
        "V7/iv!sd iv i", "V7/VI!sd VI", "V65/iv!sd iv i6", "viio7/iv!sl iv", "bvi!cm i", "biii!cm i", "#III!dm i", "#VI!dm i",
        "VII III", "VII i", "V7@1 i", "IV6 V6 i",
        "III+6 i", "i7", "VII VI VII i", "V7/III!sd III", "v VI",
        "bvi!cm i6", "biii!cm i6", "#III!dm i6", "#VI!dm i6", "V+7!ad i", "I!mx iv", "IV!mx i", "bII7!ts i6", "viio7/V!sl Cad64 V",
    ];

    private static readonly string[] MinorPredominant =
    [
        "iio6", "iiø65", "iiø7", "iv", "iv6", "iv7", "VI iio6", "VI iv", "VI", "iv VII III VI iiø7", "V7/iv!sd iv", "V65/iv!sd iv",
        "viio7/iv!sl iv", "V7/VI!sd VI", "V/iv!sd iv",
        "V42/iv!sd iv6", "III iv", "i6 iv", "VII III iv", "VImaj7 iiø7",
    ];

    private static readonly string[] MinorColour =
    [
        "", "", "", "", "V7/V!sd", "V65/V!sd", "viio7/V!sl", "viio65/V!sl", "Ger65!a6", "It6!a6", "Fr43!a6", "N6!N", "N6!N",
        "bII!N", "N6!N viio7/V!sl", "bVI7!ts", "Ger42!a6",
    ];

    private static readonly string[] MinorCadence =
    [
        "V i", "V7 i", "V7 i", "Cad64 V7 i", "Cad64 V i", "V7 VI iv V7 i", "V7 I!mx", "Cad64 V7 I!mx", "viio7 i", "V+7!ad i",
        "V7(b5)!ad i", "bII7!ts i", "V7 i iv I!mx", "V",
        "V9 i",
    ];

    private static readonly HashSet<string> HandbookChords = [.. Handbook.All.Select(p => p.Chords)];

    /// <summary>The degrees that music of a mode most often moves to (common practice).</summary>
    private static readonly string[] MajorMoves = ["V", "V", "vi", "IV", "ii", "iii"], MinorMoves = ["III", "III", "v", "iv", "VI", "VII"];

    /// <summary>One phrase of a mode.</summary>
    public static string Phrase(Mode mode, Random random)
    {
        ArgumentNullException.ThrowIfNull(random);
        var major = mode == Mode.Major;
        var parts = new List<string> { major ? random.Next(5) == 0 ? "I6" : "I" : "i" };
        for (var n = random.Next(3); n > 0; n--) parts.Add(Pick(major ? MajorProlong : MinorProlong, random));
        if (random.Next(8) > 0) parts.Add(Pick(major ? MajorPredominant : MinorPredominant, random));
        if (major && random.Next(6) == 0)
        {
            parts.Add(Pick(JazzCadence, random));
        }
        else
        {
            parts.Add(Pick(major ? MajorColour : MinorColour, random));
            parts.Add(Pick(major ? MajorCadence : MinorCadence, random));
        }

        return string.Join(' ', parts.Where(p => p.Length > 0));
    }

    /// <summary>A piece: one to four phrases at home or in near keys, closing at home.</summary>
    public static HandbookProgression Piece(Random random)
    {
        ArgumentNullException.ThrowIfNull(random);
        var mode = random.Next(5) < 3 ? Mode.Major : Mode.Minor;
        var parts = new List<string>();
        var phrases = random.Next(4) + 1;
        for (var i = 0; i < phrases; i++)
        {
            var away = i > 0 && i < phrases - 1 && random.Next(2) == 0;
            var move = away ? Pick(mode == Mode.Major ? MajorMoves : MinorMoves, random) : "I";
            var local = !away ? mode : char.IsUpper(move[0]) ? Mode.Major : Mode.Minor;
            parts.Add(">" + move);
            parts.Add(Unknown(() => random.Next(2) == 0 ? Phrase(local, random) : ColouredPhrase.Write(local, random)));
        }

        return new HandbookProgression("composed at random", "common practice", mode, string.Join(' ', parts));
    }

    /// <summary>
    /// A composed piece in a key, metre, texture and number of voices at random. The same random numbers give the same score.
    /// </summary>
    public static WrittenProgression Write(Random random)
    {
        ArgumentNullException.ThrowIfNull(random);
        var piece = Piece(random);
        return ProgressionWriter.Write(piece, Setting.Any(piece.Mode, random), random);
    }

    // A phrase that is no progression of the handbook.
    private static string Unknown(Func<string> compose)
    {
        string phrase;
        do phrase = compose();
        while (HandbookChords.Contains(phrase));
        return phrase;
    }

    private static string Pick(string[] from, Random random) => from[random.Next(from.Length)];
}
