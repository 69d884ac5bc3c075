using System.CommandLine;
using System.Diagnostics;
using System.Globalization;
using ScoreLens.Notation;
using ScoreLens.Notation.MusicXml;
using ScoreLens.Sonorities;

namespace ScoreLens.Benchmarks;

/// <summary>
/// Reads every MusicXML file below a folder and prints of each whether it completes, with what was read, or is refused,
/// with the error: by default the conformance suite.
/// </summary>
internal static class ReadingCommand
{
    public static Command Create()
    {
        var folder = new Argument<string>("FOLDER")
        {
            Description = "A folder of MusicXML files.",
            DefaultValueFactory = _ => Places.External("conformance"),
        };
        var brief = new Option<bool>("--brief") { Description = "Prints refused files and the sums only." };
        var command = new Command("reading", "Reads every MusicXML file below a folder and prints what was read, or why it is "
            + "refused.") { folder, brief };
        command.SetAction(parse =>
        {
            var path = Path.GetFullPath(parse.GetRequiredValue(folder));
            if (Directory.Exists(path)) Report(path, parse.GetValue(brief));
            else Console.WriteLine($"skipped: there is no folder {path}");
        });
        return command;
    }

    private static void Report(string folder, bool isBrief)
    {
        int completed = 0, refused = 0;
        long notes = 0;
        var watch = Stopwatch.StartNew();
        foreach (var path in Places.Scores(folder))
        {
            var name = Path.GetRelativePath(folder, path);
            try
            {
                var score = MusicXmlReader.Read(MusicXmlDocument.Load(path));
                var verticals = SonorityFinder.Find(score).Count;
                completed++;
                notes += score.Notes.Count;
                if (!isBrief) Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
                    $"completes  {name}: {Summary(score)}, {verticals} verticals"));
            }
            catch (ScoreFormatException e)
            {
                refused++;
                Console.WriteLine($"refuses    {name}: {e.ToDisplayString()}");
            }
        }

        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"{completed} complete, {refused} refused; {notes} notes in {watch.Elapsed.TotalSeconds:0.0} s."));
    }

    private static string Summary(Score score) => string.Create(
        CultureInfo.InvariantCulture,
        $"{score.Parts.Count} parts, {score.Measures.Count} measures, {score.End} quarters, {score.Notes.Count} notes, "
            + $"{score.ChordSymbols.Count} symbols, {score.Texts.Count} texts");
}
