using ScoreLens.Theory;

namespace ScoreLens.Training.Progressions;

/// <summary>
/// Progressions of the kind that handbooks of harmony teach, in numerals of our own writing; no piece is quoted. The
/// sources, from memory and without page numbers:
/// AS: Aldwell and Schachter, Harmony and Voice Leading. KP: Kostka and Payne, Tonal Harmony. La: Laitz, The Complete
/// Musician. Pi: Piston, Harmony. Ga: Gauldin, Harmonic Practice in Tonal Music. Le: Levine, The Jazz Theory Book.
/// </summary>
public static class Handbook
{
    private const string As = "Aldwell and Schachter", Kp = "Kostka and Payne", La = "Laitz", Pi = "Piston", Ga = "Gauldin", Le = "Levine";

    /// <summary>Every progression.</summary>
    public static IReadOnlyList<HandbookProgression> All { get; } =
    [
        .. DiatonicMajor(), .. DiatonicMinor(), .. AppliedMajor(), .. AppliedMinor(), .. AugmentedSixths(), .. Neapolitans(),
        .. Mixture(), .. TritoneSubstitutes(), .. CommonTone(), .. Mediants(), .. Altered(), .. Other(),
    ];

    private static HandbookProgression Major(string name, string source, string chords) => new(name, source, Mode.Major, chords);

    private static HandbookProgression Minor(string name, string source, string chords) => new(name, source, Mode.Minor, chords);

    private static IEnumerable<HandbookProgression> DiatonicMajor() =>
    [
        Major("primary triads", Kp, "I IV V I"),
        Major("primary triads with V7", As, "I IV I6 ii6 V7 I"),
        Major("circle of fifths", Kp, "I IV viio6 iii vi ii V I"),
        Major("circle of fifths in sevenths", Pi, "Imaj7 IVmaj7 viiø7 iii7 vi7 ii7 V7 I"),
        Major("two five one in sevenths", Le, "Imaj7 vi7 ii7 V7 Imaj7"),
        Major("cadential six-four", As, "I vi ii65 Cad64 V7 I"),
        Major("passing and neighbouring six-fours", As, "I IV64 I V64 I6 ii6 V I"),
        Major("inversions of V7", As, "I V65 I V43 I6 V42 I6 IV V7 I"),
        Major("deceptive cadence", Kp, "I ii6 V7 vi IV V7 I"),
        Major("plagal close", Kp, "I V6 vi iii IV I IV I"),
        Major("iii and vi", La, "I iii IV V vi ii6 V I"),
        Major("tonic pedal", Pi, "I IV64 V7@1 I IV64 V7@1 I"),
        Major("leading-tone seventh", Ga, "I viiø7 I IV6 viiø65 I6 ii6 V I"),
    ];

    private static IEnumerable<HandbookProgression> DiatonicMinor() =>
    [
        Minor("primary triads", Kp, "i iv V i"),
        Minor("primary triads with V7", As, "i iio6 V7 i iv6 V i"),
        Minor("circle of fifths", Kp, "i iv VII III VI iio6 V i"),
        Minor("circle of fifths in sevenths", Pi, "i7 iv7 VII7 IIImaj7 VImaj7 iiø7 V7 i"),
        Minor("descending bass", La, "i v6 iv6 V i"),
        Minor("rising melodic minor", As, "i V6 i IV6 V6 i iiø65 V7 i"),
        Minor("rising melodic minor with ii", As, "i VI iv ii V6 i V i"),
        Minor("leading-tone seventh", Kp, "i viio7 i viio65 i6 iiø65 V i"),
        Minor("cadential six-four", As, "i VI iiø65 Cad64 V7 i"),
        Minor("deceptive cadence", Kp, "i iv V7 VI iio6 V7 i"),
        Minor("natural seventh degree", Ga, "i VII VI VII i v VI V i"),
        Minor("augmented mediant", Pi, "i iv6 III+6 i iio6 V i"),
    ];

    private static IEnumerable<HandbookProgression> AppliedMajor() =>
    [
        Major("V7 of V", Kp, "I IV V7/V!sd V I"),
        Major("V65 of V", Kp, "I vi V65/V!sd V V7 I"),
        Major("V42 of V", As, "I vi V42/V!sd V6 I V I"),
        Major("V of V", Kp, "I V/V!sd V I"),
        Major("V7 of V through the six-four", As, "I IV V65/V!sd Cad64 V7 I"),
        Major("V7 of ii", Kp, "I V7/ii!sd ii V7 I"),
        Major("V65 of ii", Kp, "I V65/ii!sd ii6 V7 I"),
        Major("V7 of vi", Kp, "I V7/vi!sd vi ii6 V7 I"),
        Major("V43 of vi", Kp, "I V43/vi!sd vi IV V I"),
        Major("V7 of IV", Kp, "I V7/IV!sd IV V7 I"),
        Major("V42 of IV", As, "I V42/IV!sd IV6 ii6 V7 I"),
        Major("V7 of iii", Kp, "I V7/iii!sd iii vi ii6 V I"),
        Major("chain of applied dominants", As, "I V7/vi!sd V7/ii!sd V7/V!sd V7 I"),
        Major("chain of applied dominants in inversions", As, "I V65/ii!sd V42/V!sd V65 I IV V7 I"),
        Major("chain from the mediant", Pi, "I iii V7/ii!sd V7/V!sd V7 I"),
        Major("deceptive V7 of vi", Kp, "I V7/vi!sd IV ii6 V7 I"),
        Major("applied ninth", Le, "I vi7 V9/V!sd ii7 V7 I"),
        Major("viio7 of V", Kp, "I IV viio7/V!sl V7 I"),
        Major("viio7 of V through the six-four", As, "I ii6 viio7/V!sl Cad64 V7 I"),
        Major("viio65 of V", Kp, "I vi viio65/V!sl V6 I V I"),
        Major("viio7 of ii", Kp, "I viio7/ii!sl ii V7 I"),
        Major("viio7 of vi", Kp, "I V viio7/vi!sl vi ii6 V I"),
        Major("viiø7 of V", Ga, "I vi viiø7/V!sl V V7 I"),
        Major("viio6 of ii", Ga, "I viio6/ii!sl ii6 V I"),
        Major("viio7 of iii", Pi, "I viio7/iii!sl iii IV V I"),
        Major("rising bass with applied leading tones", La, "I viio7/ii!sl ii viio7/iii!sl iii IV viio7/V!sl V I"),
        Major("delayed by ii6", Ga, "I V7/V!sd ii6 V7 I"),
        Major("tonicised supertonic with its own predominant", La, "I iiø7/ii!oc V7/ii!sd ii V7 I"),
    ];

    private static IEnumerable<HandbookProgression> AppliedMinor() =>
    [
        Minor("V7 of V", Kp, "i iv V7/V!sd V7 i"),
        Minor("V65 of V", As, "i VI V65/V!sd V i"),
        Minor("V7 of iv", Kp, "i V7/iv!sd iv V7 i"),
        Minor("V65 of iv", Kp, "i V65/iv!sd iv V i"),
        Minor("V7 of VI", Kp, "i V7/VI!sd VI iio6 V7 i"),
        Minor("V42 of VI", Pi, "i V42/VI!sd VI6 iv V7 i"),
        Minor("V of iv", Kp, "i V/iv!sd iv6 V i"),
        Minor("viio7 of V", Kp, "i iv6 viio7/V!sl V i"),
        Minor("viio7 of V through the six-four", As, "i VI viio7/V!sl Cad64 V7 i"),
        Minor("viio7 of iv", Kp, "i viio7/iv!sl iv V7 i"),
        Minor("viio65 of iv", Ga, "i viio65/iv!sl iv6 V i"),
        Minor("chain", As, "i V7/iv!sd iv V7/V!sd V7 i"),
        Minor("deceptive V7 of V", Kp, "i V7/V!sd III iv V i"),
    ];

    private static IEnumerable<HandbookProgression> AugmentedSixths() =>
    [
        Major("Italian sixth", Kp, "I IV6 It6!a6 V I"),
        Major("French sixth", Kp, "I vi Fr43!a6 V I"),
        Major("German sixth through the six-four", Kp, "I IV Ger65!a6 Cad64 V7 I"),
        Major("German sixth to V", As, "I ii6 Ger65!a6 V I"),
        Major("Italian sixth through the six-four", As, "I vi It6!a6 Cad64 V I"),
        Minor("Italian sixth", Kp, "i iv6 It6!a6 V i"),
        Minor("French sixth", Kp, "i VI Fr43!a6 V i"),
        Minor("German sixth through the six-four", Kp, "i iv6 Ger65!a6 Cad64 V7 i"),
        Minor("German sixth to V", As, "i VI Ger65!a6 V i"),
        Minor("German sixth after the tonic", La, "i Ger65!a6 Cad64 V i iv V i"),
        Minor("Italian sixth to V7", Ga, "i iio6 It6!a6 V7 i"),
        Minor("German sixth with the raised fourth in the bass", As, "i iv Ger42!a6 V6 i V i"),
        Major("augmented sixth of iv", Pi, "I Ger65/vi!a6 V/vi!sd vi ii6 V I"),
        Minor("augmented sixth of iv", Pi, "i It6/iv!a6 V/iv!sd iv V i"),
    ];

    private static IEnumerable<HandbookProgression> Neapolitans() =>
    [
        Minor("Neapolitan sixth", Kp, "i iv N6!N V i"),
        Minor("Neapolitan sixth to V42", As, "i VI N6!N V42 i6 V i"),
        Minor("Neapolitan sixth through the six-four", As, "i iv N6!N Cad64 V7 i"),
        Minor("Neapolitan sixth through viio7 of V", As, "i VI N6!N viio7/V!sl V i"),
        Minor("Neapolitan in root position", La, "i VI bII!N V7 i"),
        Major("Neapolitan sixth", Kp, "I vi N6!N V7 I"),
        Major("Neapolitan sixth through the six-four", Ga, "I IV N6!N Cad64 V7 I"),
        Minor("Neapolitan tonicised", As, "i V7/bII!sd bII6!N V7 i"),
    ];

    private static IEnumerable<HandbookProgression> Mixture() =>
    [
        Major("minor subdominant", Kp, "I IV iv!mx I"),
        Major("minor subdominant before V", Kp, "I vi iv6!mx V7 I"),
        Major("diminished supertonic", Kp, "I iio6!mx V7 I"),
        Major("half-diminished supertonic", Kp, "I iiø65!mx V7 I"),
        Major("half-diminished supertonic through the six-four", As, "I vi iiø65!mx Cad64 V7 I"),
        Major("flat submediant", Kp, "I bVI!mx iv!mx V I"),
        Major("deceptive flat submediant", As, "I ii6 V7 bVI!mx ii6 V7 I"),
        Major("flat mediant", Kp, "I bIII!mx IV V I"),
        Major("flat submediant and subtonic", La, "I bVI!mx bVII!mx I"),
        Major("subtonic", Ga, "I bVII!mx IV I"),
        Major("back-door dominant", Le, "Imaj7 iv7!mx bVII7!mx Imaj7"),
        Major("minor tonic", As, "I i!mx iv6!mx V I"),
        Major("minor dominant", Ga, "I v6!mx IV6 V I"),
        Major("diminished leading-tone seventh", Kp, "I viio7!mx I ii6 V I"),
        Major("leading-tone seventh in inversion", Kp, "I IV viio43!mx I6 V7 I"),
        Major("minor plagal close", Pi, "I V7 I iv!mx I"),
        Minor("Picardy third", Kp, "i iv V7 I!mx*2"),
        Minor("Picardy third after the six-four", As, "i VI iio6 Cad64 V7 I!mx*2"),
        Minor("plagal Picardy third", As, "i VI iv V i iv I!mx*2"),
    ];

    private static IEnumerable<HandbookProgression> TritoneSubstitutes() =>
    [
        Major("substitute of V", Le, "ii7 bII7!ts Imaj7*2"),
        Major("substitute of V after vi", Le, "Imaj7 vi7 ii7 bII7!ts Imaj7"),
        Major("substitute of V after IV", Le, "I IV bII7!ts I"),
        Major("V and its substitute", Le, "Imaj7 ii7 V7 bII7!ts Imaj7"),
        Major("substitute of V of ii", Le, "Imaj7 bIII7!ts ii7 V7 Imaj7"),
        Major("substitute of V of V", Le, "Imaj7 ii7 bVI7!ts V7 Imaj7"),
        Major("chain of dominants with their substitutes", Le, "Imaj7 V7/V!sd bVI7!ts V7 bII7!ts Imaj7"),
        Major("longer chain", Le, "V7/V!sd bVI7!ts V7 bII7!ts V7/IV!sd bV7!ts IVmaj7 V7 Imaj7"),
        Major("descending semitones", Le, "Imaj7 bIII7!ts ii7 bII7!ts Imaj7"),
        Major("substitutes throughout", Le, "iii7 bIII7!ts ii7 bII7!ts Imaj7*2"),
        Minor("substitute of V", Le, "i iiø7 bII7!ts i"),
        Minor("substitute of V after iv", Le, "i7 iv7 bII7!ts i"),
    ];

    private static IEnumerable<HandbookProgression> CommonTone() =>
    [
        Major("of the tonic", Kp, "I CTo7!ct I V7 I"),
        Major("of the tonic, second inversion", Kp, "I CTo42!ct I IV V7 I"),
        Major("of the tonic to its first inversion", As, "I CTo65!ct I6 ii6 V7 I"),
        Major("of the dominant", Kp, "I V CTo7/V!ct V7 I"),
        Major("of the dominant, third in the bass", La, "I IV V CTo65/V!ct V I"),
    ];

    private static IEnumerable<HandbookProgression> Mediants() =>
    [
        Major("major mediant and back", Kp, "I III!cm I IV V I"),
        Major("major submediant and back", Kp, "I VI!cm I V I"),
        Major("major submediant to IV", La, "I VI!cm IV V I"),
        Minor("minor submediants", La, "i bvi!cm i iv V i"),
        Minor("flat mediant minor", La, "i biii!cm i V i"),
        Major("flat mediant minor", Kp, "I biii!dm I IV V I"),
        Major("flat submediant minor", Kp, "I bvi!dm I V7 I"),
        Minor("raised mediant major", La, "i #III!dm i iv V i"),
        Minor("raised submediant major", La, "i #VI!dm i V i"),
    ];

    private static IEnumerable<HandbookProgression> Altered() =>
    [
        Major("augmented dominant", Kp, "I IV V+!ad I"),
        Major("augmented dominant seventh", Kp, "I ii6 V+7!ad I"),
        Major("dominant seventh with lowered fifth", Pi, "I IV V7(b5)!ad I"),
        Major("augmented dominant seventh after ii7", Le, "Imaj7 ii7 V+7!ad Imaj7"),
        Major("dominant moving to its raised fifth", Ga, "I IV V V+!ad I"),
        Minor("dominant seventh with lowered fifth", Pi, "i iv V7(b5)!ad i"),
        Minor("augmented dominant seventh", Le, "i iiø7 V+7!ad i"),
    ];

    private static IEnumerable<HandbookProgression> Other() =>
    [
        Major("planing minor triads", Pi, "I ii #i!oc ii V I"),
        Major("minor chord on the raised fourth", Pi, "I IV #iv!oc V I"),
    ];
}
