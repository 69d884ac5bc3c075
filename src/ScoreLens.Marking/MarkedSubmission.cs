using ScoreLens.Marking.Assignments;
using ScoreLens.Marking.Decisions;
using ScoreLens.Marking.Labels;
using ScoreLens.Notation;

namespace ScoreLens.Marking;

/// <summary>What became of a submission.</summary>
public enum SubmissionStatus
{
    /// <summary>Marked.</summary>
    Marked,

    /// <summary>Marked, and handed in after the time that was set.</summary>
    Late,

    /// <summary>Nothing was done: there is nothing to mark.</summary>
    Empty,

    /// <summary>The file is damaged or is no score.</summary>
    Unreadable,

    /// <summary>A file of another kind, such as a PDF.</summary>
    WrongFile,

    /// <summary>A score of another piece than the one that was set.</summary>
    WrongPiece,

    /// <summary>Nothing was handed in by a student of the roster.</summary>
    Missing,
}

/// <summary>The points that a submission earns for one criterion.</summary>
/// <param name="Criterion">The criterion.</param>
/// <param name="Points">What it earns, 0..<paramref name="OutOf"/>.</param>
/// <param name="OutOf">What the criterion is worth.</param>
/// <param name="Explanation">How the points are reckoned, one sentence; the remarks' costs are the lines under it.</param>
public sealed record CriterionMark(Criterion Criterion, double Points, double OutOf, string Explanation);

/// <summary>One student's work, marked.</summary>
/// <param name="Name">Whose it is: the student's name, or that of the file or folder.</param>
/// <param name="Status">What became of it.</param>
/// <param name="Message">What is to be said of the submission as a whole: why it is not marked, that it is late; else empty.</param>
/// <param name="File">The score with the document that it was read from; null where there is nothing to mark.</param>
/// <param name="Analysis">What was found in the score; null where there is nothing to mark.</param>
/// <param name="Criteria">Points a criterion, in order; 0 points each where nothing is marked.</param>
/// <param name="Labels">The labels, line by line; null where labels do not count.</param>
/// <param name="LateCost">Points that being late costs.</param>
/// <param name="Remarks">Every remark by place, those on the whole piece first, each with what it costs.</param>
public sealed record MarkedSubmission(
    string Name,
    SubmissionStatus Status,
    string Message,
    ScoreFile? File,
    CueAnalysis? Analysis,
    IReadOnlyList<CriterionMark> Criteria,
    LabelMarks? Labels,
    double LateCost,
    IReadOnlyList<Remark> Remarks)
{
    /// <summary>What the gradebook knows the student by; may be empty.</summary>
    public string Identifier { get; init; } = "";

    /// <summary>What the teacher should know of the file: handed in twice, the same as another's; mostly empty.</summary>
    public IReadOnlyList<string> Observations { get; init; } = [];

    /// <summary>Message and observations in one line.</summary>
    public string Note => string.Join(' ', new[] { Message }.Concat(Observations).Where(t => t.Length > 0));

    /// <summary>Points that differences from the score that was set cost, such as a missing measure.</summary>
    public double DifferenceCost { get; init; }

    /// <summary>Whether its labels were compared with a model answer.</summary>
    internal bool IsByModel { get; init; }

    /// <summary>What it earns in all, 0 or more.</summary>
    public double Total => Math.Max(0, Criteria.Sum(c => c.Points) - LateCost - DifferenceCost);

    /// <summary>What could be earned.</summary>
    public double OutOf => Criteria.Sum(c => c.OutOf);

    /// <summary>The remarks that the student sees: those that were not struck out.</summary>
    public IReadOnlyList<Remark> Shown => [.. Remarks.Where(r => r.State != RemarkState.Struck)];

    /// <summary>Whether the teacher has signed off every remark.</summary>
    public bool IsSigned => IsMarked && Remarks.Count > 0 && Remarks.All(r => r.State != RemarkState.Open);

    /// <summary>The submission with other remarks, its points reckoned anew.</summary>
    internal MarkedSubmission With(Assignment assignment, IReadOnlyList<Remark> remarks) =>
        this with { Remarks = remarks, Criteria = CriterionReckoning.Of(assignment, remarks, Labels) };

    /// <summary>Whether there was something to mark.</summary>
    public bool IsMarked => Analysis is not null;

    /// <summary>Whether the marking found a fault.</summary>
    public bool HasFaults => Remarks.Any(r => r.Severity == Severity.Fault);

    /// <summary>A submission that cannot be marked.</summary>
    public static MarkedSubmission NotMarked(string name, SubmissionStatus status, string message, Assignment assignment)
    {
        ArgumentNullException.ThrowIfNull(assignment);
        var criteria = CriterionNames.All.Where(c => assignment.PointsFor(c) > 0)
            .Select(c => new CriterionMark(c, 0, assignment.PointsFor(c), ""));
        return new MarkedSubmission(name, status, message, null, null, [.. criteria], null, 0, []);
    }
}
