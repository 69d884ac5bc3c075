using ScoreLens.Theory;

namespace ScoreLens.Training.Progressions;

/// <summary>
/// Stacks the upper voices in close position over the bass, near where they were before, as a player at a keyboard grips
/// chords: parallels and doubled tendency tones do not matter.
/// </summary>
public static class CloseVoicing
{
    /// <summary>The pitches of each chord from the bass up, <paramref name="voices"/> (3..6) of them.</summary>
    public static IReadOnlyList<Pitch[]> Set(IReadOnlyList<ProgressionChord> chords, int voices, Random random)
    {
        ArgumentNullException.ThrowIfNull(chords);
        ArgumentNullException.ThrowIfNull(random);
        // Some players keep the root position all the way.
        var parallel = random.Next(3) == 0;
        var register = 62 + random.Next(10);
        var set = new List<Pitch[]>();
        foreach (var chord in chords)
        {
            var before = set.Count == 0 ? register : set[^1].Skip(1).Average(p => p.Midi);
            var grips = Grips(chord, voices, parallel).ToArray();
            set.Add(grips.MinBy(g => Math.Abs(g.Skip(1).Average(p => p.Midi) - ((before + register) / 2)))!);
        }

        return set;
    }

    private static IEnumerable<Pitch[]> Grips(ProgressionChord chord, int voices, bool parallel)
    {
        var bass = Pitch.Between(chord.Bass, 36, 52).Last();
        var tones = Upper(chord, voices - 1);
        for (var turn = 0; turn < (parallel ? 1 : tones.Length); turn++)
        {
            foreach (var lowest in Pitch.Between(tones[turn], 53, 70))
            {
                var grip = new List<Pitch> { bass, lowest };
                for (var i = 1; grip.Count < voices; i++)
                {
                    var next = Pitch.Between(tones[(turn + i) % tones.Length], grip[^1].Midi + 1, grip[^1].Midi + 12).First();
                    grip.Add(next);
                }

                yield return [.. grip];
            }
        }
    }

    // The tones that the right hand plays from the root up: all of them, or what the bass leaves missing first.
    private static Tone[] Upper(ProgressionChord chord, int room)
    {
        var tones = chord.Tones.ToList();
        if (chord.Numeral.Quality.IsAugmentedSixth() is false && tones.Count > room)
        {
            if (!chord.IsOverPedal) tones.Remove(chord.Bass);
            if (tones.Count > room && tones.Count > 2) tones.Remove(chord.Tones[2]);
        }
        else if (tones.Count > room)
        {
            tones.Remove(chord.Bass);
            if (tones.Count > room) tones.Remove(chord.Tones[1]);
        }

        return [.. tones.Take(Math.Max(2, room))];
    }
}
