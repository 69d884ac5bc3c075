using ScoreLens.Marking.Assignments;
using ScoreLens.Marking.Classes;
using ScoreLens.Marking.Facts;
using ScoreLens.Marking.Labels;
using ScoreLens.Marking.Mistakes;
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

    /// <summary>The row of a student who handed in nothing.</summary>
    public MarkedSubmission Missing(ClassMember member)
    {
        ArgumentNullException.ThrowIfNull(member);
        var missing = NotMarked(member.Name, SubmissionStatus.Missing, ClassWords.NothingHandedIn);
        return missing with { Identifier = member.Identifier, Observations = member.Observations };
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
        var labels = StudentLabels.Read(score, (_model?.Reading ?? analysis.Reading).HomeKey, Assignment.Labels);
        if (labels.Labels.Count == 0 && AddsNothing(score))
            return NotMarked(name, SubmissionStatus.Empty, SubmissionWords.NothingAdded);

        var byModel = IsMarkedByModel(score);
        var labelMarks = Assignment.PointsFor(Criterion.Labels) > 0 ? CheckLabels(analysis, labels, byModel) : null;
        var remarks = new List<Remark>();
        if (labelMarks is not null) remarks.AddRange(Costed(labelMarks));
        remarks.AddRange(WithFreeFaults(MistakeGroups.Of([.. CheckNotes(analysis, byModel)])));
        if (Assignment.PointsFor(Criterion.Devices) is > 0 and var devices)
            remarks.AddRange(DeviceCheck.Run(analysis, Assignment, devices / DeviceCheck.Demands(Assignment)));
        if (Assignment.PointsFor(Criterion.Balance) > 0) remarks.AddRange(BalanceCheck.Run(analysis, Assignment));

        var ordered = remarks.Select(r => Overruled(name, r)).OrderBy(r => r.IsOfWhole ? 0 : 1).ThenBy(r => r.Onset).ThenBy(r => r.Criterion);
        var ruled = Caps.Apply([.. ordered], Assignment.Limits);
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

    // Voice leading and given parts: what one wrong note makes wrong in both is one mistake.
    private IEnumerable<Remark> CheckNotes(CueAnalysis analysis, bool byModel) =>
    [
        .. _given is not null && Assignment.PointsFor(Criterion.GivenParts) > 0 ? CheckGivenParts(analysis.Score) : [],
        .. Assignment.PointsFor(Criterion.PartWriting) > 0 ? CheckPartWriting(analysis, byModel) : [],
    ];

    private bool IsMarkedByModel(Score score) => _model is not null && Assignment.ComparesWith switch
    {
        LabelSource.Model => true,
        LabelSource.Notes => false,
        _ => SharedNotes.Share(score, _model.Score) >= SameNotesShare,
    };

    private LabelMarks CheckLabels(CueAnalysis analysis, StudentLabels labels, bool byModel) => LabelCheck.Run(
        analysis.Score, analysis.Sonorities, labels, byModel ? _model!.Reading : analysis.Reading, byModel && _model!.HasLabels, Assignment.Labels);

    /// <summary>
    /// The remarks on labels, each with what it costs: the points are shared equally among the labels that are demanded. A mistake
    /// that is carried forward is part of its first remark.
    /// </summary>
    private List<Remark> Costed(LabelMarks marks)
    {
        var remarks = new List<Remark>();
        foreach (var mark in marks.Marks.Where(m => m.Remark is not null))
        {
            var remark = mark.Remark! with { Points = mark.Lost * LabelWorth(marks) };
            var cause = mark.IsCarried ? remarks.FindLastIndex(r => !r.Kind.IsAcceptance() && IsCauseOf(r, remark)) : -1;
            if (cause < 0) remarks.Add(remark);
            else remarks[cause] = remarks[cause] with { Parts = [.. remarks[cause].Parts, remark with { Points = 0 }] };
        }

        return remarks;
    }

    private static bool IsCauseOf(Remark cause, Remark remark) =>
        cause.Facts is LabelFacts { Meaning: { } a, Expected: { } b } && remark.Facts is LabelFacts { Meaning: { } x, Expected: { } y }
        && a.Key == x.Key && b.Key == y.Key;

    private double LabelWorth(LabelMarks marks) => marks.Demanded == 0 ? 0 : Assignment.PointsFor(Criterion.Labels) / marks.Demanded;

    private IEnumerable<Remark> CheckPartWriting(CueAnalysis analysis, bool byModel)
    {
        // Where the teacher has said which chords these are, the voices are judged by them.
        var reading = byModel && _model!.HasLabels ? _model.Reading : analysis.Reading;
        return PartWritingCheck.Run(analysis.Score, analysis.Sonorities, reading, Assignment.PartWriting)
            .Select(f => f with { Points = Assignment.FaultCost * (PartWritingRules.Find(f.Kind) is { } rule ? Assignment.PartWriting.WeightOf(rule) : 1) });
    }

    private IEnumerable<Remark> WithFreeFaults(IReadOnlyList<Remark> remarks)
    {
        var free = Assignment.FreeFaults;
        return remarks.Select(r => r is { Criterion: Criterion.PartWriting, Severity: Severity.Fault } && free-- > 0 ? r with { Points = 0 } : r);
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
            IsDecided = true,
            TeacherComment = overrule.Say.Length == 0 ? SubmissionWords.Decided(overrule.Points) : overrule.Say,
            Severity = overrule.Points > 0 ? Severity.Fault : Severity.Notice,
        };
    }

    private CriterionMark MarkOf(Criterion criterion, IReadOnlyList<Remark> remarks, LabelMarks? labels)
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
