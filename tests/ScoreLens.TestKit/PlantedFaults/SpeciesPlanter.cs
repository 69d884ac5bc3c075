using ScoreLens.Theory;

namespace ScoreLens.TestKit.PlantedFaults;

/// <summary>
/// Plants one fault against a rule of the species into a clean exercise. What makes a fault is written here a second time, from the
/// handbooks' wording, and shares no code with the rules.
/// </summary>
internal static class SpeciesPlanter
{
    private static readonly Dictionary<string, (int[] Species, Func<Draft, Random, int?> Plant)> Planters = new()
    {
        ["parallel-fifths"] = ([1], (d, r) => Parallel(d, r, 4)),
        ["parallel-octaves"] = ([1], (d, r) => Parallel(d, r, 7)),
        ["parallel-unisons"] = ([1], (d, r) => Parallel(d, r, 0)),
        ["voice-crossing"] = ([1, 2, 3], (d, r) => Against(d, r, -2, -5)),
        ["counterpoint-rhythm"] = ([1], Split),
        ["counterpoint-dissonance"] = ([1, 2, 3], (d, r) => Against(d, r, 1, 3, 6, 8)),
        ["counterpoint-opening"] = ([1, 2, 3, 4], (d, r) => d.Set(0, d.Below(0).Step + (r.Next(2) == 0 ? 2 : 5))),
        ["counterpoint-cadence"] = ([1, 2, 3, 4],
            (d, r) => d.Set(d.Line.Count - 1, d.Below(d.Line.Count - 1).Step + (r.Next(2) == 0 ? 4 : 9))),
        ["counterpoint-unison"] = ([1, 2, 3], (d, r) => Against(d, r, 0)),
        ["counterpoint-direct-motion"] = ([1], Direct),
        ["counterpoint-strong-beats"] = ([2], StrongBeats),
        ["counterpoint-leap"] = ([1, 2, 3, 4], Leap),
        ["counterpoint-repetition"] = ([2, 3, 4], (d, r) => d.Pick(r) is var i && d.Set(i, d.Line[i - 1].Step) is { } at ? at : null),
        ["counterpoint-climax"] = ([1, 2, 3, 4], Climax),
        ["counterpoint-run"] = ([1, 2], Run),
    };

    /// <summary>The names of the rules whose faults can be planted.</summary>
    public static IEnumerable<string> Rules => Planters.Keys;

    /// <summary>
    /// A copy of a fresh exercise with one fault, and when it becomes audible, in quarter notes; null where no place for it was found in
    /// 400 tries.
    /// </summary>
    public static (SpeciesExercise Clean, SpeciesExercise Planted, Fraction Onset)? Plant(string rule, Random random)
    {
        var (species, plant) = Planters[rule];
        for (var attempt = 0; attempt < 400; attempt++)
        {
            var clean = SpeciesExercise.Write(species[random.Next(species.Length)], random);
            var draft = new Draft(clean);
            if (plant(draft, random) is { } onset) return (clean, draft.Exercise, onset);
        }

        return null;
    }

    // Two notes in a row at one distance over a cantus firmus that moves.
    private static int? Parallel(Draft d, Random r, int steps)
    {
        var i = d.Pick(r);
        if (i + 1 >= d.Line.Count - 1 || (steps == 4 && (!IsFifth(d, i) || !IsFifth(d, i + 1)))) return null;
        d.Set(i, d.Below(i).Step + steps);
        return d.Set(i + 1, d.Below(i + 1).Step + steps);

        static bool IsFifth(Draft d, int i) => SpeciesExercise.IsPerfect(new WhiteKey(d.Below(i).Step + 4), d.Below(i));
    }

    // A strong note at a distance from the cantus firmus.
    private static int? Against(Draft d, Random r, params int[] steps)
    {
        var i = d.Pick(r);
        return d.Slots[i].IsStrong ? d.Set(i, d.Below(i).Step + steps[r.Next(steps.Length)]) : null;
    }

    // Two notes where the species has one.
    private static int? Split(Draft d, Random r)
    {
        var i = d.Pick(r);
        var slot = d.Slots[i];
        d.Slots[i] = slot with { Length = 2 };
        d.Slots.Insert(i + 1, slot with { Onset = slot.Onset + 2, Length = 2, IsStrong = false });
        d.Line.Insert(i + 1, new WhiteKey(d.Line[i].Step + (r.Next(2) == 0 ? 2 : -2)));
        return slot.Onset;
    }

    // Both voices go the same way, the second time to a fifth or octave.
    private static int? Direct(Draft d, Random r)
    {
        var i = d.Pick(r);
        if (i < 2) return null;
        var (from, to) = (d.Below(i - 1).Step, d.Below(i).Step);
        var goal = new WhiteKey(to + (r.Next(2) == 0 ? 4 : 7));
        var start = new WhiteKey(goal.Step - ((r.Next(2) + 2) * Math.Sign(to - from)));
        if (!SpeciesExercise.IsPerfect(goal, d.Below(i)) || !SpeciesExercise.IsConsonant(start, d.Below(i - 1))
            || SpeciesExercise.IsPerfect(start, d.Below(i - 1))) return null;
        d.Set(i - 1, start.Step);
        return d.Set(i, goal.Step);
    }

    // Fifths or octaves on two strong beats, a note a third away between them.
    private static int? StrongBeats(Draft d, Random r)
    {
        var i = d.Pick(r);
        if (!d.Slots[i].IsStrong || i + 2 >= d.Line.Count - 2) return null;
        var steps = r.Next(2) == 0 ? 4 : 7;
        var (first, second) = (new WhiteKey(d.Below(i).Step + steps), new WhiteKey(d.Below(i + 2).Step + steps));
        if (!SpeciesExercise.IsPerfect(first, d.Below(i)) || !SpeciesExercise.IsPerfect(second, d.Below(i + 2))) return null;
        d.Set(i, first.Step);
        d.Set(i + 1, first.Step + (second.Step > first.Step ? 2 : -2));
        return d.Set(i + 2, second.Step);
    }

    // A seventh, a tritone, a sixth down, or more than an octave.
    private static int? Leap(Draft d, Random r)
    {
        var i = d.Pick(r);
        int[] leaps = [6, -6, -5, 8, -8];
        return d.Set(i, d.Line[i - 1].Step + leaps[r.Next(leaps.Length)]);
    }

    // The highest note a second time.
    private static int? Climax(Draft d, Random r)
    {
        var top = d.Line.SkipLast(1).MaxBy(n => n.Pitch.Midi);
        var (first, again) = (d.Line.IndexOf(top), d.Pick(r));
        if (top.Raised != 0 || Math.Abs(again - first) < 2) return null;
        d.Set(again, top.Step);
        return d.Slots[Math.Max(first, again)].Onset;
    }

    // Four thirds or four sixths on strong beats.
    private static int? Run(Draft d, Random r)
    {
        var strong = Enumerable.Range(1, d.Line.Count - 3).Where(i => d.Slots[i].IsStrong).ToArray();
        if (strong.Length < 4) return null;
        var start = r.Next(strong.Length - 3);
        var steps = r.Next(2) == 0 ? 2 : 5;
        // Without one before them, so that the fourth is the first to be too much.
        var before = Enumerable.Range(0, strong[start]).Last(i => d.Slots[i].IsStrong);
        if ((d.Line[before].Step - d.Below(before).Step) % 7 == steps) return null;
        foreach (var i in strong[start..(start + 4)]) d.Set(i, d.Below(i).Step + steps);
        return d.Slots[strong[start + 3]].Onset;
    }

    private sealed class Draft(SpeciesExercise clean)
    {
        public List<Slot> Slots { get; } = [.. clean.Slots];

        public List<WhiteKey> Line { get; } = [.. clean.Line];

        public SpeciesExercise Exercise => clean with { Slots = Slots, Line = Line };

        public WhiteKey Below(int i) => clean.Cantus[Slots[i].Cantus];

        // A note between the first and the last two.
        public int Pick(Random random) => random.Next(1, Line.Count - 2);

        public int Set(int i, int step)
        {
            Line[i] = new WhiteKey(step);
            return Slots[i].Onset;
        }
    }
}
