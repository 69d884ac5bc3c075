using System.CommandLine;
using System.Diagnostics;
using System.Globalization;
using System.Xml.Linq;
using ScoreLens.Density;
using ScoreLens.Notation;
using ScoreLens.Notation.MusicXml;
using ScoreLens.Output.Annotation;
using ScoreLens.Output.Tables;
using ScoreLens.Pages;

namespace ScoreLens.Benchmarks;

/// <summary>
/// Full scores from reading to page: invented ones of 10, 25 and 40 parts, or real ones. Of each: how long it takes, how large the page is,
/// whether all labels stand on the reduction, whether it strips to the byte, and whether the annotated score gives the tables of the plain
/// one.
/// </summary>
internal static class FullScoreCommand
{
    private static readonly int[] Parts = [10, 25, 40];

    public static Command Create()
    {
        var measures = new Option<int>("--measures") { Description = "Length of the invented scores.", DefaultValueFactory = _ => 600 };
        var folder = new Option<string?>("--scores")
        {
            Description = "A folder of scores in place of the invented ones.",
            HelpName = "DIR"
        };
        var command = new Command("fullscores", "Annotates full scores and checks labels, strip and tables.") { measures, folder };
        command.SetAction(parse =>
        {
            var scores = parse.GetValue(folder) is { } path
                ? Directory.EnumerateFiles(path, "*", SearchOption.AllDirectories)
                    .Where(f => ScoreFile.Extensions.Contains(Path.GetExtension(f)) && !f.EndsWith(".mid", StringComparison.Ordinal))
                    .Order(StringComparer.Ordinal).Select(f => (Path.GetFileName(f), File.ReadAllBytes(f)))
                : Parts.Select(p => ($"{p} parts", InventedOrchestra.MusicXml(p, parse.GetValue(measures))));
            var failed = scores.Count(s => !Check(s.Item1, s.Item2));
            Console.WriteLine(failed == 0 ? "all hold" : $"FAILED: {failed}");
            return failed == 0 ? 0 : 1;
        });
        return command;
    }

    private static bool Check(string name, byte[] bytes)
    {
        var watch = Stopwatch.StartNew();
        var document = MusicXmlDocument.Parse(bytes);
        var score = MusicXmlReader.Read(document);
        var analysis = CueAnalysis.Of(score);
        var output = AnnotatedScore.Write(document, analysis, LabelOptions.Default);
        var annotated = MusicXmlDocument.Parse(output);
        var page = CuePage.Write(
            analysis, CueDensity.Of(analysis, Band.Default), annotated.Xml.ToString(SaveOptions.DisableFormatting));
        var seconds = watch.Elapsed.TotalSeconds;
        var takes = LabelOptions.Default.TakesReduction(score);
        var own = OwnLabels.PartElements(annotated.Xml.Root!).Where(e => e.Name.LocalName == "part").ToList();
        var outside = annotated.Xml.Descendants().Count(e => OwnLabels.Has(e) && !e.Ancestors().Any(own.Contains));
        var strips = MusicXmlDocument.Parse(AnnotatedScore.Strip(annotated)).Source.AsSpan().SequenceEqual(document.Source);
        var same = Tables(CueAnalysis.Of(MusicXmlReader.Read(annotated))) == Tables(analysis);
        var holds = strips && same && (!takes || outside == 0);
        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"{name}: {score.Parts.Sum(p => p.Staves)} staves, {score.Measures.Count} measures, {score.Movements.Count} movements, "
                + $"{analysis.Chords.Count} chords, "
            + $"{seconds:0.0} s, page {page.Length / 1e6:0.00} MB, {(takes ? "on the reduction" : "at the staves")}, "
            + $"strip {(strips ? "exact" : "DIFFERS")}, tables {(same ? "the same" : "DIFFER")}"));
        return holds;
    }

    private static string Tables(CueAnalysis analysis)
    {
        using var text = new StringWriter(CultureInfo.InvariantCulture);
        ChordTable.Write(ChordRow.Of(analysis), text);
        PhraseTable.Write(PhraseRow.Of(analysis, CueDensity.Of(analysis, Band.Default)), text);
        return text.ToString();
    }
}
