using System.CommandLine;
using System.Globalization;
using System.Xml.Linq;
using ScoreLens.Density;
using ScoreLens.Grouping;
using ScoreLens.Notation;
using ScoreLens.Notation.MusicXml;
using ScoreLens.Output.Annotation;
using ScoreLens.Output.Tables;
using ScoreLens.Pages;
using ScoreLens.Phrases;
using ScoreLens.Reading;
using ScoreLens.Reading.Model;
using ScoreLens.Reading.Search;
using ScoreLens.Sonorities;
using ScoreLens.TestKit.Corpus;

namespace ScoreLens.Benchmarks;

/// <summary>
/// Where the time goes from the bytes of a score to its results, stage by stage in one warm process: processor time of all cores together,
/// and each as a multiple of loading the score's XML. What a stage takes from an earlier one is there before it is timed.
/// </summary>
internal static class StagesCommand
{
    // Runs of a stage, of which the median counts: at least so many, and for at least so long.
    private const int LeastRuns = 3;
    private const double LeastMilliseconds = 300;
    private static readonly TimeSpan WarmUp = TimeSpan.FromMilliseconds(500);

    public static Command Create()
    {
        var scores = new Argument<string[]>("SCORE")
        {
            Description = "Scores; without any a chorale and a keyboard movement of the corpus, and an invented full score of 25 parts.",
            Arity = ArgumentArity.ZeroOrMore,
        };
        var command = new Command("stages", "Prints where the time goes from a score's bytes to its results.") { scores };
        command.SetAction(parse =>
        {
            if (parse.GetValue(scores) is { Length: > 0 } given)
            {
                foreach (var path in given) Print(Path.GetFileName(path), File.ReadAllBytes(path));
                return 0;
            }

            var works = CorpusWorks.In(CorpusWorks.DefaultFolder).ToLookup(w => w.Group(), w => w.ScorePath);
            foreach (var repertoire in (string[])["open/chorales", "open/keyboard"])
            {
                if (works[repertoire].FirstOrDefault() is { } path)
                    Print($"{repertoire}: {Path.GetFileName(Path.GetDirectoryName(path))}", File.ReadAllBytes(path));
            }

            Print("invented full score", InventedOrchestra.MusicXml(25, 200));
            return 0;
        });
        return command;
    }

    private static void Print(string name, byte[] bytes)
    {
        var file = ScoreFile.Parse(bytes);
        var document = file.MusicXml ?? throw new ArgumentException($"{name} is no MusicXML.", nameof(name));
        var score = file.Score;
        var sonorities = SonorityFinder.Find(score);
        var grouping = new GroupingEvidence(score, sonorities);
        var model = ReadingModel.Default;
        var settings = ReadingSettings.Default;
        var (rows, signatures) = SonorityFeatures.Of(score, sonorities, grouping);
        var output = model.Run(rows, sonorities);
        var analysis = CueAnalysis.Of(score);
        var density = CueDensity.Of(analysis, Band.Default);
        var annotated = AnnotatedScore.Labelled(document, analysis, LabelOptions.Default);
        var text = document.Xml.ToString(SaveOptions.DisableFormatting);

        var load = Median(() => XDocument.Parse(text));
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"{name}: {text.Length / 1024} KiB of XML, {score.Measures.Count} measures, {sonorities.Count} verticals; its XML loads in "
            + $"{load:0.0} ms"));
        double sum = 0;
        Median(() => AnnotatedScore.Write(document, CueAnalysis.Of(MusicXmlReader.Read(document)), LabelOptions.Default));
        Stage("XML with its checks", () => MusicXmlDocument.Parse(bytes));
        Stage("score from XML", () => MusicXmlReader.Read(document));
        var before = sum;
        Stage("verticals", () => SonorityFinder.Find(score));
        Stage("cues of grouping", () => _ = new GroupingEvidence(score, sonorities));
        Stage("features", () => SonorityFeatures.Of(score, sonorities, grouping));
        Stage("networks", () => model.Run(rows, sonorities));
        Stage("search", () => ReadingDecoder.Decode(model, settings, output, signatures, sonorities));
        Stage("phrases, once", () => PhraseFinder.Find(score, sonorities, grouping, analysis.Reading));
        var analysing = Median(() => CueAnalysis.Of(score));
        Line("rest of the analysis", analysing - (sum - before));
        sum = before + analysing;
        Stage("tables", () =>
        {
            using var table = new StringWriter(CultureInfo.InvariantCulture);
            ChordTable.Write(ChordRow.Of(analysis), table);
            PhraseTable.Write(PhraseRow.Of(analysis, density), table);
        });
        Stage("labels", () => AnnotatedScore.Write(document, analysis, LabelOptions.Default));
        Stage("page", () => CuePage.Write(analysis, density, annotated.ToXmlText()));
        Line("all", sum);

        void Stage(string stage, Action work)
        {
            var milliseconds = Median(work);
            sum += milliseconds;
            Line(stage, milliseconds);
        }

        void Line(string stage, double milliseconds) => Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"  {stage,-22} {milliseconds,8:0.0} ms {milliseconds / load,6:0.0} times"));
    }

    private static double Median(Action work)
    {
        // A warm process: what is called often is compiled anew in the meantime.
        for (var start = Environment.CpuUsage.TotalTime; Environment.CpuUsage.TotalTime - start < WarmUp;) work();
        var times = new List<double>();
        while (times.Count < LeastRuns || times.Sum() < LeastMilliseconds)
        {
            var before = Environment.CpuUsage.TotalTime;
            work();
            times.Add((Environment.CpuUsage.TotalTime - before).TotalMilliseconds);
        }

        times.Sort();
        return times[times.Count / 2];
    }
}
