using System.CommandLine;
using System.Diagnostics;
using System.Globalization;
using ScoreLens.Density;
using ScoreLens.Notation;
using ScoreLens.Reading;
using ScoreLens.Reharmonising;
using ScoreLens.Reharmonising.Sets;
using ScoreLens.TestKit.Corpus;

namespace ScoreLens.Benchmarks.Offers;

/// <summary>
/// Takes plain phrases, always the same ones, asks for a set of chords that brings each into the band, writes it, reads the score again and
/// counts in how many the band is reached.
/// </summary>
internal static class SetsCommand
{
    private const int Seed = 18, LeastChords = 6, OfOneWork = 2;

    public static Command Create()
    {
        var count = new Option<int>("--count") { Description = "So many phrases.", HelpName = "N", DefaultValueFactory = _ => 50 };
        var each = new Option<bool>("--each") { Description = "Print every phrase." };
        var only = new Option<string?>("--only") { Description = "Only works whose path has this text.", HelpName = "TEXT" };
        var command = new Command("sets", "Counts in how many of 50 plain phrases of the open works and the demo a set of chords reaches "
            + "the band.")
        {
            count, each, only,
        };
        command.SetAction(parse =>
        {
            string[] files =
            [
                .. CorpusWorks.Beside is { } corpus ? CorpusWorks.In(corpus, "open/").Where(w => w.Repertoire != "textbooks").Select(w =>
                w.ScorePath) : [],
                .. Places.Scores(Places.TestData).Where(f => !f.Contains("homework", StringComparison.Ordinal)),
            ];
            new Random(Seed).Shuffle(files);
            var phrases = files.Take(parse.GetValue(count)).Where(f => parse.GetValue(only) is not { } text
                || f.Contains(text, StringComparison.Ordinal)).AsParallel().AsOrdered().SelectMany(Try).Take(parse.GetValue(count))
            .ToArray();
            if (parse.GetValue(each)) foreach (var phrase in phrases) Console.WriteLine(phrase.Line);
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
                $"{phrases.Length} plain phrases: the band reached in {100.0 * phrases.Count(p => p.IsReached) / phrases.Length:0.0} %, "
                    + $"nearer in {100.0 * phrases.Count(p => p.IsNearer) / phrases.Length:0.0} %, {phrases.Average(p => p.Changes):0.0} "
                    + $"chords changed in the mean, {phrases.Average(p => p.Seconds):0.0} s a phrase"));
        });
        return command;
    }

    private static IEnumerable<Tried> Try(string file)
    {
        var analysis = CueAnalysis.Of(ScoreFile.Load(file).Score);
        var plain = CueDensity.Of(analysis, Band.Default).Phrases
            .Where(p => p.Verdict == Verdict.Below && p.Shares.Chords >= LeastChords).Take(OfOneWork).ToArray();
        var search = new SetSearch(new Reharmoniser(analysis, Band.Default), Band.Default);
        foreach (var phrase in plain)
        {
            var watch = Stopwatch.StartNew();
            var set = search.Find(phrase.Phrase.Start, phrase.Phrase.End, ColourWish.IntoBand);
            yield return new Tried(set.IsReached, set.After > set.Before, set.Choices.Count, watch.Elapsed.TotalSeconds, string.Create(
                CultureInfo.InvariantCulture,
                $"{Path.GetFileName(Path.GetDirectoryName(file))}/{Path.GetFileName(file)} phrase {phrase.Phrase.Number}: "
                    + $"{100 * set.Before.ToDouble():0.0} -> {100 * set.After.ToDouble():0.0} %: "
                    + $"{string.Join(", ", set.Choices.Select(c => Named(analysis, set.Analysis.Chords[c.Index].Reading, c)))}"));
        }
    }

    // With the borders of its own where the chord does not take those of the one that stands there.
    private static string Named(CueAnalysis analysis, ChordReading place, Choice choice)
    {
        var isOwn = analysis.Chords.Any(c => (c.Reading.Onset, c.Reading.End) == (place.Onset, place.End));
        return $"{choice.Alternative.Numeral} for {place.Numeral}{(isOwn ? "" : $" ({place.Onset} to {place.End})")}";
    }

    private sealed record Tried(bool IsReached, bool IsNearer, int Changes, double Seconds, string Line);
}
