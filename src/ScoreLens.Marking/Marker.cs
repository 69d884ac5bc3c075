using System.Globalization;
using ScoreLens.Marking.Assignments;
using ScoreLens.Marking.Labels;
using ScoreLens.Marking.PartWriting;
using ScoreLens.Notation;

namespace ScoreLens.Marking;

/// <summary>
/// Marks submissions against an assignment. One marker serves a whole class, on several threads: the model answer and the given
/// parts are read once.
/// </summary>
public sealed class Marker
{
    private const double SamePieceShare = 0.3;
    private const double SameNotesShare = 0.9;

    private readonly ModelAnswer? _model;
    private readonly Score? _given;

    /// <summary>Prepares to mark an assignment.</summary>
    /// <exception cref="ScoreFormatException">The model answer or the given parts cannot be read; the message names the file.</exception>
    /// <exception cref="IOException">One of these files cannot be opened.</exception>
    public Marker(Assignment assignment)
    {
        ArgumentNullException.ThrowIfNull(assignment);
        Assignment = assignment;
        if (assignment.ModelPath is { } model) _model = ModelAnswer.Of(Load(model));
        if (assignment.Given is { } given) _given = Load(given.ScorePath);
    }

    /// <summary>The assignment.</summary>
    public Assignment Assignment { get; }

    /// <summary>What the teacher should know of the model answer, such as labels that cannot be read; mostly empty.</summary>
    public IReadOnlyList<string> ModelProblems => _model?.Problems ?? [];

    /// <summary>Every kind of remark that this assignment can lead to, by criterion: the columns of the class's table.</summary>
    public IReadOnlyList<string> Kinds =>
    [
        .. Assignment.PointsFor(Criterion.Labels) > 0 ? LabelRemarks.Kinds : [],
        .. Assignment.PointsFor(Criterion.PartWriting) > 0
            ? PartWritingRules.All.Where(r => Assignment.PartWriting.WeightOf(r) > 0).Select(r => r.Name) : [],
        .. _given is not null && Assignment.PointsFor(Criterion.GivenParts) > 0 ? GivenPartsCheck.Kinds : [],
        .. Assignment.PointsFor(Criterion.Devices) > 0 ? DeviceCheck.Kinds : [],
        .. Assignment.PointsFor(Criterion.Balance) > 0 ? BalanceCheck.Kinds : [],
    ];

    /// <summary>Marks a file. Whatever is wrong with it is told by the result's status and message, never thrown.</summary>
    /// <param name="name">The submission's name.</param>
    /// <param name="path">The file.</param>
    public MarkedSubmission MarkFile(string name, string path)
    {
        try
        {
            var bytes = File.ReadAllBytes(path);
            if (SubmittedFile.OtherKind(bytes, path) is { } other) return NotMarked(name, SubmissionStatus.WrongFile, other);
            return Mark(name, ScoreFile.Parse(bytes), File.GetLastWriteTime(path));
        }
        catch (ScoreFormatException e)
        {
            return NotMarked(name, SubmissionStatus.Unreadable, $"The file cannot be read: {e.ToDisplayString()}");
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return NotMarked(name, SubmissionStatus.Unreadable, $"The file cannot be opened: {e.Message}");
        }
    }

    /// <summary>Marks a score.</summary>
    /// <param name="name">The submission's name.</param>
    /// <param name="file">The score.</param>
    /// <param name="handedIn">When it was handed in, in local time; null where it is not known.</param>
    public MarkedSubmission Mark(string name, ScoreFile file, DateTime? handedIn = null)
    {
        ArgumentNullException.ThrowIfNull(file);
        var score = file.Score;
        if (!score.Notes.Any(n => n.IsHarmonic)) return NotMarked(name, SubmissionStatus.Empty, "The score holds no notes.");
        if (OtherPiece(score) is { } other) return NotMarked(name, SubmissionStatus.WrongPiece, other);
        var analysis = CueAnalysis.Of(score);
        var labels = StudentLabels.Read(score, (_model?.Reading ?? analysis.Reading).HomeKey);
        if (labels.Labels.Count == 0 && AddsNothing(score))
            return NotMarked(name, SubmissionStatus.Empty, "Nothing was added to the exercise: neither notes nor labels.");

        var byModel = IsMarkedByModel(score);
        var labelMarks = Assignment.PointsFor(Criterion.Labels) > 0 ? CheckLabels(analysis, labels, byModel) : null;
        var remarks = new List<Remark>();
        if (labelMarks is not null) remarks.AddRange(Costed(labelMarks));
        if (Assignment.PointsFor(Criterion.PartWriting) > 0) remarks.AddRange(CheckPartWriting(analysis, byModel));
        if (_given is not null && Assignment.PointsFor(Criterion.GivenParts) > 0) remarks.AddRange(CheckGivenParts(score));
        if (Assignment.PointsFor(Criterion.Devices) is > 0 and var devices)
            remarks.AddRange(DeviceCheck.Run(analysis, Assignment, devices / DeviceCheck.Demands(Assignment)));
        if (Assignment.PointsFor(Criterion.Balance) > 0) remarks.AddRange(BalanceCheck.Run(analysis, Assignment));

        var ruled = remarks.Select(r => Overruled(name, r)).OrderBy(r => r.IsOfWhole ? 0 : 1).ThenBy(r => r.Onset).ThenBy(r => r.Criterion).ToList();
        var late = Assignment.Due is { } due && handedIn > due;
        return new MarkedSubmission(
            name,
            late ? SubmissionStatus.Late : SubmissionStatus.Marked,
            late ? LateMessage(handedIn!.Value) : "",
            file,
            analysis,
            [.. CriterionNames.All.Where(c => Assignment.PointsFor(c) > 0).Select(c => MarkOf(c, ruled, labelMarks))],
            labelMarks is null ? null : labelMarks with { Marks = [.. labelMarks.Marks.Select(m => m.Remark is null ? m : m with { Remark = ruled.Find(r => IsSame(r, m.Remark)) ?? m.Remark })] },
            late ? Assignment.LateCost : 0,
            ruled);
    }

    private static bool IsSame(Remark a, Remark b) => a.Onset == b.Onset && a.Kind == b.Kind && a.Text.StartsWith(b.Text, StringComparison.Ordinal);

    private bool IsMarkedByModel(Score score) => _model is not null && Assignment.ComparesWith switch
    {
        LabelSource.Model => true,
        LabelSource.Notes => false,
        _ => SharedNotes.Share(score, _model.Score) >= SameNotesShare,
    };

    private LabelMarks CheckLabels(CueAnalysis analysis, StudentLabels labels, bool byModel) => LabelCheck.Run(
        analysis.Score, analysis.Sonorities, labels, byModel ? _model!.Reading : analysis.Reading, byModel && _model!.HasLabels, Assignment.Labels);

    /// <summary>The remarks on labels, each with what it costs: the points are shared equally among the labels that are demanded.</summary>
    private IEnumerable<Remark> Costed(LabelMarks marks) =>
        marks.Marks.Where(m => m.Remark is not null).Select(m => m.Remark! with { Points = m.Lost * LabelWorth(marks) });

    private double LabelWorth(LabelMarks marks) => marks.Demanded == 0 ? 0 : Assignment.PointsFor(Criterion.Labels) / marks.Demanded;

    private IEnumerable<Remark> CheckPartWriting(CueAnalysis analysis, bool byModel)
    {
        // Where the teacher has said which chords these are, the voices are judged by them.
        var reading = byModel && _model!.HasLabels ? _model.Reading : analysis.Reading;
        var faults = PartWritingCheck.Run(analysis.Score, analysis.Sonorities, reading, Assignment.PartWriting);
        for (var i = 0; i < faults.Count; i++)
        {
            var weight = PartWritingRules.Find(faults[i].Kind) is { } rule ? Assignment.PartWriting.WeightOf(rule) : 1;
            yield return faults[i] with { Points = i < Assignment.FreeFaults ? 0 : weight * Assignment.FaultCost };
        }
    }

    private IEnumerable<Remark> CheckGivenParts(Score score) =>
        GivenPartsCheck.Run(score, _given!, Assignment.Given!.Voices, Assignment.Given.Figures, Assignment.PartWriting)
            .Select(r => r with { Points = r.Severity == Severity.Fault ? Assignment.FaultCost : 0 });

    private Remark Overruled(string name, Remark remark)
    {
        if (Assignment.Overrules.FirstOrDefault(o => o.Covers(name, remark)) is not { } overrule) return remark;
        var said = overrule.Say.Length == 0 ? $"{remark.Text} (The teacher: this costs {Points(overrule.Points)}.)" : $"{remark.Text} (The teacher: {overrule.Say})";
        return remark with { Points = overrule.Points, Text = said, Severity = overrule.Points > 0 ? Severity.Fault : Severity.Notice };
    }

    private CriterionMark MarkOf(Criterion criterion, List<Remark> remarks, LabelMarks? labels)
    {
        var outOf = Assignment.PointsFor(criterion);
        var faults = remarks.Where(r => r.Criterion == criterion && r.Severity == Severity.Fault).ToList();
        var lost = faults.Sum(r => r.Points);
        // A label or two are not worth points where none was demanded or written.
        var nothing = criterion == Criterion.Labels && labels is { Written: 0 };
        var earned = nothing ? 0 : Math.Clamp(outOf - lost, 0, outOf);
        var explanation = criterion switch
        {
            Criterion.Labels when nothing => "No Roman numerals were found in the score.",
            Criterion.Labels => $"{labels!.Demanded} labels share {Points(outOf)}: {Points(LabelWorth(labels))} each. {Faults(faults.Count)} {Costs(faults.Count)} {Points(lost)}.",
            Criterion.PartWriting when faults.Count == 0 => "No fault.",
            Criterion.PartWriting when Assignment.FreeFaults > 0 =>
                $"{Faults(faults.Count)}, of which {Assignment.FreeFaults} may pass; together they cost {Points(lost)}.",
            _ when faults.Count == 0 => "Everything that was asked for is there.",
            _ => $"{Faults(faults.Count)} {Costs(faults.Count)} {Points(lost)} of {Number(outOf)}.",
        };
        return new CriterionMark(criterion, earned, outOf, explanation);

        static string Faults(int count) => count switch { 0 => "No fault", 1 => "1 fault", _ => $"{count} faults" };
        static string Costs(int count) => count == 1 ? "costs" : "cost";
    }

    private bool AddsNothing(Score score) => _given is not null && SharedNotes.Of(score).IsSubsetOf(SharedNotes.Of(_given));

    private string? OtherPiece(Score score)
    {
        var (expected, what) = _given is not null ? (_given, "given part") : (Assignment.ComparesWith == LabelSource.Notes ? null : _model?.Score, "exercise");
        if (expected is null) return null;
        var share = _given is not null ? SharedNotes.Kept(score, expected, Assignment.Given!.Voices) : SharedNotes.Share(score, expected);
        return share >= SamePieceShare
            ? null
            : string.Create(CultureInfo.InvariantCulture, $"This is another piece than the one that was set: {100 * share:0} % of the notes of the {what} are in it.");
    }

    private string LateMessage(DateTime handedIn) => string.Create(
        CultureInfo.InvariantCulture,
        $"Handed in {handedIn:yyyy-MM-dd HH:mm}, after {Assignment.Due:yyyy-MM-dd HH:mm}{(Assignment.LateCost > 0 ? $": {Points(Assignment.LateCost)} less" : "")}.");

    private static string Number(double points) => points.ToString("0.##", CultureInfo.InvariantCulture);

    private static string Points(double points) => string.Create(CultureInfo.InvariantCulture, $"{points:0.##} point{(Math.Round(points, 2) == 1 ? "" : "s")}");

    private MarkedSubmission NotMarked(string name, SubmissionStatus status, string message) => MarkedSubmission.NotMarked(name, status, message, Assignment);

    private static Score Load(string path)
    {
        try
        {
            return ScoreFile.Load(path).Score;
        }
        catch (ScoreFormatException e)
        {
            throw new ScoreFormatException($"{path}: {e.ToDisplayString()}", inner: e);
        }
    }
}
