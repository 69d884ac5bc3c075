using System.CommandLine;
using System.Globalization;
using ScoreLens.Cli.Shared;
using ScoreLens.Marking;
using ScoreLens.Marking.Assignments;
using ScoreLens.Notation;
using ScoreLens.Marking.Results;

namespace ScoreLens.Cli.Commands;

/// <summary>Student work against an assignment: marked scores, feedback pages, the class's table and summary.</summary>
internal static class MarkCommand
{
    public static Command Create()
    {
        var scores = new ScoreOptions();
        var assignment = new Option<string?>("--assignment") { Description = "The assignment file.", HelpName = "FILE" };
        var model = new Option<string?>("--model") { Description = "A model answer, in place of the one that the assignment names.", HelpName = "SCORE" };
        var start = new Option<string?>("--start") { Description = "Write a commented assignment file to start from, and nothing else.", HelpName = "FILE" };
        var command = new DocumentedCommand(
            "mark",
            "Marks student work against an assignment: a marked score and a feedback page each, marks.csv and class.html for all, "
            + "in a folder beside the assignment file unless --out names another.",
            "mark homework --assignment chorale.yaml --out marked",
            "mark --start chorale.yaml");
        scores.Scores.Arity = ArgumentArity.ZeroOrMore;
        scores.Scores.Description = "The students' scores, or folders of them; the file's name is the submission's name.";
        scores.Out.Description = "Folder for the results. Default: ASSIGNMENT.scorelens beside the assignment file.";
        scores.AddTo(command);
        command.Add(assignment);
        command.Add(model);
        command.Add(start);
        command.SetAction(parse =>
        {
            if (parse.GetValue(start) is { } path) return Start(path, parse.InvocationConfiguration.Output);
            if (parse.GetValue(assignment) is not { Length: > 0 } file)
                throw new UsageException("mark needs --assignment FILE; 'scorelens mark --start FILE' writes one to start from.");
            if (parse.GetValue(scores.Scores) is not { Length: > 0 }) throw new UsageException("mark needs the students' scores, or a folder of them.");
            return Mark(parse, scores, file, parse.GetValue(model));
        });
        return command;
    }

    private static int Start(string path, TextWriter output)
    {
        if (path.Length == 0) throw new UsageException("--start takes a file.");
        if (Path.GetDirectoryName(Path.GetFullPath(path)) is { } folder && !Directory.Exists(folder))
            throw new UsageException($"--start: there is no folder {folder}; make it first, or choose another place.");
        if (Path.Exists(path)) throw new UsageException($"--start: {path} exists and is left as it is; choose another name.");
        try
        {
            File.WriteAllText(path, AssignmentExample.Text);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new UsageException($"--start: {path} cannot be written; choose another place.");
        }

        output.WriteLine($"{path}: an assignment to start from; 'scorelens mark SCORE... --assignment {path}' marks against it.");
        return ExitStatus.Done;
    }

    private static int Mark(ParseResult parse, ScoreOptions options, string file, string? model)
    {
        var error = parse.InvocationConfiguration.Error;
        if (Load(file, model, error) is not { } marker) return ExitStatus.Unreadable;
        foreach (var problem in marker.ModelProblems) error.WriteLine($"scorelens: {marker.Assignment.ModelPath}: {problem}");
        var folder = parse.GetValue(options.Out) ?? Path.Combine(
            Path.GetDirectoryName(Path.GetFullPath(file))!, Path.GetFileNameWithoutExtension(file) + ScoreInputs.ResultFolderSuffix);
        string[] others = [file, .. new[] { marker.Assignment.ModelPath, marker.Assignment.Given?.ScorePath }.OfType<string>()];
        var session = new Session(parse, options, [.. ScoreFile.Extensions, .. SubmittedFile.OtherEndings], folder, others);
        var names = Names(session.Inputs, folder);
        var submissions = session.ForEach(input => MarkOne(session, marker, input, names[input]), submission =>
        {
            if (!session.IsQuiet) session.Output.WriteLine(Line(submission));
        });
        WriteClass(session, marker, submissions, names, folder);
        return session.StatusWhen(submissions.Any(s => s.HasFaults || !s.IsMarked));
    }

    private static Marker? Load(string file, string? model, TextWriter error)
    {
        if (Directory.Exists(file)) throw new UsageException($"--assignment: {file} is a folder; give the assignment file.");
        try
        {
            var assignment = AssignmentFile.Load(file);
            if (model is not null && !File.Exists(model)) throw new UsageException($"--model: there is no file {model}.");
            return new Marker(model is null ? assignment : assignment with { ModelPath = Path.GetFullPath(model) });
        }
        catch (AssignmentFormatException e)
        {
            foreach (var problem in e.Problems) error.WriteLine($"scorelens: {file}: {problem}");
        }
        catch (Exception e) when (Failures.Describe(e) is { } message)
        {
            error.WriteLine($"scorelens: {(e is ScoreFormatException ? "" : file + ": ")}{message}");
        }

        return null;
    }

    // A folder a student, each with a file of one name: then the folder tells whose work it is.
    private static Dictionary<ScoreInput, string> Names(IReadOnlyList<ScoreInput> inputs, string folder)
    {
        var often = inputs.GroupBy(i => i.Name).Where(g => g.Count() > 1).Select(g => g.Key).ToHashSet();
        return inputs.ToDictionary(i => i, i => often.Contains(i.Name) ? Path.GetRelativePath(folder, Path.Combine(i.Folder, i.Name)).Replace('\\', '/') : i.Name);
    }

    private static MarkedSubmission MarkOne(Session session, Marker marker, ScoreInput input, string name)
    {
        var submission = marker.MarkFile(name, input.Path);
        if (submission.Status is SubmissionStatus.Unreadable or SubmissionStatus.WrongFile)
            session.Fail(input.Path, submission.Message);
        if (!submission.IsMarked) return submission;
        using var results = session.ResultsIn(input.Folder);
        var ending = Path.GetExtension(input.Path);
        if (MarkedScore.Write(submission) is { } score) results.Add($"{input.Name}.marked{ending}", score);
        if (StudentFeedback.Write(submission, marker.Assignment) is { } page) results.Add($"{input.Name}.feedback.html", page);
        results.Commit();
        return submission;
    }

    private static void WriteClass(
        Session session, Marker marker, IReadOnlyList<MarkedSubmission> submissions, Dictionary<ScoreInput, string> names, string folder)
    {
        if (submissions.Count == 0) return;
        var pages = names.Where(n => submissions.Any(s => s.Name == n.Value && s.IsMarked))
            .ToDictionary(n => n.Value, n => Path.GetRelativePath(folder, Path.Combine(n.Key.Folder, $"{n.Key.Name}.feedback.html")).Replace('\\', '/'));
        using (var results = session.ResultsIn(folder))
        {
            results.Add("marks.csv", writer => MarksTable.Write(submissions, marker, writer));
            results.Add("class.html", ClassPage.Write(
                marker.Assignment, submissions, s => pages.TryGetValue(s.Name, out var page) ? string.Join('/', page.Split('/').Select(Uri.EscapeDataString)) : null));
            results.Commit();
        }

        if (session.IsQuiet) return;
        var summary = ClassSummary.Of(submissions);
        session.Output.WriteLine();
        session.Output.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"{summary.Submissions} handed in, {summary.Marked} marked; mean {summary.Mean:0.#}, median {summary.Median:0.#} of {summary.OutOf:0.##} points -> {folder}"));
        foreach (var fault in summary.Faults.Take(10))
        {
            session.Output.WriteLine(string.Create(
                CultureInfo.InvariantCulture, $"  {fault.Kind.Name(),-32} {fault.Count,3} in {fault.Submissions} submission{(fault.Submissions == 1 ? "" : "s")}"));
        }
    }

    private static string Line(MarkedSubmission submission)
    {
        var head = string.Create(CultureInfo.InvariantCulture, $"{submission.Name,-24} {MarksTable.Name(submission.Status),-10}");
        if (!submission.IsMarked) return $"{head} {submission.Message}";
        var faults = submission.Remarks.Where(r => r.Severity == Severity.Fault).GroupBy(r => r.Kind).OrderByDescending(g => g.Sum(r => r.Points));
        var told = string.Join(", ", faults.Take(3).Select(g => $"{g.Count()} {g.Key.Name()}"));
        return string.Create(CultureInfo.InvariantCulture, $"{head} {submission.Total,6:0.##} of {submission.OutOf:0.##}  {told}").TrimEnd();
    }
}
