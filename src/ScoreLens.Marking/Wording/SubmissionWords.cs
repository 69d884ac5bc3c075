using System.Globalization;
using ScoreLens.Marking.Assignments;

namespace ScoreLens.Marking.Wording;

/// <summary>Sentences about a submission as a whole, and how its points are reckoned.</summary>
internal static class SubmissionWords
{
    public const string NoNotes = "The score holds no notes.";

    public const string NothingAdded = "Nothing was added to the exercise: neither notes nor labels.";

    public const string NoFigures =
        "figures: yes asks for the figured bass of this score, but none is found: neither figured-bass elements nor figures typed as "
        + "lyrics.";

    /// <summary>Which of several model answers counts.</summary>
    public static string ComparedWith(string model) => $"Compared with the model answer {model}.";

    public static string NoMovement(int movement, int count) => count == 1
        ? $"There is no movement {movement}: the file holds one movement."
        : $"There is no movement {movement}: the file holds the movements 1 to {count}.";

    public static string InSeveralMovements(string measure, IEnumerable<int> movements) =>
        $"The assignment names measure {measure}, which is in several movements of the file: {string.Join(", ", movements)}. Mark one of "
            + "them with --movement N.";

    public static string CannotRead(string reason) => $"The file cannot be read: {reason}";

    public static string CannotOpen(string reason) => $"The file cannot be opened: {reason}";

    public static string Late(DateTime handedIn, DateTime due, double cost) => string.Create(
        CultureInfo.InvariantCulture,
        $"Handed in {handedIn:yyyy-MM-dd HH:mm}, after {due:yyyy-MM-dd HH:mm}{(cost > 0 ? $": {Amounts.Points(cost)} less" : "")}.");

    /// <summary>What stands beside a remark whose points the teacher changed without a word.</summary>
    public static string Decided(double points) => $"This costs {Amounts.Points(points)}.";

    public static string OtherPiece(double share, bool isGiven) => string.Create(
        CultureInfo.InvariantCulture,
        $"This is another piece than the one that was set: {100 * share:0} % of the notes of the {(isGiven ? "given part" : "exercise")} "
            + $"are in it.");

    /// <summary>How the points of a criterion are reckoned.</summary>
    /// <param name="criterion">The criterion.</param>
    /// <param name="outOf">What it is worth.</param>
    /// <param name="faults">How many faults there are.</param>
    /// <param name="lost">What they cost together.</param>
    /// <param name="demanded">How many labels are demanded; it matters for labels only.</param>
    /// <param name="written">How many labels are written; it matters for labels only.</param>
    /// <param name="assignment">The assignment.</param>
    public static string Reckoning(Criterion criterion, double outOf, int faults, double lost, int demanded, int written,
        Assignment assignment)
    {
        var count = Amounts.Capital(Amounts.Count(faults, "fault"));
        var costs = faults == 0 ? "No fault" : $"{count} {(faults == 1 ? "costs" : "cost")} {Amounts.Points(lost)}";
        return criterion switch
        {
            Criterion.Labels when written == 0 => "No Roman numerals were found in the score.",
            Criterion.Labels =>
                $"{demanded} labels share {Amounts.Points(outOf)}: {Amounts.Points(demanded == 0 ? 0 : outOf / demanded)} each. {costs}.",
            Criterion.PartWriting when faults == 0 => "No fault.",
            Criterion.PartWriting when assignment.FreeFaults > 0 =>
                $"{count}, of which {assignment.FreeFaults} may pass; together they cost {Amounts.Points(lost)}.",
            _ when faults == 0 => "Everything that is required is there.",
            _ => $"{costs} of {Amounts.Number(outOf)}.",
        };
    }
}
