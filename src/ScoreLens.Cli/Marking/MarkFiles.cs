using ScoreLens.Cli.Shared;
using ScoreLens.Marking;
using ScoreLens.Marking.Assignments;
using ScoreLens.Marking.Classes;
using ScoreLens.Marking.Decisions;
using ScoreLens.Notation;

namespace ScoreLens.Cli.Marking;

/// <summary>The files that a run of <c>mark</c> is given beside the submissions.</summary>
/// <param name="AssignmentPath">The assignment file.</param>
/// <param name="ModelPath">The model answer of the command line; null for those of the assignment.</param>
/// <param name="RosterPath">The roster; null for none.</param>
/// <param name="RemarksPath">The table of remarks that the teacher edited; null for that of an earlier run, if there is one.</param>
/// <param name="Scores">The SCORE arguments.</param>
internal sealed record MarkFiles(string AssignmentPath, string? ModelPath, string? RosterPath, string? RemarksPath,
    IReadOnlyList<string> Scores)
{
    /// <summary>
    /// The marker, for one movement or for whole files; null where the assignment or a score that it names cannot be read, which is
    /// reported.
    /// </summary>
    public Marker? Marker(TextWriter error, int? movement)
    {
        if (Directory.Exists(AssignmentPath)) throw new UsageException($"--assignment: {AssignmentPath} is a folder; give the assignment "
            + $"file.");
        if (ModelPath is not null) CheckModel(ModelPath);
        try
        {
            var assignment = AssignmentFile.Load(AssignmentPath);
            return new Marker(ModelPath is null ? assignment : assignment with { ModelPaths = [Path.GetFullPath(ModelPath)] }, movement);
        }
        catch (AssignmentFormatException e)
        {
            Report(e.Problems, error);
        }
        catch (Exception e) when (Failures.Describe(e) is { } message)
        {
            error.WriteLine($"scorelens: {(e is ScoreFormatException ? "" : AssignmentPath + ": ")}{message}");
        }

        return null;
    }

    /// <summary>The roster; null where none is given.</summary>
    /// <exception cref="UsageException">It cannot be read.</exception>
    public Roster? Roster()
    {
        if (RosterPath is null) return null;
        if (!File.Exists(RosterPath)) throw new UsageException($"--roster: there is no file {RosterPath}.");
        try
        {
            using var reader = File.OpenText(RosterPath);
            return ScoreLens.Marking.Classes.Roster.Read(reader);
        }
        catch (Exception e) when (Failures.Describe(e) is { } message)
        {
            throw new UsageException($"--roster: {RosterPath}: {message}");
        }
    }

    /// <summary>What the teacher decided, in the table that is given or in that of an earlier run.</summary>
    /// <exception cref="UsageException">The table cannot be read.</exception>
    public TeacherDecisions Decisions(Assignment assignment, string folder)
    {
        var path = RemarksPath ?? Path.Combine(folder, MarkRun.RemarksName);
        if (!File.Exists(path)) return RemarksPath is null ? TeacherDecisions.None(assignment)
            : throw new UsageException($"--remarks: there is no file {path}.");
        try
        {
            using var reader = File.OpenText(path);
            return new TeacherDecisions(RemarkTable.Read(reader), assignment);
        }
        catch (Exception e) when (Failures.Describe(e) is { } message)
        {
            throw new UsageException($"{(RemarksPath is null ? "" : "--remarks: ")}{path}: {message}");
        }
    }

    /// <summary>Reports what is wrong in the assignment file, by line.</summary>
    public void Report(IEnumerable<AssignmentProblem> problems, TextWriter error)
    {
        foreach (var problem in problems) error.WriteLine($"scorelens: {AssignmentPath}: {problem}");
    }

    private void CheckModel(string model)
    {
        if (!File.Exists(model)) throw new UsageException($"--model: there is no file {model}.");
        if (Scores.FirstOrDefault(s => File.Exists(s) && RealPath.Of(s) == RealPath.Of(model)) is { } score)
            throw new UsageException($"--model: {model} is the SCORE itself ({score}); a submission is no model answer for itself.");
    }
}
