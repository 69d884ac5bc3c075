using ScoreLens.Notation;
using ScoreLens.Reading;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Training;

/// <summary>
/// Other versions of a score that an expert would read alike: voices left out for a while, chords broken, voices doubled, a drone, note
/// values doubled or halved. The labels stay; only their times follow.
/// </summary>
internal static class Variation
{
    private const NoteMarks Ties = NoteMarks.TieStart | NoteMarks.TieStop;

    /// <summary>A version of a score drawn by the random numbers, and the factor by which its times were multiplied.</summary>
    public static (Score Score, Fraction Factor) Of(Score score, Random random) => Scaled(random, random.Next(8) switch
    {
        0 or 1 => WithoutVoices(score, random),
        2 or 3 => Broken(score, random),
        4 or 5 => Orchestration.Figured(score, random),
        6 => Orchestration.Doubled(score, random),
        _ => Orchestration.Doubled(Orchestration.Figured(score, random), random),
    });

    /// <summary>The same with a drone, now and then in an orchestra's doublings or in figures.</summary>
    public static (Score Score, Fraction Factor) WithDrone(Score score, IReadOnlyList<ReferenceLabel> labels, Random random) =>
        Scaled(random, random.Next(4) switch
        {
            0 => Orchestration.Doubled(Orchestration.WithDrone(score, labels, random), random),
            1 => Orchestration.WithDrone(Orchestration.Figured(score, random), labels, random),
            _ => Orchestration.WithDrone(score, labels, random),
        });

    /// <summary>What is left of it in a sequencer's file, were it spelled: no marks, no words, one voice a part.</summary>
    public static Score Unmarked(Score score) => score with
    {
        Measures = [.. score.Measures.Select(m => m with { EndsWithBarline = false, SignatureMode = null })],
        Notes = [.. score.Notes.Where(n => n.IsHarmonic).Select(n => n with { Staff = 1, Voice = "1", Marks = n.Marks & Ties })],
        Texts = [],
        Rests = [],
    };

    /// <summary>The same, now and then with other note values.</summary>
    public static (Score Score, Fraction Factor) Unmarked(Score score, Random random) => Scaled(random, Unmarked(score));

    // Above the lowest voice, each voice falls silent in a quarter of the spans of four measures.
    private static Score WithoutVoices(Score score, Random random)
    {
        var voices = score.Notes.GroupBy(n => (n.Part, n.Staff, n.Voice)).OrderBy(g => g.Average(n => n.Pitch.Midi)).Select(g => g.Key)
            .Skip(1).ToArray();
        var silent = new HashSet<((int, int, string), int)>();
        foreach (var voice in voices)
            for (var span = 0; span <= score.Measures.Count / 4; span++)
                if (random.Next(4) == 0) silent.Add((voice, span));
        return score with
        {
            Notes = [.. score.Notes.Where(n =>
            !silent.Contains(((n.Part, n.Staff, n.Voice), score.MeasureAt(n.Onset).Index / 4)))]
        };
    }

    // Notes of a quarter and longer above the bass enter one after the other.
    private static Score Broken(Score score, Random random)
    {
        var lowest = SonorityFinder.Find(score).Where(s => s.Bass is not null).Select(s => (s.Onset, s.Bass!.Pitch)).ToHashSet();
        var delays = score.Notes.GroupBy(n => n.Onset)
            .SelectMany(g => g.OrderBy(n => n.Pitch).Select((n, i) => (Note: n, Delay: new Fraction(i % 4, 4))))
            .ToDictionary(p => p.Note, p => p.Delay, (IEqualityComparer<Note>)ReferenceEqualityComparer.Instance);
        var span = random.Next(2, 6);
        return score with
        {
            Notes =
            [
                .. score.Notes.Select(n =>
                {
                    var plain = n.Duration < 1 || n.IsTiedFrom || n.IsTiedTo || lowest.Contains((n.Onset, n.Pitch))
                        || score.MeasureAt(n.Onset).Index / span % 2 == 1;
                    if (plain) return n;
                    var delay = delays[n] * n.Duration;
                    return n with { Onset = n.Onset + delay, Duration = n.Duration - delay };
                }).OrderBy(n => n.Onset),
            ],
        };
    }

    private static (Score Score, Fraction Factor) Scaled(Random random, Score score)
    {
        var factor = random.Next(4) switch { 0 => new Fraction(2), 1 => new Fraction(1, 2), _ => Fraction.One };
        return (NoteValues.Times(score, factor), factor);
    }
}
