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
/// whether all labels stand on the reduction, whether it strips to the byte, whether the annotated score gives the tables of the plain one,
/// whether the schema of MusicXML finds nothing that it did not find before, and whether other programs read notes and labels back.
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
        var first = new Option<int?>("--first") { Description = "Only the first scores of the folder.", HelpName = "N" };
        var readers = new Option<bool>("--readers")
        {
            Description = "Open each annotated score in musescore3 and musicxml2ly too (seconds to minutes a score).",
        };
        var keep = new Option<string?>("--keep") { Description = "Keep the annotated scores in this folder.", HelpName = "DIR" };
        var command = new Command("fullscores", "Annotates full scores and checks labels, strip, tables, schema and other readers.")
        {
            measures, folder, first, readers, keep,
        };
        command.SetAction(parse =>
        {
            var scores = parse.GetValue(folder) is { } path
                ? Directory.EnumerateFiles(path, "*", SearchOption.AllDirectories)
                    .Where(f => ScoreFile.Extensions.Contains(Path.GetExtension(f)) && !f.EndsWith(".mid", StringComparison.Ordinal))
                    .Order(StringComparer.Ordinal).Take(parse.GetValue(first) ?? int.MaxValue)
                    .Select(f => (Path.GetFileNameWithoutExtension(f), File.ReadAllBytes(f)))
                : Parts.Select(p => ($"{p} parts", InventedOrchestra.MusicXml(p, parse.GetValue(measures))));
            var (all, failed) = (0, 0);
            foreach (var (name, bytes) in scores)
            {
                all++;
                if (!Check(name, bytes, parse.GetValue(readers), parse.GetValue(keep))) failed++;
            }

            Console.WriteLine(failed == 0 ? $"{all} scores: all hold" : $"{all} scores, FAILED: {failed}");
            return failed == 0 ? 0 : 1;
        });
        return command;
    }

    private static bool Check(string name, byte[] bytes, bool inReaders, string? keep)
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
        var (before, after) = (MusicXmlSchema.Faults(document.Source).Count, MusicXmlSchema.Faults(annotated.Source).Count);
        var sizes = own.Descendants().Attributes("font-size").Select(a => a.Value).Distinct().Count();
        var holds = strips && same && after <= before && sizes <= 1 && (!takes || outside == 0);
        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"{name}: {score.Parts.Sum(p => p.Staves)} staves, {score.Measures.Count} measures, {score.Movements.Count} movements, "
                + $"{analysis.Chords.Count} chords, "
            + $"{seconds:0.0} s, page {page.Length / 1e6:0.00} MB, {(takes ? "on the reduction" : "at the staves")}, "
            + $"strip {(strips ? "exact" : "DIFFERS")}, tables {(same ? "the same" : "DIFFER")}, "
            + $"schema {(after == 0 ? "valid" : after <= before ? $"{after} faults, all of the source" : $"{after - before} NEW FAULTS")}"));
        if (keep is not null)
        {
            Directory.CreateDirectory(keep);
            File.WriteAllBytes(Path.Combine(keep, $"{name}.annotated.musicxml"), annotated.Source);
        }

        return (!inReaders || OpensInOthers(annotated, score)) && holds;
    }

    // What a notation program exports has every part and label; what the converter makes of it has every numeral.
    private static bool OpensInOthers(MusicXmlDocument annotated, Score score)
    {
        var folder = Directory.CreateTempSubdirectory("scorelens-fullscores-");
        try
        {
            File.WriteAllBytes(Path.Combine(folder.FullName, "annotated.musicxml"), annotated.Source);
            var labels = Labels(annotated.Xml);
            return Musescore(folder.FullName, score, Lyrics(annotated.Xml)) & Converter(folder.FullName, labels);
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    private static bool Musescore(string folder, Score score, int lyrics)
    {
        if (OtherProgram.Run(folder, "musescore3", "-o", "exported.musicxml", "annotated.musicxml") is not { } run)
        {
            Console.WriteLine("  musescore3: not installed");
            return true;
        }

        var file = Path.Combine(folder, "exported.musicxml");
        if (!File.Exists(file))
        {
            Console.WriteLine($"  musescore3: FAILED {run.Output.Trim()}");
            return false;
        }

        var document = MusicXmlDocument.Parse(File.ReadAllBytes(file));
        var exported = MusicXmlReader.Read(document);
        var (read, parts) = (Lyrics(document.Xml), exported.Parts.Count);
        var holds = read >= lyrics && parts == score.Parts.Count;
        Console.WriteLine($"  musescore3: {parts} of {score.Parts.Count} parts, {exported.Notes.Count} of {score.Notes.Count} notes, "
            + $"{read} of {lyrics} lyrics, ours among them{(holds ? "" : " FAILED")}");
        return holds;
    }

    private static bool Converter(string folder, IReadOnlyList<string> labels)
    {
        if (OtherProgram.Run(folder, "musicxml2ly", "-o", "annotated.ly", "annotated.musicxml") is not { } run)
        {
            Console.WriteLine("  musicxml2ly: not installed");
            return true;
        }

        var file = Path.Combine(folder, "annotated.ly");
        var text = run.Status == 0 && File.Exists(file) ? File.ReadAllText(file) : "";
        // It writes a label as a word, with skips between.
        var words = text.Replace("\\skip1", " ", StringComparison.Ordinal)
            .Split([' ', '\u00a0', '\n', '"'], StringSplitOptions.RemoveEmptyEntries).ToHashSet(StringComparer.Ordinal);
        string[] wanted = [.. labels.SelectMany(l => l.Split(' ', '\u00a0')).Distinct()];
        var found = wanted.Count(words.Contains);
        Console.WriteLine($"  musicxml2ly: {found} of {wanted.Length} words of the labels{(found == wanted.Length ? "" : " FAILED")}");
        return found == wanted.Length;
    }

    // The texts of numerals and devices.
    private static List<string> Labels(XDocument xml) =>
    [
        .. xml.Descendants().Where(e => e.Name.LocalName == "lyric" && (string?)e.Attribute("name") == "analysis")
            .Select(e => string.Concat(e.Elements().Where(c => c.Name.LocalName == "text").Select(c => c.Value))),
    ];

    private static int Lyrics(XDocument xml) =>
        xml.Descendants().Count(e => e.Name.LocalName == "lyric" && e.Elements().Any(c => c.Name.LocalName == "text"));

    private static string Tables(CueAnalysis analysis)
    {
        using var text = new StringWriter(CultureInfo.InvariantCulture);
        ChordTable.Write(ChordRow.Of(analysis), text);
        PhraseTable.Write(PhraseRow.Of(analysis, CueDensity.Of(analysis, Band.Default)), text);
        return text.ToString();
    }
}
