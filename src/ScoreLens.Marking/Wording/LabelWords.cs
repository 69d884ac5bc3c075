using ScoreLens.Marking.Facts;
using ScoreLens.Marking.Labels;
using ScoreLens.Theory;

namespace ScoreLens.Marking.Wording;

/// <summary>Sentences about labels; with hidden answers they say what to look at, not what was expected.</summary>
internal static class LabelWords
{
    private static readonly (LabelParts Part, string Name)[] PartNames =
        [(LabelParts.Key, "key"), (LabelParts.Degree, "degree"), (LabelParts.Quality, "quality"), (LabelParts.Inversion, "inversion")];

    public static string Text(RemarkKind kind, LabelFacts facts) => kind switch
    {
        RemarkKind.LabelUnreadable when facts.Notation == LabelNotations.ChordSymbols =>
            $"You wrote “{facts.Written}”, a chord symbol; this exercise asks for another form of labels.",
        RemarkKind.LabelUnreadable when facts.Notation == LabelNotations.Functions =>
            $"You wrote “{facts.Written}”, a function letter; this exercise asks for another form of labels.",
        RemarkKind.LabelUnreadable => $"You wrote “{facts.Written}”, which cannot be read as a Roman numeral.",
        RemarkKind.KeyMissing when facts.IsHidden => "No key is written.",
        RemarkKind.KeyMissing => $"No key is written; the music begins in {facts.Expected!.Key}.",
        RemarkKind.LabelMissing => facts.IsHidden ? "A label is missing here." : $"A label is missing here: {facts.Expected!.Display()}.",
        RemarkKind.LabelExtra when facts.Expected is null => $"“{facts.Written}” stands where no chord sounds.",
        RemarkKind.LabelExtra =>
            $"“{facts.Written}” stands where {(facts.IsHidden ? "the chord before" : facts.Expected!.Display())} still holds.",
        RemarkKind.AcceptedEquivalent => $"“{facts.Written}” is right. {Reason(facts)}".TrimEnd(),
        RemarkKind.AcceptedPivot when facts.IsHidden => $"“{facts.Written}” is right: the chord belongs to two keys.",
        RemarkKind.AcceptedPivot =>
            $"“{facts.Written}” is right: the chord belongs to {facts.Meaning!.Key} and to {facts.Expected!.Key}, "
            + $"where it is {facts.Expected.Numeral.ToDisplayString()}.",
        RemarkKind.AcceptedRunnerUp =>
            $"“{facts.Written}” is accepted: {Expectation(facts)} was expected, and yours is nearly as probable "
            + $"({Amounts.Percent(facts.Probability)} against {Amounts.Percent(facts.ExpectedProbability)}).",
        RemarkKind.AcceptedFitting => $"“{facts.Written}” is accepted: it fits every note here, though {Expectation(facts)} was expected.",
        _ when facts.IsHidden => $"You wrote “{facts.Written}”: the {PartName(kind)} is wrong.{Praise(facts.Right)}",
        _ => $"You wrote “{facts.Written}”; expected {Expected(facts)}.{Praise(facts.Right)}",
    };

    public static string Advice(RemarkKind kind, LabelFacts facts) => kind switch
    {
        RemarkKind.LabelUnreadable => "Write the degree in Roman numerals with its figures, such as V65/V, viio7 or ii6.",
        RemarkKind.KeyMissing when facts.IsHidden => "Write the key with a colon before the first numeral, such as “G:” or “e:”.",
        RemarkKind.KeyMissing => $"Write “{KeySign(facts.Expected!.Key)}” before the first numeral.",
        RemarkKind.LabelMissing =>
            $"Look at the bass and the notes above it{(facts.IsHidden ? "" : $" ({Tones(facts.Expected!)})")} whenever the chord changes, "
            + "and write a numeral there.",
        RemarkKind.LabelExtra => "Leave out passing and neighbour notes first: the notes that remain show whether the chord has changed.",
        _ when kind.IsAcceptance() => "",
        RemarkKind.WrongDegree when facts.IsHidden =>
            "Put the notes that belong to the chord in thirds: the lowest one is the root, and its place in the scale the degree.",
        RemarkKind.WrongKey when facts.IsHidden => "Look for the leading tone and the cadence: in which key is the music here?",
        RemarkKind.WrongQuality when facts.IsHidden => "Is the third major or minor, the fifth perfect, and does a seventh sound?",
        RemarkKind.WrongInversion when facts.IsHidden => "Which note of the chord is in the bass? The figures count from there.",
        RemarkKind.WrongDegree => DegreeAdvice(facts.Expected!, facts.Sounding),
        RemarkKind.WrongKey =>
            $"The music is in {facts.Expected!.Key} here: write “{KeySign(facts.Expected.Key)}” under the chord where that key begins.",
        RemarkKind.WrongQuality => QualityAdvice(facts.Meaning!, facts.Expected!, facts.Sounding),
        _ => InversionAdvice(facts.Expected!, facts.Sounding),
    };

    private static string Reason(LabelFacts facts) => (facts.Equivalence, facts.Meaning, facts.Expected) switch
    {
        (Equivalence.RespelledKey, { } a, { } b) => $"{a.Key} and {b.Key} are the same key, spelled differently.",
        (Equivalence.SameChordInOtherKey, { } a, { } b) => $"{a} is the same chord as {b}.",
        (Equivalence.ExpectedSaysTarget, { } a, { } b) =>
            $"{a.Numeral} and {b.Numeral} are the same chord; {b.Numeral} also says where it leads.",
        (Equivalence.OtherWriting, { } a, { } b) => $"{a.Numeral} and {b.Numeral} are two ways to write the same chord.",
        (Equivalence.SeventhInPart, _, _) => "The seventh sounds during a part of the chord only.",
        (Equivalence.MovingBass, _, _) => "The bass moves while the chord lasts.",
        (Equivalence.Delayed, _, _) => "What sounds here and does not belong to it moves by step into it.",
        (Equivalence.AccountsAsWell, _, { } b) =>
            $"It accounts for the notes here as well as {(facts.IsHidden ? "another reading" : b.Numeral.ToDisplayString())} does.",
        (Equivalence.SixFourAndDominant, _, { } b) => $"The six-four and {b.Numeral} together are the dominant.",
        _ => "",
    };

    private static string Expectation(LabelFacts facts) => facts.IsHidden ? "another one" : facts.Expected!.Display();

    private static string Expected(LabelFacts facts) =>
        facts.Right.HasFlag(LabelParts.Key) ? facts.Expected!.Numeral.ToDisplayString() : facts.Expected!.Display();

    private static string PartName(RemarkKind kind) => kind switch
    {
        RemarkKind.WrongKey => "key",
        RemarkKind.WrongDegree => "degree",
        RemarkKind.WrongQuality => "quality",
        _ => "inversion",
    };

    private static string Praise(LabelParts right)
    {
        // Without the degree an inversion is right by its bass note alone.
        var names = PartNames.Where(p => right.HasFlag(p.Part))
            .Select(p => p.Part == LabelParts.Inversion && !right.HasFlag(LabelParts.Degree) ? "bass note" : p.Name).ToArray();
        return names.Length == 0 ? "" : $" The {Amounts.List(names)} {(names.Length == 1 ? "is" : "are")} right.";
    }

    // What is said to sound does; a chord whose tones do not all sound is named by its tones without that claim.
    private static string DegreeAdvice(LabelMeaning expected, SoundingTones sounding)
    {
        var tones = expected.Numeral.Tones(expected.Key);
        var missing = tones.Where(t => !sounding.Has(t)).ToList();
        var what = missing.Count == 0
            ? $"The chord is made of {Tones(expected)}"
            : $"{expected.Numeral.ToDisplayString()} is {Tones(expected)}, of which {Amounts.List(missing.Select(Notes.Tone))} "
                + $"{(missing.Count == 1 ? "does" : "do")} not sound here";
        var bass = sounding.HasBass(expected.Numeral.Bass(expected.Key)) ? $", with {expected.BassName()} in the bass" : "";
        return $"{what}: {RootSentence(expected)}{bass}.";
    }

    private static string InversionAdvice(LabelMeaning expected, SoundingTones sounding)
    {
        var says = sounding.HasBass(expected.Numeral.Bass(expected.Key)) ? "The bass is" : "The bass of the chord is meant to be";
        return $"{says} {expected.BassName()}, the chord's {Member(expected)}: {FigureSentence(expected)}.";
    }

    private static string RootSentence(LabelMeaning expected)
    {
        var (numeral, key) = (expected.Numeral, expected.Key);
        if (numeral.Quality.IsAugmentedSixth())
        {
            var tones = numeral.Tones(key);
            return $"{Notes.Tone(tones[0])} and {Notes.Tone(tones[^1])} make an augmented sixth, which opens outward to the octave";
        }

        return numeral.IsApplied
            ? $"it leads to {numeral.Target}, so read it in the key of {Notes.Tone(numeral.Target!.In(key).Tonic)}"
            : $"in thirds it stands on {Notes.Tone(numeral.Root(key))}, degree {numeral.Degree} of {key}";
    }

    private static string QualityAdvice(LabelMeaning written, LabelMeaning expected, SoundingTones sounding)
    {
        var (a, b) = (written.Numeral.Quality, expected.Numeral.Quality);
        var numeral = expected.Numeral.ToDisplayString();
        if (a.IsAugmentedSixth() || b.IsAugmentedSixth()) return $"The notes are spelled {Tones(expected)}: the spelling makes it "
            + $"{numeral}.";
        if (!a.IsSeventh() && b.IsSeventh() && sounding.Has(expected.Numeral.Tones(expected.Key)[3]))
            return $"A seventh sounds ({Notes.Tone(expected.Numeral.Tones(expected.Key)[3])}): the figures have to show it, {numeral}.";
        if (a.IsSeventh() && !b.IsSeventh()) return $"No seventh belongs to this chord ({Tones(expected)}): write {numeral}.";
        if (a.HasMajorThird() == b.HasMajorThird()
            || !sounding.Has(expected.Numeral.Tones(expected.Key)[1])) return $"The chord is {Name(b)} ({Tones(expected)}): write "
                + $"{numeral}.";
        var third = Notes.Tone(expected.Numeral.Tones(expected.Key)[1]);
        return b.HasMajorThird()
            ? $"The third, {third}, is major: write the numeral in capitals, {numeral}."
            : $"The third, {third}, is minor: write the numeral in small letters, {numeral}.";
    }

    private static string FigureSentence(LabelMeaning expected) =>
        expected.Numeral.Inversion == 0 ? $"that is root position, {expected.Numeral.ToDisplayString()}"
            : $"write {expected.Numeral.ToDisplayString()}";

    private static string Member(LabelMeaning expected) => expected.Numeral.Quality.IsAugmentedSixth()
        ? "bass" : ((string[])["root", "third", "fifth", "seventh"])[expected.Numeral.Inversion];

    private static string Tones(LabelMeaning expected) => string.Join(' ', expected.Numeral.Tones(expected.Key).Select(Notes.Tone));

    private static string KeySign(Key key) =>
        (key.IsMinor ? char.ToLowerInvariant(key.Tonic.Letter) : key.Tonic.Letter) + key.Tonic.ToDisplayString()[1..] + ":";

    private static string Name(ChordQuality quality) => quality switch
    {
        ChordQuality.Major => "a major triad",
        ChordQuality.Minor => "a minor triad",
        ChordQuality.Diminished => "a diminished triad",
        ChordQuality.Augmented => "an augmented triad",
        ChordQuality.MajorSeventh => "a major seventh chord",
        ChordQuality.DominantSeventh => "a major triad with a minor seventh",
        ChordQuality.MinorSeventh => "a minor seventh chord",
        ChordQuality.HalfDiminishedSeventh => "a half-diminished seventh chord",
        ChordQuality.DiminishedSeventh => "a diminished seventh chord",
        ChordQuality.AugmentedSeventh => "an augmented triad with a minor seventh",
        ChordQuality.AugmentedMajorSeventh => "an augmented triad with a major seventh",
        ChordQuality.MinorMajorSeventh => "a minor triad with a major seventh",
        _ => "an augmented sixth",
    };
}
