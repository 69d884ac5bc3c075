using System.CommandLine;
using System.Globalization;
using ScoreLens.Marking;
using ScoreLens.Marking.Mistakes;
using ScoreLens.Marking.PartWriting;
using ScoreLens.Notation;
using ScoreLens.Reading;
using ScoreLens.Sonorities;
using ScoreLens.TestKit.Corpus;
using ScoreLens.TestKit.PlantedFaults;

namespace ScoreLens.Benchmarks.PartWriting;

/// <summary>
/// Plants faults of every rule into clean chorales, those of the open corpus in which the rule is silent and invented ones, and
/// reports how many are found at the right place in the right voices, and what is said elsewhere that was not said before.
/// </summary>
internal static class PlantedFaultsCommand
{
    private const int MostFurther = 12;

    private static readonly string[] Names = ["soprano", "alto", "tenor", "bass"];

    public static Command Create()
    {
        var count = new Option<int>("--count") { Description = "Faults of each rule.", DefaultValueFactory = _ => 200, HelpName = "N" };
        var seed = new Option<int>("--seed") { Description = "Start of the random numbers.", DefaultValueFactory = _ => 1, HelpName = "N" };
        var list = new Option<string?>("--list")
        {
            Description = "Prints the faults of one rule that were missed, and the mistakes beside those that were found.",
            HelpName = "RULE",
        };
        var own = new Option<bool>("--own")
        {
            Description = "Finds the faults by the program's own reading of the score with the fault, "
            + "instead of the numerals that it was written over."
        };
        var species = new Option<bool>("--species") { Description = "Only the two-part counterpoint." };
        var command = new Command("planted-faults",
            "Plants part-writing faults into clean chorales and counts how many are found.") { count, seed, list, own, species };
        command.SetAction(parse =>
        {
            var (plants, isOwn) = (new Plants(parse.GetValue(count), parse.GetValue(seed), parse.GetValue(list)), parse.GetValue(own));
            if (parse.GetValue(species))
            {
                ReportSpecies(plants);
                return;
            }

            var works = ReferenceWork.In(CorpusWorks.DefaultFolder, "open/chorales").Select(w => (w.Name, w.Score, w.Reading)).ToList();
            Report($"chorales of the open corpus, {(isOwn ? "the program's own reading" : "the expert's numerals as the reading")}", works,
                plants, isOwn);
            var random = new Random(parse.GetValue(seed));
            var invented = Enumerable.Range(1, 100).Select(i => (Name: $"invented {i}", Exercise: CleanChorale.Write(random)))
                .Select(p => (p.Name, p.Exercise.Score, p.Exercise.Reading)).ToList();
            Report($"invented clean exercises, {(isOwn ? "the program's own reading" : "the numerals that they were written over")}",
                invented, plants, isOwn);
            ReportSpecies(plants);
        });
        return command;
    }

    private static void Report(string what, List<(string Name, Score Score, HarmonicReading Reading)> works, Plants plants, bool isOwn)
    {
        var (count, seed, list) = plants;
        var options = PartWritingOptions.Default;
        var clean = works.ConvertAll(w => Check(w.Score, w.Reading, options, isOwn));
        Console.WriteLine($"{what}: {works.Count}, of which {clean.Count(c => c.Count == 0)} without any remark");
        Console.WriteLine($"{"rule",-32}{"clean",7}{"planted",9}{"found",7}{"recall",9}{"elsewhere",11}{"lost",6}{"further",9}");
        int planted = 0, found = 0, elsewhere = 0, lost = 0, further = 0;
        var furtherKinds = new Dictionary<(string Planted, string Kind), int>();
        foreach (var rule in FaultPlanter.Rules)
        {
            var random = new Random(seed);
            var silent = Enumerable.Range(0, works.Count).Where(i => clean[i].All(r => r.Kind.Name() != rule)).ToArray();
            int tried = 0, hit = 0, other = 0, gone = 0, more = 0;
            for (var attempt = 0; tried < count && attempt < 6 * count && silent.Length > 0; attempt++)
            {
                var work = works[silent[random.Next(silent.Length)]];
                if (FaultPlanter.Plant(rule, work.Score, work.Reading, random) is not var (score, reading, fault)) continue;
                tried++;
                var remarks = Check(score, reading, options, isOwn);
                var voices = fault.Voices.Select(v => Names[v]).ToArray();
                var isFound = remarks.Any(r => r.Kind.Name() == rule && r.Onset == fault.Onset && r.Voices.SequenceEqual(voices));
                if (isFound) hit++;
                else if (rule == list) Print(work.Name, score, isOwn ? CueAnalysis.Of(score).Reading : reading,
                    fault, remarks);
                // What was said before about places that were not touched must still be said, and nothing more.
                var window = (fault.Start - 2, fault.End + 2);
                var (now, before) = (Outside(remarks, window).ToList(), Outside(clean[works.IndexOf(work)], window).ToList());
                // After grouping a planted fault should be one mistake.
                var extra = Further(Mistakes(remarks), Mistakes(clean[works.IndexOf(work)]), rule);
                more += extra.Count;
                if (rule == list && extra.Count > 0)
                    PrintMistakes(work.Name, Mistakes(remarks).Where(m => m.Onset >= fault.Start && m.Onset <= fault.End + 2));
                foreach (var kind in extra) furtherKinds[(rule, kind)] = furtherKinds.GetValueOrDefault((rule, kind)) + 1;
                other += now.Except(before).Count();
                gone += before.Except(now).Count();
                if (rule == list)
                    foreach (var (kind, onset, who) in now.Except(before)) Console.WriteLine($"elsewhere: {work.Name} fault at "
                        + $"{fault.Onset}, {kind} at {onset} in {who}");
            }

            planted += tried;
            found += hit;
            elsewhere += other;
            lost += gone;
            further += more;
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
                $"{rule,-32}{silent.Length,7}{tried,9}{hit,7}{(tried == 0 ? 0 : 100.0 * hit / tried),8:0.0}%{other,11}{gone,6}")
                + string.Create(CultureInfo.InvariantCulture, $"{PerFile(more, tried),9:0.00}"));
        }

        Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"{"all",-32}{"",7}{planted,9}{found,7}{100.0 * found / planted,8:0.0}%{elsewhere,11}{lost,6}")
            + string.Create(CultureInfo.InvariantCulture, $"{PerFile(further, planted),9:0.00}"));
        PrintFurther(furtherKinds);
    }

    private static void PrintFurther(Dictionary<(string Planted, string Kind), int> kinds)
    {
        foreach (var ((rule, kind), times) in kinds.OrderByDescending(k => k.Value).Take(MostFurther))
            Console.WriteLine($"  further, {times,4} times: {kind} where {rule} was planted");
    }

    // Each mistake with its parts and notes, a line a mistake.
    private static void PrintMistakes(string name, IEnumerable<Remark> mistakes)
    {
        foreach (var mistake in mistakes)
            Console.WriteLine($"  further: {name}, {string.Join("; ", mistake.Parts.Prepend(mistake).Select(Short))}");
    }

    private static string Short(Remark remark) =>
        $"{remark.Kind.Name()} at {remark.Onset} {string.Join(' ', remark.Notes.Select(n => $"{n.Pitch}@{n.Onset}"))}";

    // Two voices are judged by intervals, so that there is no reading to choose.
    private static void ReportSpecies(Plants plants)
    {
        Console.WriteLine("invented two-part counterpoint, species one to four");
        Console.WriteLine($"{"rule",-32}{"clean",7}{"planted",9}{"found",7}{"recall",9}{"further",9}");
        int planted = 0, found = 0, clean = 0, further = 0;
        var furtherKinds = new Dictionary<(string Planted, string Kind), int>();
        foreach (var rule in SpeciesPlanter.Rules)
        {
            var random = new Random(plants.Seed);
            int tried = 0, hit = 0, silent = 0, more = 0;
            while (tried < plants.Count && SpeciesPlanter.Plant(rule, random) is var (before, after, onset))
            {
                tried++;
                var (earlier, remarks) = (SpeciesRemarks(before), SpeciesRemarks(after));
                if (earlier.Count == 0) silent++;
                var isFound = remarks.Any(r => r.Kind.Name() == rule && r.Onset == onset);
                if (isFound) hit++;
                if (rule == plants.List && (!isFound || earlier.Count > 0))
                    Console.WriteLine($"  species {after.Species}, {(isFound ? "found" : "missed")} at {onset}: "
                        + $"{string.Join(' ', after.Line.Select(n => n.Pitch))} over "
                        + $"{string.Join(' ', after.Cantus.Select(n => n.Pitch))}; "
                        + $"said before: {string.Join(", ", earlier.Select(r => $"{r.Kind.Name()} at {r.Onset}"))}");
                var extra = Further(Mistakes(remarks), Mistakes(earlier), rule);
                more += extra.Count;
                foreach (var kind in extra) furtherKinds[(rule, kind)] = furtherKinds.GetValueOrDefault((rule, kind)) + 1;
                if (rule == plants.List && extra.Count > 0) PrintMistakes($"species {after.Species}", Mistakes(remarks));
            }

            (planted, found, clean, further) = (planted + tried, found + hit, clean + silent, further + more);
            PrintSpecies(rule, silent, tried, hit, more);
        }

        PrintSpecies("all", clean, planted, found, further);
        PrintFurther(furtherKinds);
    }

    private static void PrintSpecies(string rule, int silent, int tried, int hit, int more)
    {
        var recall = tried == 0 ? 0 : 100.0 * hit / tried;
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"{rule,-32}{silent,7}{tried,9}{hit,7}{recall,8:0.0}%{PerFile(more, tried),9:0.00}"));
    }

    private static IReadOnlyList<Remark> SpeciesRemarks(SpeciesExercise exercise) => PartWritingCheck.Run(exercise.Score,
        SonorityFinder.Find(exercise.Score), new HarmonicReading(new Theory.Key(Theory.Tone.Of('D'), Theory.Mode.Minor), []),
        PartWritingOptions.Default with { Style = PartWritingStyle.Counterpoint, Species = exercise.Species, VoiceCount = 2 });

    // What is said beside the planted fault and was not said before: kinds of the remarks that stand for a mistake.
    private static List<string> Further(IReadOnlyList<Remark> now, IReadOnlyList<Remark> before, string planted)
    {
        var left = now.ToList();
        left.Remove(left.Find(m => m.Parts.Prepend(m).Any(r => r.Kind.Name() == planted)) ?? left.LastOrDefault()!);
        var known = before.Select(m => m.Kind).ToList();
        return [.. left.Where(m => !known.Remove(m.Kind)).Select(m => m.Kind.Name()).Take(Math.Max(0, now.Count - before.Count - 1))];
    }

    private static double PerFile(int further, int files) => files == 0 ? 0 : (double)further / files;

    private static IReadOnlyList<Remark> Mistakes(IEnumerable<Remark> remarks) => MistakeGroups.Of(
        [.. remarks.Select(r => r with { Points = PartWritingRules.Find(r.Kind) is { } rule ? PartWritingOptions.Default.WeightOf(rule)
            : 1 })]);

    private static void Print(string name, Score score, HarmonicReading reading, PlantedFault fault, IReadOnlyList<Remark> remarks)
    {
        Console.WriteLine($"missed: {name} quarter {fault.Onset} {string.Join('+', fault.Voices.Select(v => Names[v]))}");
        foreach (var chord in reading.Chords.Where(c => c.End > fault.Start
            && c.Onset < fault.End)) Console.WriteLine($"  {chord.Onset} {chord.Key} {chord.Numeral}");
        foreach (var note in score.Notes.Where(n => n.End >= fault.Start
            && n.Onset <= fault.End)) Console.WriteLine($"  {note.Onset}-{note.End} staff {note.Staff} voice {note.Voice} {note.Pitch}");
        foreach (var remark in remarks.Where(r => r.Onset >= fault.Start
            && r.Onset <= fault.End)) Console.WriteLine($"  said at {remark.Onset}: {remark.Text}");
    }

    private static IEnumerable<(string, Theory.Fraction, string)> Outside(IEnumerable<Remark> remarks,
        (Theory.Fraction Start, Theory.Fraction End) window) =>
        remarks.Where(r => r.Onset < window.Start || r.Onset > window.End)
            .Select(r => (r.Kind.Name(), r.Onset, string.Join('+', r.Voices)));

    private static IReadOnlyList<Remark> Check(Score score, HarmonicReading reading, PartWritingOptions options, bool isOwn)
    {
        var sonorities = SonorityFinder.Find(score);
        return PartWritingCheck.Run(score, sonorities, isOwn ? CueAnalysis.Of(score).Reading : reading, options);
    }

    /// <summary>How many faults of each rule, from which random numbers, and the rule whose misses are printed.</summary>
    private sealed record Plants(int Count, int Seed, string? List);
}
