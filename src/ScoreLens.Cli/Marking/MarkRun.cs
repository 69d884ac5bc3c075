using System.CommandLine;
using ScoreLens.Cli.Shared;
using ScoreLens.Marking;
using ScoreLens.Marking.Classes;
using ScoreLens.Marking.Decisions;
using ScoreLens.Marking.Results;
using ScoreLens.Notation;

namespace ScoreLens.Cli.Marking;

/// <summary>One run of <c>mark</c> over a class.</summary>
internal sealed class MarkRun(ParseResult parse, ScoreOptions options, MarkFiles files, HandBack handBack)
{
    /// <summary>The name of the table of remarks among the results.</summary>
    public const string RemarksName = "remarks.csv";

    private readonly TextWriter _error = parse.InvocationConfiguration.Error;

    /// <summary>Marks the class, writes its results and gives the exit status.</summary>
    public int Run()
    {
        var roster = files.Roster();
        if (files.Marker(_error, parse.GetValue(options.Movement)) is not { } marker) return ExitStatus.Unreadable;
        foreach (var problem in marker.ModelProblems) _error.WriteLine($"scorelens: {problem}");
        var assignment = Path.GetFullPath(files.AssignmentPath);
        var folder = parse.GetValue(options.Out)
            ?? Path.Combine(Path.GetDirectoryName(assignment)!, Path.GetFileNameWithoutExtension(assignment)
                + ScoreInputs.ResultFolderSuffix);
        string[] others = [assignment, .. marker.Assignment.ModelPaths,
            .. new[] { marker.Assignment.Given?.ScorePath }.OfType<string>()];
        var session = new Session(parse, options, [.. ScoreFile.Extensions, .. SubmittedFile.OtherEndings], folder, others);
        var inputs = ClassInputs.Of(session.Inputs, folder, others, roster);
        var unknown = marker.Assignment.UnknownSubmissions(inputs.Names, isClass: files.Scores.Any(Directory.Exists)).ToList();
        if (unknown.Count > 0)
        {
            files.Report(unknown, _error);
            return ExitStatus.Unreadable;
        }

        var decisions = files.Decisions(marker.Assignment, folder);
        var marked = session.ForEach(inputs.Chosen, input => MarkOne(session, marker, decisions, input, inputs.MemberOf(input)));
        var submissions = inputs.InOrder(marked, marker);
        if (!session.IsQuiet)
            foreach (var submission in submissions) session.Output.WriteLine(MarkReport.Line(submission));
        if (submissions.Count > 0) WriteClass(session, marker, submissions, inputs, folder);
        handBack.Write(session, submissions, marker.Assignment);
        Report(decisions, session);
        return session.StatusWhen(submissions.Any(s => s.HasFaults || !s.IsMarked));
    }

    private void Report(TeacherDecisions decisions, Session session)
    {
        foreach (var row in decisions.Unused)
            _error.WriteLine($"scorelens: {RemarksName}: line {row.Line}: {row.Submission} has no remark '{row.Rule}' there any more; it "
                + $"was not applied.");
        if (decisions.Count > 0 && !session.IsQuiet) session.Output.WriteLine($"{decisions.Count - decisions.Unused.Count} of your "
            + $"decisions were kept.");
    }

    private static MarkedSubmission MarkOne(Session session, Marker marker, TeacherDecisions decisions, ScoreInput input,
        ClassMember member)
    {
        var proposed = marker.MarkFile(member.Name, input.Path, session.Stopped);
        var submission = decisions.Apply(proposed with
        {
            Identifier = member.Identifier,
            Observations = [.. proposed.Observations, .. member.Observations],
        });
        if (submission.Status is SubmissionStatus.Unreadable or SubmissionStatus.WrongFile) session.Fail(input.Path, submission.Message);
        if (!submission.IsMarked) return submission;
        using var results = session.ResultsIn(input.Folder);
        var ending = Path.GetExtension(input.Path);
        if (MarkedScore.Write(submission) is { } score) results.Add($"{input.Name}.marked{ending}", score);
        if (StudentFeedback.Write(submission, marker.Assignment) is { } page) results.Add($"{input.Name}.feedback.html", page);
        results.Commit();
        return submission;
    }

    private void WriteClass(Session session, Marker marker, IReadOnlyList<MarkedSubmission> submissions, ClassInputs inputs, string folder)
    {
        using (var results = session.ResultsIn(folder))
        {
            results.Add("marks.csv", writer => MarksTable.Write(submissions, marker, writer));
            results.Add(RemarksName, writer => RemarkTable.Write(submissions, writer));
            results.Add("gradebook.csv", writer => Gradebook.Write(submissions, writer));
            results.Add("class.html", ClassPage.Write(marker.Assignment, submissions, s => s.IsMarked ? inputs.FeedbackOf(s.Name) : null));
            results.Commit();
        }

        foreach (var left in EarlierResults.In(folder, inputs.ResultsOf(submissions)))
            _error.WriteLine($"scorelens: {left}: left from an earlier run; it belongs to no submission that was marked now.");
        if (!session.IsQuiet) MarkReport.Summary(ClassSummary.Of(submissions), folder, session.Output);
    }
}
