using System.CommandLine;
using System.Globalization;
using ScoreLens.Notation;
using ScoreLens.Reading;
using ScoreLens.TestKit.Corpus;
using ScoreLens.Theory;
using ScoreLens.Training;

namespace ScoreLens.Benchmarks.Invariance;

/// <summary>
/// Reads works as written and in other clothes, and prints for what share of the time key and numeral stay what they are in the plain
/// reading, whether that is right or wrong.
/// </summary>
internal static class InvarianceCommand
{
    private static readonly Outfit[] All =
    [
        new("orchestra", (score, _) => new(OrchestralFile.Of(score))),
        new("arpeggios", (score, _) => new(Outfits.Arpeggios(score))),
        new("third-up", (score, _) => Outfits.ThirdUp(score) is var (up, fifths) ? new(up) { Fifths = fifths } : null!),
        new("halved", (score, _) => new(Outfits.Paced(score, new Fraction(1, 2))) { Factor = new Fraction(1, 2) }),
        new("doubled", (score, _) => new(Outfits.Paced(score, 2)) { Factor = 2 }),
        new("piano", (score, _) => new(Outfits.Piano(score))),
        new("drone", (score, home) => new(Outfits.OverDrone(score, home.Tonic))),
    ];

    /// <summary>A way to dress a score, which is told its home key.</summary>
    private sealed record Outfit(string Name, Func<Score, Key, Dressed> Dress);

    /// <summary>A score in other clothes, by how many fifths it was moved, and by what its times were multiplied.</summary>
    private sealed record Dressed(Score Score)
    {
        public int Fifths { get; init; }

        public Fraction Factor { get; init; } = Fraction.One;
    }

    /// <summary>Shares of the time that stay; sums until they are divided.</summary>
    private readonly record struct Stays(double Key, double Degree, double Numeral, double Both, double Time)
    {
        public static Stays operator +(Stays a, Stays b) =>
            new(a.Key + b.Key, a.Degree + b.Degree, a.Numeral + b.Numeral, a.Both + b.Both, a.Time + b.Time);

        public override string ToString() => string.Create(CultureInfo.InvariantCulture,
            $"key and numeral {Both / Time:0.000}, key {Key / Time:0.000}, degree {Degree / Time:0.000}, numeral {Numeral / Time:0.000}");
    }

    public static Command Create()
    {
        var (corpus, only) = (WorkOptions.Corpus(), WorkOptions.Only());
        var sample = WorkOptions.Sample();
        var outfits = new Option<string[]>("--in")
        {
            Description = $"Only these clothes: {string.Join(", ", All.Select(o => o.Name))} (may be repeated).",
            HelpName = "CLOTHES",
            DefaultValueFactory = _ => [],
        };
        var each = WorkOptions.Each();
        var command = new Command("invariance", "Reads the works kept for validation as written and in other clothes, and prints how much "
            + "of the reading stays.")
        {
            corpus, only, sample, outfits, each,
        };
        command.SetAction(parse => Run(Path.GetFullPath(parse.GetRequiredValue(corpus)), parse.GetValue(only), parse.GetValue(sample),
            parse.GetValue(outfits)!, parse.GetValue(each)));
        return command;
    }

    private static int Run(string folder, string? only, int sample, string[] names, bool each)
    {
        var works = Directory.Exists(folder) ? CorpusWorks.In(folder, only, sample, w => w.Split == Split.Validation) : [];
        var chosen = All.Where(o => names.Length == 0 || names.Contains(o.Name)).ToArray();
        if (works.Count == 0 || chosen.Length == 0)
        {
            Console.Error.WriteLine(works.Count == 0 ? $"No work that is kept for validation lies below {folder}."
                : "There are no such clothes.");
            return 2;
        }

        foreach (var group in works.GroupBy(w => w.Group()))
        {
            var compared = group.AsParallel().AsOrdered().Select(w => (w.Name, Stays: Compare(w, chosen))).ToArray();
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{group.Key}: {compared.Length} works"));
            foreach (var (i, outfit) in chosen.Index())
            {
                if (each)
                    foreach (var work in compared) Console.WriteLine($"    {outfit.Name,-10} {work.Stays[i]}  {work.Name}");
                Console.WriteLine($"  {outfit.Name,-10} {compared.Select(c => c.Stays[i]).Aggregate((a, b) => a + b)}");
            }
        }

        return 0;
    }

    private static Stays[] Compare(CorpusWork work, Outfit[] outfits)
    {
        var score = ScoreFile.Load(work.ScorePath).Score;
        var plain = Read(score);
        return
        [
            .. outfits.Select(o => o.Dress(score, plain.HomeKey)).Select(d => Compare(plain.Chords, Read(d.Score).Chords, d)),
        ];
    }

    private static HarmonicReading Read(Score score) => CueAnalysis.Of(score, from: HarmonySource.Notes).Reading;

    private static Stays Compare(IReadOnlyList<ChordReading> plain, IReadOnlyList<ChordReading> other, Dressed dressed)
    {
        var stays = default(Stays);
        var at = 0;
        foreach (var chord in plain.Where(c => c.Numeral is not null))
        {
            for (var from = chord.Onset; from < chord.End;)
            {
                while (at + 1 < other.Count && other[at + 1].Onset <= from * dressed.Factor) at++;
                var there = other[at];
                var to = at + 1 < other.Count ? Fraction.Min(chord.End, other[at + 1].Onset / dressed.Factor) : chord.End;
                stays += Compare(chord, there, dressed.Fifths, (to - from).ToDouble());
                from = to;
            }
        }

        return stays;
    }

    private static Stays Compare(ChordReading plain, ChordReading other, int fifths, double time)
    {
        var key = other.Key.Mode == plain.Key.Mode && other.Key.Tonic == plain.Key.Tonic + fifths;
        var numeral = other.Numeral == plain.Numeral;
        var degree = other.Numeral is { } there && there.Degree == plain.Numeral!.Degree && there.Alteration == plain.Numeral.Alteration
            && there.Target == plain.Numeral.Target;
        return new Stays(key ? time : 0, degree ? time : 0, numeral ? time : 0, key && numeral ? time : 0, time);
    }
}
