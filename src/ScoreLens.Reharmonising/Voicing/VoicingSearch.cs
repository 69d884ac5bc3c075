using ScoreLens.Theory;

namespace ScoreLens.Reharmonising.Voicing;

/// <summary>What may be wrong with a setting.</summary>
[Flags]
internal enum VoicingFaults
{
    None = 0,

    /// <summary>Fifths, octaves or unisons in parallel that did not stand there before.</summary>
    Parallels = 1,

    /// <summary>A leading tone, seventh or chromatic tone in two voices.</summary>
    Doubled = 2,
}

/// <summary>Where every slot of a texture goes.</summary>
/// <param name="Pitches">The slots from the lowest up, each with its new pitch.</param>
/// <param name="Cost">What that costs: the lowest slot, and the others in the mean.</param>
/// <param name="Faults">What is wrong with it.</param>
internal sealed record Setting(IReadOnlyList<(Slot Slot, Pitch Pitch)> Pitches, double Cost, VoicingFaults Faults);

/// <summary>
/// The search for the best voicing of a chord in a texture between the notes before and after: dynamic programming over the slots from the
/// lowest up, where what counts of the slots below is the highest pitch and the members that are there; the best few ways to each are kept,
/// since parallels look further back. The costs: <see cref="VoicingCosts"/>.
/// </summary>
internal sealed class VoicingSearch(Texture texture, PartRanges ranges)
{
    // A voice may move this far to a tone of the new chord, the bass to any octave within one; so many ways are kept to each lowest note
    // and set of members, and so many in all.
    private const int Reach = 8, BassReach = 12, Kept = 4, Beam = 120;

    /// <summary>Settings, the best first, faults and all; none where the slots do not reach tones of the chord.</summary>
    /// <param name="chord">The chord.</param>
    /// <param name="hasBass">Whether the lowest slot has the chord's bass.</param>
    /// <param name="count">At most so many.</param>
    public IEnumerable<Setting> Best(NewChord chord, bool hasBass, int count)
    {
        var (slots, fixedTones) = (texture.Slots, texture.Fixed.Aggregate(0, (all, n) => all | Member(chord, n.Pitch.Tone)));
        var paths = new List<Path> { new(null, -1, default, Covered(chord), 0, 0, []) };
        for (var i = 0; i < slots.Count; i++)
        {
            var next = new Dictionary<(int Midi, int Members), List<Path>>();
            var isBass = i == 0 && hasBass;
            var candidates = Candidates(chord, slots[i], isBass).ToArray();
            foreach (var pitch in candidates)
            {
                var motions = slots[i].To(pitch);
                var (cost, faults) = Alone(chord, slots[i], pitch, motions, isBass, fixedTones);
                foreach (var path in paths)
                {
                    if (path.Slot >= 0 && pitch.Midi < path.Pitch.Midi) continue;
                    if (slots[i].Doubles is >= 0 and var lower
                        && pitch.Midi - path.Of(lower).Midi != slots[i].Pitch.Midi - slots[lower].Pitch.Midi)
                        continue;
                    var longer = Step(chord, path, i, pitch, motions, cost, faults);
                    var state = (pitch.Midi, longer.Members);
                    if (!next.TryGetValue(state, out var list)) next[state] = list = [];
                    list.Add(longer);
                }
            }

            paths = [.. next.Values.SelectMany(l => l.OrderBy(p => p.Cost).Take(Kept)).OrderBy(p => p.Cost).Take(Beam)];
        }

        return paths.Select(p => (Path: p, Cost: p.Cost + Missing(chord, p.Members))).OrderBy(p => p.Cost).Take(count)
            .Select(p => SettingOf(p.Path, p.Cost));
    }

    private Setting SettingOf(Path found, double cost)
    {
        var pitches = new (Slot, Pitch)[texture.Slots.Count];
        var lowest = 0.0;
        for (var path = found; path.Slot >= 0; path = path.Before!)
        {
            pitches[path.Slot] = (texture.Slots[path.Slot], path.Pitch);
            lowest = path.Cost;
        }

        return new Setting(pitches, lowest + ((cost - lowest) / pitches.Length), found.Faults);
    }

    /// <summary>The members that the melody and held notes have for half of the span, as bits.</summary>
    public int Covered(NewChord chord)
    {
        var covered = texture.Held.Aggregate(0, (all, note) => all | Member(chord, note.Pitch.Tone));
        foreach (var note in texture.Fixed)
        {
            var time = Fraction.Min(texture.End, note.End) - Fraction.Max(texture.Start, note.Onset);
            if (time * 2 >= texture.End - texture.Start) covered |= Member(chord, note.Pitch.Tone);
        }

        return covered;
    }

    /// <summary>A tone's place among a chord's members as a bit; 0 where it is none.</summary>
    public static int Member(NewChord chord, Tone tone)
    {
        for (var i = 0; i < chord.Tones.Count; i++)
            if (chord.Tones[i].IsEnharmonicWith(tone)) return 1 << i;
        return 0;
    }

    private static IEnumerable<Pitch> Candidates(NewChord chord, Slot slot, bool isBass)
    {
        var reach = isBass ? BassReach : Reach;
        foreach (var tone in isBass ? [chord.Bass] : chord.Tones)
            foreach (var pitch in Pitch.Between(tone, Math.Max(slot.Low, slot.Pitch.Midi - reach),
                Math.Min(slot.High, slot.Pitch.Midi + reach)))
                yield return pitch;
    }

    // What a slot costs whatever lies below it.
    private (double Cost, VoicingFaults Faults) Alone(NewChord chord, Slot slot, Pitch pitch, VoiceMotion[] motions, bool isBass,
        int fixedTones)
    {
        var away = Math.Abs(pitch.Midi - slot.Pitch.Midi);
        double cost = 0;
        var faults = VoicingFaults.None;
        foreach (var motion in motions)
        {
            cost += (motion.IsConnected ? VoicingCosts.AwayConnected * away : VoicingCosts.Away * away) + motion.Cost;
            if (chord.IsUnresolved(motion)) cost += VoicingCosts.Unresolved;
            if (isBass) cost += BassLeap(motion.Before, pitch) + BassLeap(motion.After, pitch);
        }

        cost /= motions.Length;
        cost += VoicingCosts.Uncomfortable * slot.Notes.Select(n => n.Part).Distinct().Max(p => ranges.Beyond(p, pitch.Midi));
        var old = slot.Old;
        for (var i = 0; i < motions.Length; i++)
        {
            foreach (var other in texture.FixedMotions)
            {
                var parallels = motions[i].NewParallelsWith(other, old[i], other);
                if (parallels == 0) continue;
                faults |= VoicingFaults.Parallels;
                cost += parallels * VoicingCosts.Fault;
            }
        }

        if (slot.HasTwoVoices && chord.IsTendency(pitch.Tone))
        {
            faults |= VoicingFaults.Doubled;
            cost += VoicingCosts.Fault;
        }
        else if (chord.IsTendency(pitch.Tone) && (fixedTones & Member(chord, pitch.Tone)) != 0
            && slot.SoundsWith(texture.Fixed.Where(n => n.Pitch.Tone.IsEnharmonicWith(pitch.Tone))))
        {
            faults |= VoicingFaults.Doubled;
            cost += VoicingCosts.Fault;
        }

        return (cost, faults);
    }

    private static double BassLeap(Pitch? neighbour, Pitch pitch) => neighbour is not { } other ? 0
        : Math.Abs(other.Midi - pitch.Midi) switch { > 12 => VoicingCosts.BassBeyondOctave, > 7 and < 12 => VoicingCosts.BassLeap, _ => 0 };

    // One slot more over those below it.
    private Path Step(NewChord chord, Path path, int place, Pitch pitch, VoiceMotion[] motions, double cost, VoicingFaults faults)
    {
        var slots = texture.Slots;
        var (slot, isTendency, same) = (slots[place], chord.IsTendency(pitch.Tone), 0);
        var old = slot.Old;
        for (var lower = path; lower.Slot >= 0; lower = lower.Before!)
        {
            var other = slots[lower.Slot];
            if (lower.Pitch.Tone.IsEnharmonicWith(pitch.Tone) && slot.Doubles != lower.Slot)
            {
                same++;
                if (isTendency && slot.SoundsWith(other.Notes))
                {
                    faults |= VoicingFaults.Doubled;
                    cost += VoicingCosts.Fault;
                }
            }

            if (slot.Doubles == lower.Slot) continue;
            var oldOther = other.Old;
            for (var i = 0; i < motions.Length; i++)
            {
                for (var j = 0; j < lower.Motions.Length; j++)
                {
                    var parallels = motions[i].NewParallelsWith(lower.Motions[j], old[i], oldOther[j]);
                    if (parallels == 0) continue;
                    faults |= VoicingFaults.Parallels;
                    cost += parallels * VoicingCosts.Fault;
                }
            }
        }

        if (same > 1) cost += VoicingCosts.Crowded * (same - 1);
        if (path.Slot >= 0)
        {
            var (gap, was) = (pitch.Midi - path.Pitch.Midi, slot.Pitch.Midi - slots[path.Slot].Pitch.Midi);
            if (gap == 0) cost += slot.SoundsWith(slots[path.Slot].Notes) ? VoicingCosts.Unison : VoicingCosts.RepeatedInFigure;
            if (place > 1 && gap > 12 && was <= 12) cost += VoicingCosts.Gap;
            cost += VoicingCosts.Spacing * Math.Abs(gap - was);
        }

        return new Path(path, place, pitch, path.Members | Member(chord, pitch.Tone), path.Cost + cost, path.Faults | faults, motions);
    }

    private static double Missing(NewChord chord, int members)
    {
        double cost = 0;
        for (var m = 0; m < chord.Tones.Count; m++)
        {
            if ((members & (1 << m)) != 0) continue;
            cost += chord.Essential.Contains(m) ? VoicingCosts.MissingEssential
                : chord.Tones.Count == 3 ? VoicingCosts.MissingOfTriad : VoicingCosts.MissingOther;
        }

        return cost;
    }

    /// <summary>A way from the lowest slot up to one.</summary>
    private sealed record Path(Path? Before, int Slot, Pitch Pitch, int Members, double Cost, VoicingFaults Faults, VoiceMotion[] Motions)
    {
        public Pitch Of(int slot)
        {
            var path = this;
            while (path.Slot != slot) path = path.Before!;
            return path.Pitch;
        }
    }
}
