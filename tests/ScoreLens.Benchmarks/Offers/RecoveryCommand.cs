using System.CommandLine;
using System.Globalization;
using ScoreLens.Density;
using ScoreLens.Reading;
using ScoreLens.Reharmonising;
using ScoreLens.Reharmonising.Experts;
using ScoreLens.Sonorities;
using ScoreLens.TestKit.Corpus;
using ScoreLens.Theory;
using ScoreLens.Training;

namespace ScoreLens.Benchmarks.Offers;

/// <summary>
/// Hides each chromatic chord of an expert's analysis of the validation works, puts the likeliest plain chord in its place, and looks where
/// in the list of what could stand there the expert's chord is. Chords one after the other that differ in bass or figures alone are hidden
/// together.
/// </summary>
internal static class RecoveryCommand
{
    public static Command Create()
    {
        var each = new Option<bool>("--each") { Description = "Print every place." };
        var split = new Option<Split>("--split")
        {
            Description = "Which works: Validation or Measure.",
            DefaultValueFactory = _ => Split.Validation,
        };
        var command = new Command("recovery", "Hides the chromatic chords of the validation works and counts how often the expert's "
            + "chord is "
            + "among the first five and ten that are offered; the frequency of chords alone beside it.") { each, split };
        command.SetAction(parse =>
        {
            if (CorpusWorks.Beside is not { } corpus)
            {
                Console.WriteLine("The corpus is absent.");
                return 1;
            }

            var works = CorpusWorks.In(corpus, null, 0, w => w.Split == parse.GetValue(split));
            var places = works.AsParallel().AsOrdered().SelectMany(w => PlacesOf(w).Select(p => p with { Group = w.Group() })).ToArray();
            if (parse.GetValue(each)) foreach (var place in places) Console.WriteLine(place.Line);
            foreach (var group in places.GroupBy(p => p.Group).OrderBy(g => g.Key)) Print(group.Key, [.. group]);
            Print("all", places);
            return 0;
        });
        return command;
    }

    private static IEnumerable<Hidden> PlacesOf(CorpusWork work)
    {
        var reference = ReferenceWork.Load(work);
        var (score, chords) = (reference.Score, Joined(reference.Reading.Chords));
        var sonorities = SonorityFinder.Find(score);
        var melody = new Melody(score, sonorities, null);
        for (var i = 0; i < chords.Count; i++)
        {
            if (chords[i].Numeral is not { } hidden || Diatonic.Contains(chords[i].Key, hidden)) continue;
            var key = chords[i].Key;
            var plain = PlainAt(chords, i, sonorities, melody);
            var reading = reference.Reading with { Chords = [.. chords.Select((c, n) => n == i ? c with { Numeral = plain } : c)] };
            var analysis = CueAnalysis.Of(score, sonorities, reading);
            var reharmoniser = new Reharmoniser(analysis, Band.Default);
            var index = analysis.Chords.Index().First(c => c.Item.Reading.Onset == chords[i].Onset).Index;
            var own = ChordClass.Of(key, key, hidden);
            var fit = reharmoniser.Unread(index);
            var (byAll, byExperts) = (Ranks(fit), Ranks([.. fit.OrderByDescending(a => a.Experts)]));
            var frequency = ExpertChoices.Default.Vocabulary(key.Mode).Select(n => ChordClass.Of(key, key, n)).ToList();
            var common = fit.Select(a => ChordClass.Of(key, key, a.Numeral)).OrderBy(c => frequency.IndexOf(c) is >= 0 and var n ? n
                : int.MaxValue).ToList();
            var back = new Reharmoniser(CueAnalysis.Of(score, sonorities, reference.Reading with { Chords = chords }), Band.Default);
            var (less, why) = (back.Unread(index).Any(a => a.Device is null), back.WhyNotPlain(index));
            yield return new Hidden("", byAll, byExperts, Place(common.IndexOf(own)), Place(frequency.IndexOf(own)), less,
                $"{work.Name} m. {score.MeasureAt(chords[i].Onset).Number} {hidden} in {key}: "
                    + $"{(byAll.Any == 0 ? "not offered" : $"{byAll.Any}")}"
                + $" of {fit.Count}, {string.Join(", ", fit.Take(5).Select(a => a.Numeral))}"
                + (why.Length == 0 ? "" : $"; no chord of the key: {why}"))
            { Why = why };

            (int Any, int Coloured) Ranks(IReadOnlyList<Alternative> offered) =>
                (Place(offered.ToList().FindIndex(a => ChordClass.Of(key, key, a.Numeral) == own)),
                    Place(offered.Where(a => a.Device is not null).ToList().FindIndex(a => ChordClass.Of(key, key, a.Numeral) == own)));
        }

        static int Place(int index) => index + 1;
    }

    // The likeliest chord of the key, which is what stands there for whoever does not know the expert's.
    private static Numeral PlainAt(List<ChordReading> chords, int index, IReadOnlyList<Sonority> sonorities, Melody melody)
    {
        var (here, key) = (chords[index], chords[index].Key);
        var evidence = PlaceEvidence.Of(key, Named(index - 1), Named(index + 1), melody.Over(here.Onset, here.End)?.In(here.Onset,
            here.End) ?? [], here.Onset, here.End, TonesInTime.Between(sonorities, here.Onset, here.End).FirstOrDefault()?.MetricalWeight
            ?? 0);
        var choices = ExpertChoices.Default.At(evidence);
        return ExpertChoices.Default.Vocabulary(key.Mode).Where(n => n.Kind == NumeralKind.Plain && Diatonic.Contains(key, n)).MaxBy(n =>
            choices.Of(key, n))!;

        (Key, Numeral)? Named(int other) => other < 0 || other >= chords.Count || chords[other].Numeral is not { } numeral ? null
            : (chords[other].Key, numeral);
    }

    private static List<ChordReading> Joined(IReadOnlyList<ChordReading> chords)
    {
        var joined = new List<ChordReading>();
        foreach (var chord in chords)
        {
            if (joined.Count > 0 && joined[^1] is { Numeral: { } before } last && chord.Numeral is { } numeral && last.Key == chord.Key
                && ChordClass.Of(chord.Key, chord.Key, before) == ChordClass.Of(chord.Key, chord.Key, numeral))
                joined[^1] = last with { Duration = chord.End - last.Onset };
            else joined.Add(chord);
        }

        return joined;
    }

    private static void Print(string name, Hidden[] places)
    {
        if (places.Length == 0) return;
        Console.WriteLine($"{name}: {places.Length} chromatic chords hidden; a chord of the key is offered in the place of "
            + $"{Share(places.Count(p => p.HasPlain), places.Length)} of them");
        Console.WriteLine($"  where none is, a sentence says why: {places.Count(p => !p.HasPlain && p.Why.Length > 0)} of "
            + $"{places.Count(p => !p.HasPlain)}; the melody stands against it "
            + $"{places.Count(p => p.Why.Contains("melody", StringComparison.Ordinal))}"
            + $", the chord before {places.Count(p => p.Why.Contains("does not follow", StringComparison.Ordinal))}");
        Print("offered, the best first", places, p => p.ByAll.Any);
        Print("offered, by experts", places, p => p.ByExperts.Any);
        Print("coloured ones alone, the best first", places, p => p.ByAll.Coloured);
        Print("coloured ones alone, by experts", places, p => p.ByExperts.Coloured);
        Print("what fits, by frequency alone", places, p => p.ByFrequency);
        Print("the vocabulary by frequency alone", places, p => p.InVocabulary);
    }

    private static void Print(string name, Hidden[] places, Func<Hidden, int> rank)
    {
        Console.WriteLine($"  {name,-36} first {Within(1),7}  first five {Within(5),7}  first ten {Within(10),7}  at all "
            + $"{Within(int.MaxValue),7}");

        string Within(int most) => Share(places.Count(p => rank(p) is > 0 and var r && r <= most), places.Length);
    }

    private static string Share(int part, int all) => string.Create(CultureInfo.InvariantCulture, $"{100.0 * part / all:0.0} %");

    /// <summary>A hidden chord: its ranks among all offers and among coloured ones, from 1, 0 where it is not offered.</summary>
    private sealed record Hidden(string Group, (int Any, int Coloured) ByAll, (int Any, int Coloured) ByExperts, int ByFrequency,
        int InVocabulary, bool HasPlain, string Line)
    {
        /// <summary>Why no chord of the key is offered there; empty where one is.</summary>
        public string Why { get; init; } = "";
    }
}
