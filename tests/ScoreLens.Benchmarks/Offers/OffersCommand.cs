using System.CommandLine;
using System.Diagnostics;
using System.Globalization;
using ScoreLens.Density;
using ScoreLens.Devices;
using ScoreLens.Keys;
using ScoreLens.Notation;
using ScoreLens.Reharmonising;
using ScoreLens.Reharmonising.Voicing;
using ScoreLens.TestKit.Corpus;
using ScoreLens.Theory;

namespace ScoreLens.Benchmarks.Offers;

/// <summary>
/// Takes random places of many scores, always the same ones, writes what is offered there into the score, and counts how often it is read
/// as what it was promised, what is wrong with the notes that was not wrong before, and how long a place takes.
/// </summary>
internal static class OffersCommand
{
    private const int Seed = 18, MeasuresOfCue = 300;

    public static Command Create()
    {
        var top = new Option<int>("--top")
        {
            Description = "So many offers of a place, as the command lists them.",
            HelpName = "N",
            DefaultValueFactory = _ => 8,
        };
        var only = new Option<string>("--only") { Description = "Only open, quartets, orchestra or demo.", HelpName = "GROUP" };
        var share = new Option<int>("--every") { Description = "Only every Nth place.", HelpName = "N", DefaultValueFactory = _ => 1 };
        var each = new Option<bool>("--each") { Description = "Print each offer that is read otherwise or has a fault." };
        var everything = new Option<bool>("--all") { Description = "Also what the program itself reads as another chord and leaves out." };
        var command = new Command("offers",
            "Writes what is offered at 200 random places of the open works, unlabelled quartets and orchestra and the demo, and counts "
            + "how much is read back as promised and what is wrong with the notes; prints the time of a place.") { top, only, share, each,
                everything };
        command.SetAction(parse =>
        {
            if (CorpusWorks.Beside is not { } corpus)
            {
                Console.WriteLine("The corpus is absent: only the demo is measured.");
                corpus = "";
            }

            var measured = new List<Place>();
            foreach (var group in Groups(corpus).Where(g => parse.GetValue(only) is not { } name || g.Name == name))
            {
                var places = group.Draw(parse.GetValue(share)).AsParallel().AsOrdered()
                    .SelectMany(work => Places(group.Name, work.File, work.Random, work.Count, parse.GetValue(top),
                    parse.GetValue(everything))).ToArray();
                if (parse.GetValue(each)) foreach (var line in places.SelectMany(p => p.Offers).SelectMany(o =>
                    o.Lines)) Console.WriteLine(line);
                Print(group.Name, places);
                measured.AddRange(places);
            }

            Print("all", measured);
            PrintCue();
        });
        return command;
    }

    private static IEnumerable<Group> Groups(string corpus)
    {
        if (corpus.Length > 0)
        {
            yield return new Group("open", [.. CorpusWorks.In(corpus, "open/").Where(w => w.Repertoire != "textbooks").Select(w =>
                w.ScorePath)],
                60, 2);
            yield return new Group("quartets", [.. TestKit.Places.Scores(Path.Combine(corpus, "unlabelled", "quartets"))], 50, 5);
            yield return new Group("orchestra", [.. TestKit.Places.Scores(Path.Combine(corpus, "unlabelled", "orchestra"))], 40, 5);
        }

        yield return new Group("demo", [.. TestKit.Places.Scores(TestKit.Places.TestData)
            .Where(f => !f.Contains("homework", StringComparison.Ordinal))], 50, 8);
    }

    private static IEnumerable<Place> Places(string group, string file, Random random, int count, int top, bool all)
    {
        var analysis = CueAnalysis.Of(ScoreFile.Load(file).Score);
        var reharmoniser = new Reharmoniser(analysis, Band.Default);
        var named = analysis.Chords.Index().Where(c => c.Item.Reading.Numeral is not null).Select(c => c.Index).ToArray();
        random.Shuffle(named);
        foreach (var index in named.Take(count))
        {
            var watch = Stopwatch.StartNew();
            var alternatives = reharmoniser.List(index, OfferOrder.Best, top, all).Alternatives;
            var seconds = watch.Elapsed.TotalSeconds;
            var reading = analysis.Chords[index].Reading;
            yield return new Place(group, seconds, alternatives.Count, [.. alternatives.Take(top).Select(a => Offer.Of(
                $"{Path.GetFileName(Path.GetDirectoryName(file))}/{Path.GetFileName(file)} m. "
                    + $"{analysis.Score.MeasureAt(reading.Onset).Number} {reading.Numeral} in {reading.Key}",
                analysis.Score, a, a.IsKept))]);
        }
    }

    // A whole cue from its notes to the list of the best of each phrase, as the command prints it.
    private static void PrintCue()
    {
        var file = ScoreFile.Parse(InventedScore.Write(MeasuresOfCue));
        var watch = Stopwatch.StartNew();
        var analysis = CueAnalysis.Of(file.Score);
        var read = watch.Elapsed.TotalSeconds;
        var best = new Reharmoniser(analysis, Band.Default).BestOfEach(3);
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"an invented cue of {MeasuresOfCue} measures: {read:0.0} s to read it, {watch.Elapsed.TotalSeconds - read:0.0} s for the "
                + $"best three of each of {analysis.Phrases.Count} phrases ({best.Sum(b => b.Count)} found)"));
    }

    private static void Print(string name, IReadOnlyList<Place> places)
    {
        if (places.Count == 0) return;
        var offers = places.SelectMany(p => p.Offers).ToArray();
        var written = offers.Where(o => o.IsWritten).ToArray();
        var promised = written.Where(o => o.IsPromised).ToArray();
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"{name}: {places.Count} places, {offers.Length} offers ({places.Sum(p => p.Found)} found), "
                + $"{Share(written.Length, offers.Length)} can be written"));
        var refused = offers.Where(o => !o.IsWritten).GroupBy(o => o.Refused).OrderByDescending(g => g.Count());
        Console.WriteLine($"  not written: {string.Join(", ", refused.Select(g => $"{g.Key} {g.Count()}"))}");
        Console.WriteLine($"  read back, all that is written: numeral and device {Share(written, o => o.IsRight)}, device "
            + $"{Share(written, o => o.IsDevice)}");
        Console.WriteLine($"  read back, what is offered without a remark ({promised.Length}): numeral and device "
            + $"{Share(promised, o => o.IsRight)}, device {Share(promised, o => o.IsDevice)}");
        Console.WriteLine($"  without new parallels, covered melody, doubled leading tone or seventh, note out of range: "
            + $"{Share(written, o => !o.Faults.Intersect(WrittenFaults.Grave).Any())}");
        var faults = WrittenFaults.Kinds.Select(k => $"{k} {written.Count(o => o.Faults.Contains(k))}");
        Console.WriteLine($"  with {string.Join(", ", faults)}");
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"  places with something to write: {Share(places.Count(p => p.Offers.Any(o => o.IsWritten)), places.Count)}; seconds a "
                + $"place: {places.Average(p => p.Seconds):0.00} in the mean, {places.Max(p => p.Seconds):0.00} at most"));
    }

    private static string Share(Offer[] offers, Func<Offer, bool> isSo) => Share(offers.Count(isSo), offers.Length);

    private static string Share(int part, int all) => all == 0 ? "none"
        : string.Create(CultureInfo.InvariantCulture, $"{100.0 * part / all:0.0} %");

    /// <summary>Scores of one kind, and how many places are drawn from them.</summary>
    private sealed record Group(string Name, IReadOnlyList<string> Files, int Count, int OfOne)
    {
        public IEnumerable<(string File, Random Random, int Count)> Draw(int every)
        {
            var random = new Random(Seed);
            string[] files = [.. Files];
            random.Shuffle(files);
            var left = Count / every;
            foreach (var file in files)
            {
                if (left <= 0) yield break;
                var number = random.Next();
                yield return (file, new Random(number), Math.Min(OfOne, left));
                left -= OfOne;
            }
        }
    }

    private sealed record Place(string Group, double Seconds, int Found, IReadOnlyList<Offer> Offers);

    /// <summary>One offer, written and read again.</summary>
    private sealed record Offer(bool IsWritten, bool IsPromised, bool IsRight, bool IsDevice, IReadOnlyList<string> Faults,
        IReadOnlyList<string> Lines)
    {
        /// <summary>What stands in the way of writing it.</summary>
        public string Refused { get; init; } = "";

        public static Offer Of(string place, Score score, Alternative alternative, bool isPromised)
        {
            if (!alternative.Rewriting.IsPossible) return new Offer(false, false, false, false, [], [])
            {
                Refused = alternative.Rewriting.Hindrance switch
                {
                    FaultyVoices faulty => $"{nameof(FaultyVoices)} ({faulty.Faults})",
                    HeldNote held => $"{nameof(HeldNote)} {(held.IsFromBefore ? "from before" : "into what follows")}",
                    var other => other?.GetType().Name ?? "",
                },
            };
            // Twice as much of the music as the program itself reads again.
            var found = Rereading.Of(score, alternative, 16, KeyRule.Confirm);
            var faults = WrittenFaults.Of(score, alternative.Rewriting.ApplyTo(score), alternative);
            var isRight = Rereading.Is(found, alternative);
            var name = $"{place} -> {alternative.Numeral} ({alternative.Device?.Name() ?? "diatonic"})";
            var lines = new List<string>();
            if (!isRight) lines.Add($"{name}: read as {found?.Reading.Numeral} in {found?.Reading.Key} "
                + $"({found?.Device?.Name() ?? "diatonic"}){(isPromised ? "" : ", as it says")}");
            lines.AddRange(faults.Distinct().Select(f => $"{name}: {f}"));
            return new Offer(true, isPromised, isRight, found is not null && found.Device == alternative.Device, faults, lines);
        }
    }
}
