using ScoreLens.Marking.Facts;
using ScoreLens.Notation;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Marking.Labels;

/// <summary>The remarks that the marking of labels makes.</summary>
internal sealed class LabelRemarks(Score score, IReadOnlyList<Sonority> sonorities, bool hidesAnswers)
{
    /// <summary>Until when each expected chord lasts, by its onset.</summary>
    public required IReadOnlyDictionary<Fraction, Fraction> Ends { get; init; }

    public Remark Unreadable(StudentLabel label, Fraction onset, LabelMeaning? expected) =>
        At(onset, RemarkKind.LabelUnreadable, Facts(label, null, expected, LabelParts.None));

    public Remark Missing(Fraction onset, LabelMeaning expected) =>
        At(onset, RemarkKind.LabelMissing, new LabelFacts("", null, expected, LabelParts.None, hidesAnswers));

    public Remark KeyMissing(Fraction onset, LabelMeaning expected) =>
        At(onset, RemarkKind.KeyMissing, new LabelFacts("", null, expected, LabelParts.All ^ LabelParts.Key, hidesAnswers));

    public Remark Extra(StudentLabel label, LabelMeaning? expected) =>
        At(label.Onset, RemarkKind.LabelExtra, Facts(label, label.Meanings[0], expected, LabelParts.None));

    public Remark AcceptedEquivalent(StudentLabel label, Fraction onset, LabelMeaning written, LabelMeaning expected,
        Equivalence equivalence) =>
        Notice(onset, RemarkKind.AcceptedEquivalent, Facts(label, written, expected, LabelParts.All) with { Equivalence = equivalence });

    public Remark AcceptedPivot(StudentLabel label, Fraction onset, LabelMeaning written, LabelMeaning expected) =>
        Notice(onset, RemarkKind.AcceptedPivot, Facts(label, written, expected, LabelParts.All));

    public Remark AcceptedRunnerUp(StudentLabel label, Fraction onset, LabelMeaning expected, double probability, double first) => Notice(
        onset, RemarkKind.AcceptedRunnerUp,
        Facts(label, label.Meanings[0], expected, LabelParts.All) with { Probability = probability, ExpectedProbability = first });

    public Remark AcceptedFitting(StudentLabel label, Fraction onset, LabelMeaning expected) =>
        Notice(onset, RemarkKind.AcceptedFitting, Facts(label, label.Meanings[0], expected, LabelParts.All));

    /// <summary>A label that is wrong in some part; the kind names the weightiest.</summary>
    public Remark Wrong(StudentLabel label, LabelMeaning written, Fraction onset, LabelMeaning expected, LabelParts right)
    {
        var kind = KindOf(right);
        var notes = hidesAnswers ? [] : kind switch
        {
            RemarkKind.WrongQuality => QualityNotes(onset, written, expected),
            RemarkKind.WrongInversion when SonorityAt(onset)?.Bass is { } bass => [bass],
            _ => [],
        };
        return At(onset, kind, Facts(label, written, expected, right), notes);
    }

    // The parts of a label in the order in which they weigh.
    private static RemarkKind KindOf(LabelParts right) =>
        !right.HasFlag(LabelParts.Degree) ? RemarkKind.WrongDegree
        : !right.HasFlag(LabelParts.Key) ? RemarkKind.WrongKey
        : !right.HasFlag(LabelParts.Quality) ? RemarkKind.WrongQuality
        : RemarkKind.WrongInversion;

    private LabelFacts Facts(StudentLabel label, LabelMeaning? written, LabelMeaning? expected, LabelParts right) =>
        new(label.Text, written, expected, right, hidesAnswers) { Notation = label.Notation };

    private List<SoundingNote> QualityNotes(Fraction onset, LabelMeaning written, LabelMeaning expected)
    {
        var (a, b) = (written.Numeral.Tones(written.Key), expected.Numeral.Tones(expected.Key));
        var telling = b.Where(t => !a.Any(t.IsEnharmonicWith)).ToList();
        return [.. (SonorityAt(onset)?.Notes ?? []).Where(n => telling.Any(t => t.IsEnharmonicWith(n.Pitch.Tone)))];
    }

    private Sonority? SonorityAt(Fraction onset) => sonorities.LastOrDefault(s => s.Onset <= onset);

    private Remark Notice(Fraction onset, RemarkKind kind, LabelFacts facts) =>
        Remark.At(score, onset, kind, facts, severity: Severity.Notice);

    private Remark At(Fraction onset, RemarkKind kind, LabelFacts facts, IReadOnlyList<SoundingNote>? notes = null) =>
        Remark.At(score, onset, kind, facts with { Sounding = SoundingFrom(onset) }, notes);

    private SoundingTones SoundingFrom(Fraction onset) =>
        Ends.TryGetValue(onset, out var end) ? SoundingTones.Of(sonorities, onset, end) : SoundingTones.None;
}
