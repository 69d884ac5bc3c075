using ScoreLens.Theory;

namespace ScoreLens.Benchmarks.Homework;

/// <summary>A mistake that a careless realisation makes on purpose.</summary>
internal enum PlantedFault
{
    ParallelFifths,
    ParallelOctaves,
    SeventhUnresolved,
    DoubledLeadingTone,
    MissingThird,
    Spacing,
}

/// <summary>
/// Finds alto and tenor for an exercise: the cheapest way through all spacings of every chord that keeps the rules of
/// four-part writing, with a random taste, and with one mistake at a chosen chord where one is wanted.
/// </summary>
internal sealed class Realisation(IReadOnlyList<ExerciseChord> chords, Random random)
{
    private const double Forbidden = 1e6;

    /// <summary>The inner voices of each chord, or null where the mistake cannot be made at this chord.</summary>
    /// <param name="fault">The mistake, or null for none.</param>
    /// <param name="at">Index of the chord at which it is heard.</param>
    public IReadOnlyList<(Pitch Alto, Pitch Tenor)>? Find(PlantedFault? fault = null, int at = -1)
    {
        var spacings = chords.Select((c, i) => Spacings(c, i == at ? fault : null)).ToList();
        if (spacings.Any(s => s.Count == 0)) return null;
        var cost = new double[chords.Count][];
        var from = new int[chords.Count][];
        for (var i = 0; i < chords.Count; i++)
        {
            cost[i] = new double[spacings[i].Count];
            from[i] = new int[spacings[i].Count];
            for (var s = 0; s < spacings[i].Count; s++)
            {
                cost[i][s] = random.NextDouble() * 3;
                if (i == 0) continue;
                var best = Enumerable.Range(0, spacings[i - 1].Count)
                    .Select(p => (p, Cost: cost[i - 1][p] + Motion(chords[i - 1], spacings[i - 1][p], chords[i], spacings[i][s], i == at
                        ? fault : null)))
                    .MinBy(p => p.Cost);
                from[i][s] = best.p;
                cost[i][s] += best.Cost;
            }
        }

        var last = Enumerable.Range(0, spacings[^1].Count).MinBy(s => cost[^1][s]);
        if (cost[^1][last] >= Forbidden) return null;
        var found = new (Pitch, Pitch)[chords.Count];
        for (var i = chords.Count - 1; i >= 0; i--)
        {
            found[i] = (spacings[i][last].Alto, spacings[i][last].Tenor);
            last = from[i][last];
        }

        return found;
    }

    private static List<(Pitch Alto, Pitch Tenor)> Spacings(ExerciseChord chord, PlantedFault? fault)
    {
        var tones = chord.Numeral.Tones(chord.Key);
        var leading = LeadingTone(chord);
        var spacings = new List<(Pitch, Pitch)>();
        foreach (var alto in InRange(tones, "G3", "D5"))
        {
            foreach (var tenor in InRange(tones, "C3", "G4"))
            {
                if (alto > chord.Soprano || tenor > alto || chord.Bass > tenor) continue;
                var wide = chord.Soprano.Midi - alto.Midi > 12 || alto.Midi - tenor.Midi > 12;
                if (wide != (fault == PlantedFault.Spacing)) continue;
                Tone[] all = [chord.Soprano.Tone, alto.Tone, tenor.Tone, chord.Bass.Tone];
                var complete = tones.All(all.Contains);
                var thirdMissing = !all.Contains(tones[1]);
                if (fault == PlantedFault.MissingThird ? !thirdMissing : thirdMissing) continue;
                if (fault != PlantedFault.MissingThird && !complete
                    && !(chord.Numeral.ToString() is "V7" or "I" && all.Contains(tones[0]))) continue;
                var leadings = leading is { } tone ? all.Count(t => t == tone) : 0;
                if (fault == PlantedFault.DoubledLeadingTone ? leadings < 2 : leadings > 1) continue;
                if (tones.Count > 3 && all.Count(t => t == tones[3]) > 1) continue;
                if (!DoublesWell(chord, tones, all) && fault is null) continue;
                spacings.Add((alto, tenor));
            }
        }

        return spacings;
    }

    private static bool DoublesWell(ExerciseChord chord, IReadOnlyList<Tone> tones, Tone[] all)
    {
        if (tones.Count > 3) return true;
        if (chord.Numeral.Inversion == 2) return all.Count(t => t == tones[2]) == 2;
        if (chord.Numeral.Quality == ChordQuality.Diminished) return all.Count(t => t == tones[1]) == 2;
        if (chord.Numeral.ToString() == "N6") return all.Count(t => t == tones[1]) == 2;
        return all.Count(t => t == tones[0]) >= 2 || chord.Numeral.Inversion == 1;
    }

    private static double Motion(
        ExerciseChord before, (Pitch Alto, Pitch Tenor) a, ExerciseChord after, (Pitch Alto, Pitch Tenor) b, PlantedFault? fault)
    {
        Pitch[] first = [before.Soprano, a.Alto, a.Tenor, before.Bass], second = [after.Soprano, b.Alto, b.Tenor, after.Bass];
        double cost = 0;
        var (fifths, octaves, contrary) = Parallels(first, second);
        cost += contrary * Forbidden;
        cost += Wanted(fifths, fault == PlantedFault.ParallelFifths) + Wanted(octaves, fault == PlantedFault.ParallelOctaves);
        if (fault is PlantedFault.ParallelFifths or PlantedFault.ParallelOctaves && fifths + octaves > 1) cost += Forbidden;
        var seventh = before.Numeral.Tones(before.Key).Skip(3).Cast<Tone?>().FirstOrDefault();
        var leading = LeadingTone(before);
        var loose = 0;
        for (var v = 0; v < 4; v++)
        {
            var step = second[v].Midi - first[v].Midi;
            if (v is 1 or 2)
            {
                cost += Math.Abs(step) * 0.4;
                if (Math.Abs(step) > 7 || (Math.Abs(step) is 3 && Math.Abs(second[v].Staff - first[v].Staff) == 1)
                    || Math.Abs(step) == 6) cost += Forbidden;
                if (leading == first[v].Tone && step != 1 && step != 0) cost += Forbidden;
                if (before.Numeral.ToString() == "N6" && first[v].Tone == before.Numeral.Root(before.Key)
                    && step is > -1 or < -2) cost += Forbidden;
            }

            if (v is 1 or 2 && seventh == first[v].Tone && step is not (0 or -1 or -2)) loose++;
            if (v > 0 && second[v] > first[v - 1]) cost += Forbidden;
            if (v < 3 && second[v] < first[v + 1]) cost += Forbidden;
        }

        return cost + Wanted(loose, fault == PlantedFault.SeventhUnresolved);

        static double Wanted(int count, bool wanted) => (count > 0) == wanted ? 0 : Forbidden;
    }

    private static (int Fifths, int Octaves, int Contrary) Parallels(Pitch[] first, Pitch[] second)
    {
        int fifths = 0, octaves = 0, contrary = 0;
        for (var high = 0; high < 4; high++)
        {
            for (var low = high + 1; low < 4; low++)
            {
                if (first[high] == second[high] || first[low] == second[low]) continue;
                var (x, y) = ((first[high].Midi - first[low].Midi) % 12, (second[high].Midi - second[low].Midi) % 12);
                if ((x is 6 or 7 && y == 7) || (x == 0 && y == 0))
                {
                    if (second[high] > first[high] != second[low] > first[low]) contrary++;
                    else if (y == 7) fifths++;
                    else octaves++;
                }
            }
        }

        return (fifths, octaves, contrary);
    }

    // The leading tone of the key, or of what an applied dominant points at, in chords that have it as their third or root.
    private static Tone? LeadingTone(ExerciseChord chord)
    {
        var key = chord.Numeral.Target?.In(chord.Key) ?? chord.Key;
        var leading = key.Tonic + 5;
        return chord.Numeral.Degree is 5 or 7 && chord.Numeral.Tones(chord.Key).Contains(leading) ? leading : null;
    }

    private static IEnumerable<Pitch> InRange(IReadOnlyList<Tone> tones, string lowest, string highest)
    {
        var (low, high) = (Of(lowest), Of(highest));
        return from tone in tones
               from octave in Enumerable.Range(2, 4)
               let pitch = new Pitch(tone, octave)
               where pitch >= low
            && pitch <= high
               select pitch;

        static Pitch Of(string text) => new(Tone.Parse(text[..^1]), text[^1] - '0');
    }
}
