using ScoreLens.Notation;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Marking;

/// <summary>One thing that the marking says about one place of a student's score, as a teacher would write it there.</summary>
/// <param name="Kind">
/// What it is about, by its trade name in lower case with hyphens: <c>parallel-fifths</c>, <c>leading-tone-unresolved</c>,
/// <c>wrong-inversion</c>. Remarks of one kind are counted together in the class's table.
/// </param>
/// <param name="Criterion">The criterion of the assignment that it belongs to.</param>
/// <param name="Severity">Whether it counts as a fault or only tells something.</param>
/// <param name="Onset">Quarter notes from the start of the score: where the remark stands.</param>
/// <param name="Measure">Number of the measure as it is printed; empty where the remark is about the whole score.</param>
/// <param name="Beat">Beat from 1 in the time signature's units; 0 where the remark is about the whole score.</param>
/// <param name="Voices">The voices or parts concerned, as a musician names them (<c>soprano</c>, <c>bass</c>), the highest first; may be empty.</param>
/// <param name="Notes">The notes concerned, to be coloured; may be empty.</param>
/// <param name="Text">What is wrong, one sentence that names notes: <c>Tenor and bass move in parallel fifths, G-D to A-E.</c></param>
/// <param name="Advice">What to do instead, one sentence; empty where there is nothing to do.</param>
/// <param name="Points">Points that it costs, 0 or more; reckoned by the marking, so a rule leaves it at 0.</param>
public sealed record Remark(
    string Kind,
    Criterion Criterion,
    Severity Severity,
    Fraction Onset,
    string Measure,
    Fraction Beat,
    IReadOnlyList<string> Voices,
    IReadOnlyList<SoundingNote> Notes,
    string Text,
    string Advice,
    double Points = 0)
{
    /// <summary>A fault at a place of a score; the measure and the beat are those of <paramref name="onset"/>.</summary>
    public static Remark At(
        Score score,
        Fraction onset,
        string kind,
        Criterion criterion,
        string text,
        string advice,
        IReadOnlyList<SoundingNote>? notes = null,
        IReadOnlyList<string>? voices = null,
        Severity severity = Severity.Fault)
    {
        ArgumentNullException.ThrowIfNull(score);
        var measure = score.Measures.Count == 0 ? null : score.MeasureAt(onset);
        return new Remark(
            kind, criterion, severity, onset, measure?.Number ?? "", measure?.BeatAt(onset) ?? 0, voices ?? [], notes ?? [], text, advice);
    }

    /// <summary>A fault that concerns the score as a whole.</summary>
    public static Remark OfWhole(string kind, Criterion criterion, string text, string advice, Severity severity = Severity.Fault) =>
        new(kind, criterion, severity, 0, "", 0, [], [], text, advice);

    /// <summary>Whether it is about the score as a whole rather than a place.</summary>
    public bool IsOfWhole => Measure.Length == 0;

    /// <summary>The place in words: <c>measure 3, beat 2.5</c>; <c>whole piece</c> where there is none.</summary>
    public string Place => IsOfWhole ? "whole piece" : $"measure {Measure}, beat {Beat}";
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
