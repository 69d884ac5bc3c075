using System.CommandLine;
using ScoreLens.Cli.Marking;
using ScoreLens.Cli.Shared;
using ScoreLens.Marking.Assignments;

namespace ScoreLens.Cli.Commands;

/// <summary>Student work against an assignment: marked scores, feedback pages, the class's table and summary.</summary>
internal static class MarkCommand
{
    public static Command Create()
    {
        var scores = new ScoreOptions();
        var assignment = new Option<string?>("--assignment") { Description = "The assignment file.", HelpName = "FILE" };
        var model = new Option<string?>("--model")
        {
            Description = "A model answer to use instead of the one that the assignment names.",
            HelpName = "SCORE"
        };
        var roster = new Option<string?>("--roster")
        {
            Description = "The class as a table (CSV) with the column name and the optional columns identifier and file. "
                + "Missing students are then listed too.",
            HelpName = "FILE",
        };
        var remarks = new Option<string?>("--remarks")
        {
            Description = "The table of remarks as you edited it. Default: remarks.csv of an earlier run in the folder of the results.",
            HelpName = "FILE",
        };
        var handBack = new Option<string?>("--return")
        {
            Description = "Write one folder per student into this folder, to hand back.",
            HelpName = "DIR"
        };
        var anonymous = new Option<bool>("--anonymous") { Description = "With --return: pages without names, folders by identifier." };
        var start = new Option<string?>("--start")
        {
            Description = "Write a commented assignment file to begin with, and nothing else.",
            HelpName = "FILE"
        };
        var exercise = new Option<string?>("--exercise")
        {
            Description = $"With --start: the exercise that is set. One of {string.Join(", ", AssignmentExample.Exercises)}.",
            HelpName = "NAME",
        };
        var command = new DocumentedCommand(
            "mark",
            "Marks student work against an assignment: a marked score and a feedback page for each student, marks.csv and "
                + "class.html for the class. The results go into a folder beside the assignment file unless --out names "
                + "another.",
            "mark homework --assignment chorale.yaml --out marked",
            "mark homework --assignment chorale.yaml --roster class.csv --return back",
            "mark --start chorale.yaml",
            "mark --start bass.yaml --exercise figured-bass");
        scores.Scores.Arity = ArgumentArity.ZeroOrMore;
        scores.Scores.Description = "The students' scores, or folders of them. A student is identified by the name of the "
            + "file, or of the folder that contains it.";
        scores.Out.Description = "Folder for the results. Default: ASSIGNMENT.scorelens beside the assignment file.";
        scores.AddTo(command, reads: false);
        scores.Movement.Description = "Mark only this movement of submissions that contain several; of a model answer or given parts that "
            + "contain several, the same movement is used. Default: whole files.";
        command.Add(scores.Movement);
        foreach (var option in (Option[])[assignment, model, roster, remarks, handBack, anonymous, start, exercise]) command.Add(option);
        command.SetAction(parse =>
        {
            if (parse.GetValue(start) is { } path) return Start(path, parse.GetValue(exercise), parse.InvocationConfiguration.Output);
            if (parse.GetValue(exercise) is not null) throw new UsageException("--exercise needs --start FILE, the file to write.");
            if (parse.GetValue(assignment) is not { Length: > 0 } file)
                throw new UsageException("mark needs --assignment FILE; 'scorelens mark --start FILE' writes one to begin with.");
            if (parse.GetValue(scores.Scores) is not { Length: > 0 } inputs) throw new UsageException("mark needs the students' scores, "
                + "or a folder of them.");
            var files = new MarkFiles(file, parse.GetValue(model), parse.GetValue(roster), parse.GetValue(remarks), inputs);
            return new MarkRun(parse, scores, files, new HandBack(parse.GetValue(handBack), parse.GetValue(anonymous))).Run();
        });
        return command;
    }

    private static int Start(string path, string? exercise, TextWriter output)
    {
        if (path.Length == 0) throw new UsageException("--start takes a file.");
        if (exercise is not null && !AssignmentExample.Exercises.Contains(exercise))
            throw new UsageException($"--exercise: there is no exercise '{exercise}'; it is one of "
                + $"{string.Join(", ", AssignmentExample.Exercises)}.");
        if (Path.GetDirectoryName(Path.GetFullPath(path)) is { } folder && !Directory.Exists(folder))
            throw new UsageException($"--start: the folder {folder} does not exist; create it first, or choose another place.");
        if (Path.Exists(path)) throw new UsageException($"--start: {path} exists and is not overwritten; choose another name.");
        try
        {
            File.WriteAllText(path, exercise is null ? AssignmentExample.Text : AssignmentExample.For(exercise));
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new UsageException($"--start: {path} cannot be written; choose another place.");
        }

        output.WriteLine($"{path}: an assignment to start from; 'scorelens mark SCORE... --assignment {path}' marks against it.");
        return ExitStatus.Done;
    }
}
