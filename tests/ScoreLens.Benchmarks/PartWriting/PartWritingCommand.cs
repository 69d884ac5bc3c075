using System.CommandLine;
using System.Globalization;
using ScoreLens.Marking;
using ScoreLens.Marking.PartWriting;
using ScoreLens.Sonorities;
using ScoreLens.TestKit.Corpus;

namespace ScoreLens.Benchmarks.PartWriting;

/// <summary>
/// Hits of every part-writing rule in the open chorales, per hundred chords: with the expert's numerals as the reading, or with
/// the program's own.
/// </summary>
internal static class PartWritingCommand
{
    public static Command Create()
    {
        var own = new Option<bool>("--own") { Description = "Takes the program's own reading instead of the expert's numerals." };
        var list = new Option<string?>("--list") { Description = "Prints each hit of one rule.", HelpName = "RULE" };
        var context = new Option<bool>("--context") { Description = "With --list: prints the voices around each hit as well." };
        var sample = new Option<int>("--sample") { Description = "With --list: so many hits, drawn at random; 0 for all.", HelpName = "N" };
        var seed = new Option<int>("--seed")
        {
            Description = "Start of the random numbers that draw the sample.",
            DefaultValueFactory = _ => 1,
            HelpName = "N"
        };
        var command = new Command("partwriting", "Counts the hits of every part-writing rule in the open chorales.") { own, list, context,
            sample, seed };
        command.SetAction(parse => Report(parse.GetValue(own), parse.GetValue(list), parse.GetValue(context), parse.GetValue(sample),
            parse.GetValue(seed)));
        return command;
    }

    private static void Report(bool own, string? list, bool context, int sample, int seed)
    {
        var options = PartWritingRules.All.Aggregate(PartWritingOptions.Default, (o, rule) => o.With(rule.Name, rule.Weight));
        int works = 0, chords = 0, voices = 0;
        var listed = new List<string[]>();
        var counts = PartWritingRules.All.ToDictionary(r => r.Name, _ => new List<int>());
        foreach (var work in ReferenceWork.In(CorpusWorks.DefaultFolder, "open/chorales"))
        {
            var sonorities = SonorityFinder.Find(work.Score);
            var reading = own ? CueAnalysis.Of(work.Score).Reading : work.Reading;
            var remarks = PartWritingCheck.Run(work.Score, sonorities, reading, options);
            works++;
            chords += reading.Chords.Count;
            voices += work.Score.Notes.Select(n => (n.Part, n.Staff, n.Voice)).Distinct().Count();
            foreach (var (rule, hits) in counts) hits.Add(remarks.Count(r => r.Kind.Name() == rule));
            foreach (var remark in remarks.Where(r => r.Kind.Name() == list))
            {
                string[] said = [Line(work.Name, remark), .. context ? VoiceTable.Rows(work.Score, sonorities, reading, remark.Onset) : []];
                listed.Add(said);
            }
        }

        if (sample > 0 && sample < listed.Count)
        {
            var order = listed.ToArray();
            new Random(seed).Shuffle(order);
            listed = [.. order.Take(sample)];
        }

        foreach (var line in listed.SelectMany(l => l)) Console.WriteLine(line);

        Console.WriteLine($"{works} chorales, {voices / (double)works:0.0} voices each, {chords} chords, "
            + $"{(own ? "the program's own reading" : "the expert's numerals")} as the reading");
        Console.WriteLine($"{"rule",-32}{"weight",8}{"hits",8}{"per 100 chords",16}{"per chorale",13}{"most in one",13}");
        foreach (var rule in PartWritingRules.All)
        {
            var hits = counts[rule.Name];
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
                $"{rule.Name,-32}{PartWritingOptions.Default.WeightOf(rule),8:0.##}{hits.Sum(),8}{100.0 * hits.Sum() / chords,16:0.00}")
                + string.Create(CultureInfo.InvariantCulture, $"{hits.Sum() / (double)works,13:0.00}{hits.Max(),13}"));
        }
    }

    private static string Line(string work, Remark remark) =>
        $"{work} {remark.Place} (quarter {remark.Onset}): {string.Join('+', remark.Voices)}: {remark.Text}";
}
