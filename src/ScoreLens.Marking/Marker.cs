using ScoreLens.Marking.Alignment;
using ScoreLens.Marking.Assignments;
using ScoreLens.Marking.Classes;
using ScoreLens.Marking.Wording;
using ScoreLens.Notation;

namespace ScoreLens.Marking;

/// <summary>
/// Marks submissions against an assignment. One marker serves a whole class, on several threads: the model answers and the given
/// parts are read once.
/// </summary>
public sealed class Marker
{
    private readonly IReadOnlyList<ModelAnswer> _models;
    private readonly Score? _given;
    private readonly int? _movement;

    /// <summary>Prepares to mark an assignment.</summary>
    /// <param name="assignment">The assignment.</param>
    /// <param name="movement">
    /// The movement that is marked, of submissions that hold several; null for whole files. Of a model answer or of given parts that hold
    /// several, the same.
    /// </param>
    /// <exception cref="ScoreFormatException">The model answer or the given parts cannot be read; the message names the file.</exception>
    /// <exception cref="IOException">One of these files cannot be opened.</exception>
    public Marker(Assignment assignment, int? movement = null)
    {
        ArgumentNullException.ThrowIfNull(assignment);
        _movement = movement;
        Assignment = assignment;
        _models = [.. assignment.ModelPaths.Select(path => ModelAnswer.Of(path, Load(path), assignment.Keys))];
        if (assignment.Given is not { } given) return;
        _given = Load(given.ScorePath);
        if (given.Figures && FiguredBassTexts.Of(_given)
            .Count == 0) throw new ScoreFormatException($"{given.ScorePath}: {SubmissionWords.NoFigures}");
    }

    /// <summary>The assignment.</summary>
    public Assignment Assignment { get; }

    /// <summary>
    /// What the teacher should know of the model answers, such as labels that cannot be read, each with the file's path; mostly empty.
    /// </summary>
    public IReadOnlyList<string> ModelProblems => [.. _models.SelectMany(m => m.Problems.Select(p => $"{m.Path}: {p}"))];

    /// <summary>Every kind of remark that this assignment can lead to: the columns of the class's table.</summary>
    public IReadOnlyList<RemarkKind> Kinds =>
        [.. RemarkKinds.All.Where(k => Assignment.PointsFor(k.Criterion()) > 0).Where(IsPossible)];

    private bool IsPossible(RemarkKind kind) => kind.Criterion() switch
    {
        Criterion.PartWriting => Assignment.PartWriting.Rules.Any(r => r.Kind == kind && Assignment.PartWriting.WeightOf(r) > 0),
        Criterion.GivenParts => _given is not null,
        _ => true,
    };

    /// <summary>Marks a file. Whatever is wrong with it is told by the result's status and message, never thrown.</summary>
    /// <param name="name">The submission's name.</param>
    /// <param name="path">The file.</param>
    /// <param name="cancellationToken">Gives the marking up.</param>
    /// <exception cref="OperationCanceledException">The marking was given up.</exception>
    public MarkedSubmission MarkFile(string name, string path, CancellationToken cancellationToken = default)
    {
        try
        {
            var bytes = File.ReadAllBytes(path);
            if (SubmittedFile.OtherKind(bytes, path) is { } other) return NotMarked(name, SubmissionStatus.WrongFile, other);
            return Mark(name, ScoreFile.Parse(bytes, cancellationToken: cancellationToken), File.GetLastWriteTime(path), cancellationToken);
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
    /// <param name="cancellationToken">Gives the marking up.</param>
    /// <exception cref="OperationCanceledException">The marking was given up.</exception>
    public MarkedSubmission Mark(string name, ScoreFile file, DateTime? handedIn = null, CancellationToken cancellationToken = default)
    {
        ArgumentNullException.ThrowIfNull(file);
        if (_movement is { } movement)
        {
            var count = file.Score.Movements.Count;
            if (movement < 1 || movement > count) return NotMarked(name, SubmissionStatus.WrongFile,
                SubmissionWords.NoMovement(movement, count));
            file = file.Only(movement);
        }
        else if (Ambiguous(file.Score) is { } problem)
        {
            return NotMarked(name, SubmissionStatus.WrongFile, problem);
        }

        var score = file.Score;
        if (!score.Notes.Any(n => n.IsHarmonic)) return NotMarked(name, SubmissionStatus.Empty, SubmissionWords.NoNotes);
        if (_models.Count < 2) return Mark(name, file, handedIn, _models.Count == 0 ? null : _models[0], cancellationToken);
        // A model with other notes is no measure for the labels, however many points the student's own reading gives.
        var attempts = _models.Select(m => (Model: m, Marked: Mark(name, file, handedIn, m, cancellationToken)));
        var (model, best) = attempts.OrderByDescending(a => a.Marked.IsMarked).ThenByDescending(a => a.Marked.IsByModel)
            .ThenByDescending(a => a.Marked.Total).First();
        return !best.IsByModel ? best
            : best with { Observations = [SubmissionWords.ComparedWith(Path.GetFileName(model.Path)), .. best.Observations] };
    }

    private MarkedSubmission Mark(string name, ScoreFile file, DateTime? handedIn, ModelAnswer? model, CancellationToken cancellationToken)
    {
        var (score, given) = (file.Score, _given);
        IReadOnlyList<Difference> differences = [];
        if ((_given ?? (Assignment.ComparesWith == LabelSource.Notes ? null : model?.Score)) is { } set)
        {
            var alignment = ScoreAlignment.Of(score, set, SharedNotes.Given(set, _given is null ? [] : Assignment.Given!.Voices));
            if (!alignment.IsSamePiece)
                return NotMarked(name, SubmissionStatus.WrongPiece, SubmissionWords.OtherPiece(alignment.Kept, _given is not null));
            differences = alignment.Differences();
            if (differences.Count > 0)
            {
                var reference = new AlignedReference(alignment, score, set);
                given = _given is null ? null : reference.Of(_given);
                model = model is null ? null : model with { Score = reference.Of(model.Score), Reading = reference.Of(model.Reading) };
            }
        }

        return new SubmissionMarking(Assignment, given, model, differences).Mark(name, file, handedIn, cancellationToken);
    }

    // A measure that the assignment names has to be one measure of the submission.
    private string? Ambiguous(Score score)
    {
        if (score.Movements.Count < 2) return null;
        foreach (var measure in Assignment.Overrules.Select(o => o.Measure).OfType<string>())
        {
            var movements = score.Measures.Where(m => m.Number == measure).Select(m => m.Movement).Distinct().ToList();
            if (movements.Count > 1) return SubmissionWords.InSeveralMovements(measure, movements);
        }

        return null;
    }

    private MarkedSubmission NotMarked(string name, SubmissionStatus status, string message) =>
        MarkedSubmission.NotMarked(name, status, message, Assignment);

    private Score Load(string path)
    {
        try
        {
            var file = ScoreFile.Load(path);
            return _movement is { } movement && file.Score.Movements.Count >= Math.Max(2, movement) ? file.Only(movement).Score
                : file.Score;
        }
        catch (ScoreFormatException e)
        {
            throw new ScoreFormatException($"{path}: {e.ToDisplayString()}", inner: e);
        }
    }
}
