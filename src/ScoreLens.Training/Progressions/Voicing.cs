using ScoreLens.Theory;

namespace ScoreLens.Training.Progressions;

/// <summary>
/// Sets a progression for voices: complete chords as far as the voices allow, small steps, tendency tones resolved, no
/// doubled tendency tone, few parallels. The rules are those of four-part writing in any harmony handbook (common practice).
/// </summary>
public static class Voicing
{
    private const int Kept = 24, Candidates = 160;

    /// <summary>The pitches of each chord from the bass up, <paramref name="voices"/> (3..6) of them.</summary>
    public static IReadOnlyList<Pitch[]> Set(IReadOnlyList<ProgressionChord> chords, int voices, Random random)
    {
        ArgumentNullException.ThrowIfNull(chords);
        ArgumentNullException.ThrowIfNull(random);
        var paths = new List<Path>();
        for (var i = 0; i < chords.Count; i++)
        {
            var options = Options(chords[i], voices, random);
            var next = new List<Path>();
            foreach (var option in options)
            {
                var own = Ugliness(option, chords[i]);
                if (i == 0)
                {
                    next.Add(new Path(null, option, own + Math.Abs(option[^1].Midi - 71) * 0.5));
                    continue;
                }

                Path? best = null;
                foreach (var path in paths)
                {
                    var cost = path.Cost + own + Motion(path.Pitches, option, chords[i - 1], chords[i]);
                    if (best is null || cost < best.Cost) best = new Path(path, option, cost);
                }

                next.Add(best!);
            }

            paths = [.. next.OrderBy(p => p.Cost).Take(Kept)];
        }

        var set = new List<Pitch[]>();
        for (var path = paths[0]; path is not null; path = path.Before) set.Insert(0, path.Pitches);
        return set;
    }

    private static List<Pitch[]> Options(ProgressionChord chord, int voices, Random random)
    {
        var upper = new List<Pitch>();
        foreach (var tone in chord.Tones) upper.AddRange(Pitch.Between(tone, 52, 78));
        upper.Sort();
        var needed = Needed(chord, voices);
        var all = new List<Pitch[]>();
        // Doubled tendency tones only where the voices outnumber the tones that may be doubled.
        for (var strict = true; all.Count == 0; strict = false)
        {
            foreach (var bass in Pitch.Between(chord.Bass, 38, 57))
            {
                var from = upper.Where(u => u.Midi >= bass.Midi).ToArray();
                Choose(from, 0, [bass], new Choice(voices, chord, needed, strict, all));
            }

            if (!strict && all.Count == 0) throw new InvalidOperationException($"No voicing of {chord.Numeral} for {voices} voices.");
        }

        if (all.Count <= Candidates) return all;
        return [.. all.Select(v => (Voicing: v, Cost: Ugliness(v, chord) + random.NextDouble())).OrderBy(v => v.Cost).Take(Candidates)
            .Select(v => v.Voicing)];
    }

    private static void Choose(Pitch[] from, int start, List<Pitch> chosen, Choice choice)
    {
        var missing = 0;
        foreach (var tone in choice.Needed)
            if (!Has(chosen, tone)) missing++;
        if (missing > choice.Voices - chosen.Count) return;
        if (chosen.Count == choice.Voices)
        {
            choice.Found.Add([.. chosen]);
            return;
        }

        for (var i = start; i < from.Length; i++)
        {
            var pitch = from[i];
            if (pitch == chosen[^1]) continue;
            if (pitch.Midi - chosen[^1].Midi > (chosen.Count > 1 ? 12 : 24)) break;
            if (choice.IsStrict && IsTendency(pitch.Tone, choice.Chord) && Has(chosen, pitch.Tone)) continue;
            chosen.Add(pitch);
            Choose(from, i + 1, chosen, choice);
            chosen.RemoveAt(chosen.Count - 1);
        }
    }

    private static bool Has(List<Pitch> pitches, Tone tone)
    {
        foreach (var pitch in pitches)
            if (pitch.Tone == tone) return true;
        return false;
    }

    // What three voices keep: the third and the seventh before the fifth, but a diminished or augmented fifth, which tells
    // the chord, before the seventh; over a fifth in the bass the root, without which the chord is another; of an
    // augmented sixth both its outer tones and the one that tells its kind; over a pedal the chord's own third and root.
    private static HashSet<Tone> Needed(ProgressionChord chord, int voices)
    {
        var tones = chord.Tones;
        int[] order = chord.Numeral.Quality switch
        {
            ChordQuality.ItalianSixth => [0, 2, 1],
            ChordQuality.FrenchSixth or ChordQuality.GermanSixth => [0, 3, 2, 1],
            _ when tones.Count == 3 => [1, 0, 2],
            ChordQuality.DiminishedSeventh => [0, 3, 2, 1],
            ChordQuality.HalfDiminishedSeventh => [0, 2, 3, 1],
            ChordQuality.AugmentedSeventh => [2, 1, 3, 0],
            _ when chord.Bass == tones[2] => [1, 0, 3, 2],
            _ => [1, 3, 0, 2],
        };
        if (chord.Numeral.Quality == ChordQuality.DominantSeventh && tones[2] - tones[0] != 1) order = [2, 1, 3, 0];
        var room = chord.IsOverPedal ? voices - 1 : voices;
        var kept = new HashSet<Tone>();
        if (!chord.IsOverPedal) kept.Add(chord.Bass);
        foreach (var member in order)
            if (kept.Count < room) kept.Add(tones[member]);
        return kept;
    }

    private static bool IsTendency(Tone tone, ProgressionChord chord)
    {
        var q = chord.Numeral.Quality;
        if (!chord.Key.Contains(tone)) return tone != chord.Tones[0] || q.IsAugmentedSixth() || !q.HasMajorThird();
        if (tone - chord.Key.Tonic == 5) return true;
        if (q.IsAugmentedSixth()) return tone == chord.Tones[0] || tone == chord.Tones[^1];
        return q.IsSeventh() && tone == chord.Tones[3];
    }

    private static double Ugliness(Pitch[] pitches, ProgressionChord chord)
    {
        double cost = 0;
        for (var i = 2; i < pitches.Length; i++)
            if (pitches[i].Midi - pitches[i - 1].Midi > 9) cost += 2;
        foreach (var tone in chord.Tones)
        {
            var count = 0;
            foreach (var pitch in pitches)
                if (pitch.Tone == tone) count++;
            cost += count == 0 ? 3 : 2 * Math.Max(0, count - 2);
        }

        return cost + Math.Abs(pitches[^1].Midi - 70) * 0.15;
    }

    private static double Motion(Pitch[] from, Pitch[] to, ProgressionChord before, ProgressionChord after)
    {
        double cost = Math.Max(0, Math.Abs(to[0].Midi - from[0].Midi) - 5) * 0.6;
        for (var i = 1; i < to.Length; i++)
        {
            var step = Math.Abs(to[i].Midi - from[i].Midi);
            cost += step + (step > 4 ? 3 : 0);
        }

        for (var i = 0; i < from.Length; i++)
        {
            if (!IsTendency(from[i].Tone, before)) continue;
            var move = to[i].Midi - from[i].Midi;
            var goesUp = from[i].Tone - before.Key.Tonic >= 5 || IsRaised(from[i].Tone, before);
            if (move == 0 || (goesUp ? move is 1 or 2 : move is -1 or -2)) continue;
            cost += after.Tones.Any(t => t.PitchClass == (from[i].Tone.PitchClass + (goesUp ? 1 : 11)) % 12) ? 6 : 1;
        }

        for (var i = 0; i < to.Length; i++)
        {
            for (var j = i + 1; j < to.Length; j++)
            {
                var interval = (to[j].Midi - to[i].Midi) % 12;
                if (interval is 0 or 7 && (from[j].Midi - from[i].Midi) % 12 == interval && from[i].Midi != to[i].Midi) cost += 8;
            }
        }

        return cost;
    }

    private static bool IsRaised(Tone tone, ProgressionChord chord) =>
        tone - chord.Key.Tonic > 5 || (chord.Numeral.Quality.IsAugmentedSixth() && tone == chord.Tones[^1]);

    private sealed record Choice(int Voices, ProgressionChord Chord, IReadOnlySet<Tone> Needed, bool IsStrict, List<Pitch[]> Found);

    private sealed record Path(Path? Before, Pitch[] Pitches, double Cost);
}
