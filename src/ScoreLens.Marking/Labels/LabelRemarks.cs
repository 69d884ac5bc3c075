using ScoreLens.Notation;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Marking.Labels;

/// <summary>The sentences that the marking of labels writes; with hidden answers they say what to look at, not what was expected.</summary>
internal sealed class LabelRemarks(Score score, IReadOnlyList<Sonority> sonorities, bool hidesAnswers)
{
    /// <summary>Every kind of remark that is made of labels, faults first.</summary>
    public static IReadOnlyList<string> Kinds { get; } =
    [
        "wrong-key", "wrong-degree", "wrong-quality", "wrong-inversion", "label-missing", "label-extra", "label-unreadable",
        "accepted-equivalent", "accepted-pivot", "accepted-runner-up", "accepted-fitting",
    ];

    public Remark Unreadable(StudentLabel label, Fraction onset) => At(
        onset, "label-unreadable", $"“{label.Text}” cannot be read as a Roman numeral.",
        "Write the degree in Roman numerals with its figures, such as V65/V, viio7 or ii6.");

    public Remark Missing(Fraction onset, LabelMeaning expected) => At(
        onset, "label-missing", hidesAnswers ? "A label is missing here." : $"A label is missing here: {expected.Display()}.",
        $"Look at the bass and the notes above it{(hidesAnswers ? "" : $" ({Notes(expected)})")} whenever the chord changes, and write a numeral there.");

    public Remark Extra(StudentLabel label, LabelMeaning? expected) => At(
        label.Onset, "label-extra",
        expected is null ? $"“{label.Text}” stands where no chord sounds." : $"“{label.Text}” stands where {(hidesAnswers ? "the chord before" : expected.Display())} still holds.",
        "Take passing and neighbour notes out first: what is left tells whether the chord has changed.");

    public Remark AcceptedEquivalent(StudentLabel label, Fraction onset, string reason) =>
        At(onset, "accepted-equivalent", $"“{label.Text}” is right. {reason}", "", severity: Severity.Notice);

    public Remark AcceptedPivot(StudentLabel label, Fraction onset, LabelMeaning written, LabelMeaning expected) => At(
        onset, "accepted-pivot",
        hidesAnswers ? $"“{label.Text}” is right: the chord belongs to two keys." : $"“{label.Text}” is right: the chord belongs to {written.Key} and to {expected.Key}, where it is {expected.Numeral.ToDisplayString()}.", "",
        severity: Severity.Notice);

    public Remark AcceptedRunnerUp(StudentLabel label, Fraction onset, LabelMeaning expected, double probability, double first) => At(
        onset, "accepted-runner-up",
        $"“{label.Text}” is accepted: {(hidesAnswers ? "another one" : expected.Display())} was expected, and yours is nearly as good ({Percent(probability)} against {Percent(first)}).", "",
        severity: Severity.Notice);

    public Remark AcceptedFitting(StudentLabel label, Fraction onset, LabelMeaning expected) => At(
        onset, "accepted-fitting",
        $"“{label.Text}” is accepted: it fits every note here, though {(hidesAnswers ? "another one" : expected.Display())} was expected.", "", severity: Severity.Notice);

    /// <summary>A label that is wrong in some part; the kind names the weightiest.</summary>
    public Remark Wrong(StudentLabel label, LabelMeaning written, Fraction onset, LabelMeaning expected, LabelParts right)
    {
        if (hidesAnswers) return Unrevealed(label, onset, right);
        var text = $"You wrote “{label.Text}”; expected {Expected(expected, right)}.{Praise(right)}";
        if (!right.HasFlag(LabelParts.Degree))
        {
            return At(
                onset, "wrong-degree", text,
                $"The chord is made of {Notes(expected)}: {RootSentence(expected)}, with {expected.BassName()} in the bass.");
        }

        if (!right.HasFlag(LabelParts.Key))
        {
            return At(
                onset, "wrong-key", text,
                $"The music is in {expected.Key} here: write “{KeySign(expected.Key)}” under the chord where that key begins.");
        }

        if (!right.HasFlag(LabelParts.Quality)) return At(onset, "wrong-quality", text, QualityAdvice(written, expected), QualityNotes(onset, written, expected));
        var bass = At(onset)?.Bass;
        return At(
            onset, "wrong-inversion", text,
            $"The bass is {expected.BassName()}, the chord's {Member(expected)}: {FigureSentence(expected)}.",
            bass is null ? null : [bass]);
    }

    // The parts of a label in the order in which they weigh, each with what to look at.
    private Remark Unrevealed(StudentLabel label, Fraction onset, LabelParts right)
    {
        var (kind, part, advice) =
            !right.HasFlag(LabelParts.Degree) ? ("wrong-degree", "degree", "Put the notes that belong to the chord in thirds: the lowest one is the root, and its place in the scale the degree.")
            : !right.HasFlag(LabelParts.Key) ? ("wrong-key", "key", "Look for the leading tone and the cadence: in which key is the music here?")
            : !right.HasFlag(LabelParts.Quality) ? ("wrong-quality", "quality", "Is the third major or minor, the fifth perfect, and does a seventh sound?")
            : ("wrong-inversion", "inversion", "Which note of the chord is in the bass? The figures count from there.");
        return At(onset, kind, $"You wrote “{label.Text}”: the {part} is another one.{Praise(right)}", advice);
    }

    private static string Expected(LabelMeaning expected, LabelParts right) =>
        right.HasFlag(LabelParts.Key) ? expected.Numeral.ToDisplayString() : expected.Display();

    private static string Praise(LabelParts right)
    {
        string[] names =
        [
            .. new[] { (LabelParts.Key, "key"), (LabelParts.Degree, "degree"), (LabelParts.Quality, "quality"), (LabelParts.Inversion, right.HasFlag(LabelParts.Degree) ? "inversion" : "bass note") }
                .Where(p => right.HasFlag(p.Item1)).Select(p => p.Item2),
        ];
        return names.Length switch
        {
            0 => "",
            1 => $" The {names[0]} is right.",
            _ => $" The {string.Join(", ", names[..^1])} and {names[^1]} are right.",
        };
    }

    private static string RootSentence(LabelMeaning expected) => expected.Numeral.Quality.IsAugmentedSixth()
        ? $"{expected.Numeral.Tones(expected.Key)[0].ToDisplayString()} and {expected.Numeral.Tones(expected.Key)[^1].ToDisplayString()} make an augmented sixth, which opens outward to the octave"
        : expected.Numeral.IsApplied
            ? $"it leads to {expected.Numeral.Target}, so read it in the key of {expected.Numeral.Target!.In(expected.Key).Tonic.ToDisplayString()}"
            : $"in thirds it stands on {expected.Numeral.Root(expected.Key).ToDisplayString()}, degree {expected.Numeral.Degree} of {expected.Key}";

    private static string QualityAdvice(LabelMeaning written, LabelMeaning expected)
    {
        var (a, b) = (written.Numeral.Quality, expected.Numeral.Quality);
        var numeral = expected.Numeral.ToDisplayString();
        if (a.IsAugmentedSixth() || b.IsAugmentedSixth())
            return $"The notes are spelled {Notes(expected)}: the spelling makes it {numeral}.";
        if (!a.IsSeventh() && b.IsSeventh()) return $"A seventh sounds ({expected.Numeral.Tones(expected.Key)[3].ToDisplayString()}): the figures have to show it, {numeral}.";
        if (a.IsSeventh() && !b.IsSeventh()) return $"No seventh belongs to this chord ({Notes(expected)}): write {numeral}.";
        if (a.HasMajorThird() != b.HasMajorThird())
        {
            var third = expected.Numeral.Tones(expected.Key)[1].ToDisplayString();
            return b.HasMajorThird()
                ? $"The third, {third}, is major: write the numeral in capitals, {numeral}."
                : $"The third, {third}, is minor: write the numeral in small letters, {numeral}.";
        }

        return $"The chord is {Name(b)} ({Notes(expected)}): write {numeral}.";
    }

    private List<SoundingNote> QualityNotes(Fraction onset, LabelMeaning written, LabelMeaning expected)
    {
        var (a, b) = (written.Numeral.Tones(written.Key), expected.Numeral.Tones(expected.Key));
        var telling = b.Where(t => !a.Any(t.IsEnharmonicWith)).ToList();
        return [.. (At(onset)?.Notes ?? []).Where(n => telling.Any(t => t.IsEnharmonicWith(n.Pitch.Tone)))];
    }

    private static string FigureSentence(LabelMeaning expected) =>
        expected.Numeral.Inversion == 0 ? $"that is root position, {expected.Numeral.ToDisplayString()}" : $"write {expected.Numeral.ToDisplayString()}";

    private static string Member(LabelMeaning expected) => expected.Numeral.Quality.IsAugmentedSixth()
        ? "bass" : ((string[])["root", "third", "fifth", "seventh"])[expected.Numeral.Inversion];

    private static string Notes(LabelMeaning expected) => string.Join(' ', expected.Numeral.Tones(expected.Key).Select(t => t.ToDisplayString()));

    private static string KeySign(Key key) => (key.IsMinor ? char.ToLowerInvariant(key.Tonic.Letter) : key.Tonic.Letter) + key.Tonic.ToDisplayString()[1..] + ":";

    private static string Percent(double share) => $"{Math.Round(100 * share)} %";

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

    private Sonority? At(Fraction onset) => sonorities.LastOrDefault(s => s.Onset <= onset);

    private Remark At(
        Fraction onset, string kind, string text, string advice, IReadOnlyList<SoundingNote>? notes = null, Severity severity = Severity.Fault) =>
        Remark.At(score, onset, kind, Criterion.Labels, text, advice, notes, severity: severity);
}
