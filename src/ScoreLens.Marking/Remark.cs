using ScoreLens.Marking.Assignments;
using ScoreLens.Marking.Decisions;
using ScoreLens.Marking.Facts;
using ScoreLens.Marking.Wording;
using ScoreLens.Notation;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Marking;

/// <summary>
/// One thing that the marking says about one place of a student's score: its kind, the facts, and what it costs. The sentences
/// are made of these by <see cref="RemarkWords"/>.
/// </summary>
public sealed record Remark
{
    private Remark(
        RemarkKind kind, Severity severity, Fraction onset, string measure, Fraction beat,
        IReadOnlyList<string> voices, IReadOnlyList<SoundingNote> notes, RemarkFacts facts) =>
        (Kind, Severity, Onset, Measure, Beat, Voices, Notes, Facts) = (kind, severity, onset, measure, beat, voices, notes, facts);

    /// <summary>What it is about.</summary>
    public RemarkKind Kind { get; }

    /// <summary>The criterion of the assignment that it belongs to.</summary>
    public Criterion Criterion => Facts is TeacherFacts own ? own.Criterion : Kind.Criterion();

    /// <summary>Whether it counts as a fault or only tells something.</summary>
    public Severity Severity { get; init; }

    /// <summary>Quarter notes from the start of the score: where the remark stands.</summary>
    public Fraction Onset { get; }

    /// <summary>Number of the measure as it is printed; empty where the remark is about the whole score.</summary>
    public string Measure { get; }

    /// <summary>Beat from 1 in the time signature's units; 0 where the remark is about the whole score.</summary>
    public Fraction Beat { get; }

    /// <summary>The voices or parts concerned, as a musician names them (<c>soprano</c>, <c>bass</c>), the highest first; may be empty.</summary>
    public IReadOnlyList<string> Voices { get; }

    /// <summary>The notes concerned, to be coloured; may be empty.</summary>
    public IReadOnlyList<SoundingNote> Notes { get; }

    /// <summary>Points that it costs, 0 or more; reckoned by the marking.</summary>
    public double Points { get; init; }

    /// <summary>Whether it costs less than it would because a limit of the assignment is reached.</summary>
    public bool IsCapped { get; init; }

    /// <summary>Whether the teacher decided what it costs.</summary>
    public bool IsDecided { get; init; }

    /// <summary>What follows from the same mistake and costs nothing by itself; mostly empty.</summary>
    public IReadOnlyList<Remark> Parts { get; init; } = [];

    /// <summary>What the teacher adds; empty where nothing is added.</summary>
    public string TeacherComment { get; init; } = "";

    /// <summary>What is wrong, one sentence that names notes: <c>Tenor and bass move in parallel fifths, G-D to A-E.</c></summary>
    public string Text => TeacherText ?? ProposedText;

    /// <summary>What the program says, whatever the teacher made of it.</summary>
    public string ProposedText => RemarkWords.Text(this);

    /// <summary>What the teacher says in place of the program; null where nothing else is said.</summary>
    public string? TeacherText { get; init; }

    /// <summary>What the program proposed that it costs; null where that was not changed.</summary>
    public double? ProposedPoints { get; init; }

    /// <summary>Struck out, signed off, or neither.</summary>
    public RemarkState State { get; init; }

    /// <summary>Whether it is a remark of the teacher's own.</summary>
    public bool IsOwn => Kind == RemarkKind.TeacherRemark;

    /// <summary>What tables call it: the name of its kind, or of its criterion where it is the teacher's own.</summary>
    public string RuleName => IsOwn ? Criterion.Name() : Kind.Name();

    /// <summary>What to do instead, one sentence; empty where there is nothing to do.</summary>
    public string Advice => RemarkWords.Advice(this);

    /// <summary>Whether it is about the score as a whole rather than a place.</summary>
    public bool IsOfWhole => Measure.Length == 0;

    /// <summary>The place in words: <c>measure 3, beat 2.5</c>; <c>whole piece</c> where there is none.</summary>
    public string Place => Places.Of(Measure, Beat);

    /// <summary>The facts that the sentences are made of.</summary>
    internal RemarkFacts Facts { get; }

    /// <summary>A fault at a place of a score; the measure and the beat are those of <paramref name="onset"/>.</summary>
    internal static Remark At(
        Score score,
        Fraction onset,
        RemarkKind kind,
        RemarkFacts facts,
        IReadOnlyList<SoundingNote>? notes = null,
        IReadOnlyList<string>? voices = null,
        Severity severity = Severity.Fault)
    {
        var measure = score.Measures.Count == 0 ? null : score.MeasureAt(onset);
        return new Remark(kind, severity, onset, measure?.Number ?? "", measure?.BeatAt(onset) ?? 0, voices ?? [], notes ?? [], facts);
    }

    /// <summary>A fault that concerns the score as a whole.</summary>
    internal static Remark OfWhole(RemarkKind kind, RemarkFacts facts) => new(kind, Severity.Fault, 0, "", 0, [], [], facts);
}

/// <summary>What an assignment gives points for.</summary>
public enum Criterion
{
    /// <summary>The numerals that the student wrote.</summary>
    Labels,

    /// <summary>Voice leading, doubling, spacing and range.</summary>
    PartWriting,

    /// <summary>Given melody, bass or figures are kept.</summary>
    GivenParts,

    /// <summary>Required devices are there and forbidden ones are not.</summary>
    Devices,

    /// <summary>The share outside the key lies in its band.</summary>
    Balance,
}

/// <summary>Whether a remark counts.</summary>
public enum Severity
{
    /// <summary>Tells something and costs nothing: an answer that is accepted though it was not expected, a licence that was taken.</summary>
    Notice,

    /// <summary>A fault, which costs points.</summary>
    Fault,
}
