using ScoreLens.Marking.Alignment;
using ScoreLens.Marking.Assignments;
using ScoreLens.Marking.Facts;
using ScoreLens.Marking.Labels;
using ScoreLens.Marking.Mistakes;
using ScoreLens.Marking.PartWriting;
using ScoreLens.Marking.Wording;
using ScoreLens.Notation;
using ScoreLens.Reading;

namespace ScoreLens.Marking;

/// <summary>The marking of one submission.</summary>
/// <param name="assignment">The assignment.</param>
/// <param name="given">The given parts where they stand in the submission; null where none are given.</param>
/// <param name="model">The model answer in the frame of the submission; null where there is none.</param>
/// <param name="differences">How the submission differs as a whole.</param>
internal sealed class SubmissionMarking(Assignment assignment, Score? given, ModelAnswer? model, IReadOnlyList<Difference> differences)
{
    private const double SameNotesShare = 0.9;

    /// <summary>Marks the submission.</summary>
    /// <exception cref="OperationCanceledException">The marking was given up.</exception>
    public MarkedSubmission Mark(string name, ScoreFile file, DateTime? handedIn, CancellationToken cancellationToken)
    {
        var score = file.Score;
        // A student's own symbols are answers, not evidence.
        var analysis = CueAnalysis.Of(score, assignment.Keys, HarmonySource.Notes, cancellationToken);
        var labels = StudentLabels.Read(score, (model?.Reading ?? analysis.Reading).HomeKey, assignment.Labels);
        if (labels.Labels.Count == 0 && AddsNothing(score))
            return MarkedSubmission.NotMarked(name, SubmissionStatus.Empty, SubmissionWords.NothingAdded, assignment);

        var byModel = IsMarkedByModel(score);
        var labelMarks = assignment.PointsFor(Criterion.Labels) > 0 ? CheckLabels(analysis, labels, byModel) : null;
        var remarks = new List<Remark>();
        if (labelMarks is not null) remarks.AddRange(Costed(labelMarks));
        remarks.AddRange(WithFreeFaults(MistakeGroups.Of([.. CheckNotes(analysis, byModel)])));
        if (assignment.PointsFor(Criterion.Devices) is > 0 and var devices)
            remarks.AddRange(DeviceCheck.Run(analysis, assignment, devices / DeviceCheck.Demands(assignment)));
        if (assignment.PointsFor(Criterion.Balance) > 0) remarks.AddRange(BalanceCheck.Run(analysis, assignment));

        var ordered = remarks.Select(r => Overruled(name, r)).OrderBy(r => r.IsOfWhole ? 0 : 1).ThenBy(r => r.Onset)
            .ThenBy(r => r.Criterion);
        var ruled = Caps.Apply([.. ordered], assignment.Limits);
        var costs = differences.Select(d => (Difference: d, Points: assignment.Differences.Of(d, assignment.OutOf))).ToList();
        var late = assignment.Due is { } due && handedIn > due;
        return new MarkedSubmission(
            name,
            late ? SubmissionStatus.Late : SubmissionStatus.Marked,
            string.Join(' ', [.. costs.Select(c => DifferenceWords.Of(c.Difference, c.Points)), .. late ? [LateMessage(handedIn!.Value)]
                : Array.Empty<string>()]),
            file,
            analysis,
            CriterionReckoning.Of(assignment, ruled, labelMarks),
            labelMarks,
            late ? assignment.LateCost : 0,
            ruled)
        {
            DifferenceCost = costs.Sum(c => c.Points),
            IsByModel = byModel,
        };
    }

    private string LateMessage(DateTime handedIn) => SubmissionWords.Late(handedIn, assignment.Due!.Value, assignment.LateCost);

    // Voice leading and given parts: what one wrong note makes wrong in both is one mistake.
    private IEnumerable<Remark> CheckNotes(CueAnalysis analysis, bool byModel) =>
    [
        .. given is not null && assignment.PointsFor(Criterion.GivenParts) > 0 ? CheckGivenParts(analysis.Score) : [],
        .. assignment.PointsFor(Criterion.PartWriting) > 0 ? CheckPartWriting(analysis, byModel) : [],
    ];

    // A given bass with figures says what its chords are.
    private HarmonicReading ReadingOf(CueAnalysis analysis)
    {
        if (given is null || assignment.Given is not { Figures: true }) return analysis.Reading;
        var lines = VoiceFinder.Find(given, assignment.PartWriting.Style, assignment.PartWriting.VoiceCount);
        return lines.Count == 0 ? analysis.Reading : FiguredReading.Of(analysis.Reading, given, lines[^1]);
    }

    private bool IsMarkedByModel(Score score) => model is not null && assignment.ComparesWith switch
    {
        LabelSource.Model => true,
        LabelSource.Notes => false,
        _ => SharedNotes.Share(score, model.Score) >= SameNotesShare,
    };

    private LabelMarks CheckLabels(CueAnalysis analysis, StudentLabels labels, bool byModel) => LabelCheck.Run(
        analysis.Score, analysis.Sonorities, labels, byModel ? model!.Reading : ReadingOf(analysis), byModel && model!.HasLabels,
            assignment.Labels);

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

    private double LabelWorth(LabelMarks marks) => marks.Demanded == 0 ? 0 : assignment.PointsFor(Criterion.Labels) / marks.Demanded;

    private IEnumerable<Remark> CheckPartWriting(CueAnalysis analysis, bool byModel)
    {
        // Where the teacher has said which chords these are, the voices are judged by them.
        var reading = byModel && model!.HasLabels ? model.Reading : analysis.Reading;
        return PartWritingCheck.Run(analysis.Score, analysis.Sonorities, reading, assignment.PartWriting)
            .Select(f => f with
            {
                Points = assignment.FaultCost * (PartWritingRules.Find(f.Kind) is { } rule
                ? assignment.PartWriting.WeightOf(rule) : 1)
            });
    }

    private IEnumerable<Remark> WithFreeFaults(IReadOnlyList<Remark> remarks)
    {
        var free = assignment.FreeFaults;
        return remarks.Select(r => r is { Criterion: Criterion.PartWriting, Severity: Severity.Fault } && free-- > 0
            ? r with { Points = 0 } : r);
    }

    private IEnumerable<Remark> CheckGivenParts(Score score) =>
        GivenPartsCheck.Run(score, given!, assignment.Given!.Voices, assignment.Given.Figures, assignment.PartWriting)
            .Select(r => r with { Points = r.Severity == Severity.Fault ? assignment.FaultCost : 0 });

    private Remark Overruled(string name, Remark remark)
    {
        if (assignment.Overrules.FirstOrDefault(o => o.Covers(name, remark)) is not { } overrule) return remark;
        return remark with
        {
            Points = overrule.Points,
            IsDecided = true,
            TeacherComment = overrule.Say.Length == 0 ? SubmissionWords.Decided(overrule.Points) : overrule.Say,
            Severity = overrule.Points > 0 ? Severity.Fault : Severity.Notice,
        };
    }

    private bool AddsNothing(Score score) => given is not null && SharedNotes.Of(score).IsSubsetOf(SharedNotes.Of(given));
}
