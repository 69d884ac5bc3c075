using System.Globalization;
using ScoreLens.Marking;
using ScoreLens.Notation;
using ScoreLens.Reading;
using ScoreLens.TestKit.Corpus;
using ScoreLens.Theory;

namespace ScoreLens.Benchmarks.Homework;

/// <summary>
/// The other side of leniency: wrong labels among experts' right ones, by kind, and how many of them the marking without a model answer
/// calls wrong. Each wrong label sounds different from the expert's, by its tones or by its bass.
/// </summary>
internal static class SpoiledLabels
{
    private const int OneIn = 5, LeftOut = 5;

    private static readonly Fraction Reach = new(1, 2);

    private static readonly string[] Kinds = ["neighbouring degree", "degree a third off", "inversion", "mode", "seventh", "left out"];

    public static void Print(Marker marker, IReadOnlyList<(string Group, ReferenceWork Work)> works, int seed, bool each)
    {
        var planted = new int[Kinds.Length];
        var found = new int[Kinds.Length];
        for (var w = 0; w < works.Count; w++)
        {
            var random = new Random(seed + w);
            var spoiled = new Dictionary<Fraction, (int Kind, string Text)>();
            var score = ExpertLabelsCommand.Labelled(works[w].Work, (chord, hasKey) =>
            {
                if (random.Next(OneIn) != 0) return null;
                var kind = random.Next(Kinds.Length);
                if (kind == LeftOut)
                {
                    if (hasKey) return null;
                    spoiled[chord.Onset] = (kind, $"nothing for '{chord.Numeral} in {chord.Key}'");
                    return "";
                }

                if (Other(chord, kind, random) is not { } other || Sound(other, chord.Key) == Sound(chord.Numeral!, chord.Key)) return null;
                spoiled[chord.Onset] = (kind, $"'{other}' for '{chord.Numeral} in {chord.Key}'");
                return other.ToString();
            });
            var marked = marker.Mark(works[w].Work.Name, new ScoreFile(score, null));
            foreach (var (onset, (kind, text)) in spoiled)
            {
                planted[kind]++;
                var near = marked.Labels!.Marks.Where(m => m.Onset <= onset + Reach && m.Onset >= onset - Reach).ToList();
                if (near.Exists(m => m.Lost > 0)) found[kind]++;
                else if (each)
                {
                    Console.WriteLine($"  {works[w].Work.Name}, {score.MeasureAt(onset).Number}: {text}");
                    foreach (var mark in near) Console.WriteLine($"      '{mark.Written}' against '{mark.Expected}': {mark.Remark?.Text}");
                    foreach (var row in ExpertLabelsCommand.NoteTable(marked.Analysis!, onset)) Console.WriteLine($"      {row}");
                }
            }
        }

        for (var k = 0; k < Kinds.Length; k++) Row(Kinds[k], planted[k], found[k]);
        Row("all", planted.Sum(), found.Sum());
    }

    private static void Row(string name, int planted, int found) => Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
        $"  {name,-20} {planted,5} planted, {found,5} marked as wrong, {100.0 * found / Math.Max(1, planted):0.0} %"));

    private static Numeral? Other(ChordReading chord, int kind, Random random)
    {
        var numeral = chord.Numeral!;
        if (numeral.Kind != NumeralKind.Plain) return kind < 2 ? new Numeral(kind == 0 ? 2 : 6, ChordQuality.Minor) : null;
        var (quality, inversion) = (numeral.Quality, numeral.Inversion);
        return kind switch
        {
            0 => Degree(random.Next(2) == 0 ? 1 : 6),
            1 => Degree(random.Next(2) == 0 ? 2 : 5),
            2 => Of(numeral.Degree, quality, (inversion + 1 + random.Next(quality.Members().Length - 1)) % quality.Members().Length),
            3 => Turned(quality) is { } turned ? Of(numeral.Degree, turned, inversion) : null,
            _ => WithOrWithoutSeventh(quality) is { } other && inversion < 3 ? Of(numeral.Degree, other, inversion) : null,
        };

        Numeral Degree(int steps) => Of((numeral.Degree - 1 + steps) % 7 + 1, quality, inversion);
        Numeral Of(int degree, ChordQuality q, int i) => new(degree, q, i, numeral.Alteration, numeral.Target);
    }

    private static ChordQuality? Turned(ChordQuality quality) => quality switch
    {
        ChordQuality.Major => ChordQuality.Minor,
        ChordQuality.Minor => ChordQuality.Major,
        ChordQuality.DominantSeventh => ChordQuality.MinorSeventh,
        ChordQuality.MinorSeventh => ChordQuality.DominantSeventh,
        ChordQuality.HalfDiminishedSeventh => ChordQuality.MinorSeventh,
        _ => null,
    };

    private static ChordQuality? WithOrWithoutSeventh(ChordQuality quality) => quality switch
    {
        ChordQuality.Major => ChordQuality.DominantSeventh,
        ChordQuality.Minor => ChordQuality.MinorSeventh,
        ChordQuality.Diminished => ChordQuality.HalfDiminishedSeventh,
        ChordQuality.DominantSeventh or ChordQuality.MajorSeventh => ChordQuality.Major,
        ChordQuality.MinorSeventh => ChordQuality.Minor,
        ChordQuality.HalfDiminishedSeventh or ChordQuality.DiminishedSeventh => ChordQuality.Diminished,
        _ => null,
    };

    private static string Sound(Numeral numeral, Key key) => $"{numeral.Bass(key).PitchClass}: "
        + string.Join(' ', numeral.Tones(key).Select(t => t.PitchClass).Order());
}
