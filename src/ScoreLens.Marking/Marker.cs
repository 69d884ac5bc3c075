using ScoreLens.Marking.Assignments;
using ScoreLens.Marking.Labels;
using ScoreLens.Marking.PartWriting;
using ScoreLens.Marking.Wording;
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

    /// <summary>Every kind of remark that this assignment can lead to: the columns of the class's table.</summary>
    public IReadOnlyList<RemarkKind> Kinds =>
        [.. RemarkKinds.All.Where(k => Assignment.PointsFor(k.Criterion()) > 0).Where(IsPossible)];

    private bool IsPossible(RemarkKind kind) => kind.Criterion() switch
    {
        Criterion.PartWriting => PartWritingRules.Find(kind) is { } rule && Assignment.PartWriting.WeightOf(rule) > 0,
        Criterion.GivenParts => _given is not null,
        _ => true,
    };

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
            return NotMarked(name, SubmissionStatus.Unreadable, SubmissionWords.CannotRead(e.ToDisplayString()));
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return NotMarked(name, SubmissionStatus.Unreadable, SubmissionWords.CannotOpen(e.Message));
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
        if (!score.Notes.Any(n => n.IsHarmonic)) return NotMarked(name, SubmissionStatus.Empty, SubmissionWords.NoNotes);
        if (OtherPiece(score) is { } other) return NotMarked(name, SubmissionStatus.WrongPiece, other);
        var analysis = CueAnalysis.Of(score);
        var labels = StudentLabels.Read(score, (_model?.Reading ?? analysis.Reading).HomeKey);
        if (labels.Labels.Count == 0 && AddsNothing(score))
            return NotMarked(name, SubmissionStatus.Empty, SubmissionWords.NothingAdded);

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
            late ? SubmissionWords.Late(handedIn!.Value, Assignment.Due!.Value, Assignment.LateCost) : "",
            file,
            analysis,
            [.. CriterionNames.All.Where(c => Assignment.PointsFor(c) > 0).Select(c => MarkOf(c, ruled, labelMarks))],
            labelMarks,
            late ? Assignment.LateCost : 0,
            ruled);
    }

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
        return remark with
        {
            Points = overrule.Points,
            TeacherComment = overrule.Say.Length == 0 ? SubmissionWords.Decided(overrule.Points) : overrule.Say,
            Severity = overrule.Points > 0 ? Severity.Fault : Severity.Notice,
        };
    }

    private CriterionMark MarkOf(Criterion criterion, List<Remark> remarks, LabelMarks? labels)
    {
        var outOf = Assignment.PointsFor(criterion);
        var faults = remarks.Where(r => r.Criterion == criterion && r.Severity == Severity.Fault).ToList();
        var lost = faults.Sum(r => r.Points);
        // A label or two are not worth points where none was demanded or written.
        var earned = criterion == Criterion.Labels && labels is { Written: 0 } ? 0 : Math.Clamp(outOf - lost, 0, outOf);
        return new CriterionMark(
            criterion, earned, outOf,
            SubmissionWords.Reckoning(criterion, outOf, faults.Count, lost, labels?.Demanded ?? 0, labels?.Written ?? 0, Assignment));
    }

    private bool AddsNothing(Score score) => _given is not null && SharedNotes.Of(score).IsSubsetOf(SharedNotes.Of(_given));

    private string? OtherPiece(Score score)
    {
        var expected = _given ?? (Assignment.ComparesWith == LabelSource.Notes ? null : _model?.Score);
        if (expected is null) return null;
        var share = _given is not null ? SharedNotes.Kept(score, expected, Assignment.Given!.Voices) : SharedNotes.Share(score, expected);
        return share >= SamePieceShare
            ? null
            : SubmissionWords.OtherPiece(share, _given is not null);
    }

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
