using ScoreLens.Theory;

namespace ScoreLens.Output.Reduction;

/// <summary>A chord to be set as a block.</summary>
/// <param name="Tones">Its tones, root first.</param>
/// <param name="Bass">The tone in the bass.</param>
/// <param name="Tendencies">Tones that want to move, and are not doubled: the leading tone, sevenths, tones outside the key.</param>
/// <param name="Seventh">The seventh, which falls or is held; null where the chord has none.</param>
/// <param name="LeadingTone">The leading tone of the key where the chord has it.</param>
/// <param name="Heard">Where the score has its bass, as MIDI counts; null where it has it nowhere.</param>
internal sealed record BlockChord(
    IReadOnlyList<Tone> Tones, Tone Bass, IReadOnlyList<Tone> Tendencies, Tone? Seventh, Tone? LeadingTone, int? Heard);

/// <summary>A block chord: a bass and upper voices in close position, from the lowest up.</summary>
internal sealed record Block(Pitch Bass, IReadOnlyList<Pitch> Upper);

/// <summary>
/// Sets chords as blocks of four voices: the bass in the range of the bass staff, three voices in close position above it, from chord to
/// chord with the least motion. As in four-part writing (common practice): no doubled tendency tones, sevenths down, leading tones up, no
/// parallel fifths and octaves where there is a way around them.
/// </summary>
internal static class BlockVoicing
{
    private const int LowestBass = 40, HighestBass = 60, LowestUpper = 53, HighestUpper = 79, MiddleUpper = 65, MiddleBass = 48;

    /// <summary>One block a chord; null stays null, and after it the voices begin anew.</summary>
    public static IReadOnlyList<Block?> Set(IReadOnlyList<BlockChord?> chords)
    {
        var blocks = new Block?[chords.Count];
        for (int start = 0, end; start < chords.Count; start = end)
        {
            end = start + 1;
            if (chords[start] is null) continue;
            while (end < chords.Count && chords[end] is not null) end++;
            SetRun([.. chords.Skip(start).Take(end - start).OfType<BlockChord>()], blocks.AsSpan(start));
        }

        return blocks;
    }

    private static void SetRun(IReadOnlyList<BlockChord> chords, Span<Block?> blocks)
    {
        var paths = new List<Path>();
        for (var i = 0; i < chords.Count; i++)
        {
            var next = new List<Path>();
            foreach (var option in Options(chords[i]))
            {
                var own = Cost(option, chords[i]);
                if (i == 0)
                {
                    next.Add(new Path(null, option, own));
                    continue;
                }

                Path? best = null;
                foreach (var path in paths)
                {
                    var cost = path.Cost + own + Motion(path.Block, option, chords[i - 1], chords[i]);
                    if (best is null || cost < best.Cost) best = new Path(path, option, cost);
                }

                next.Add(best!);
            }

            paths = next;
        }

        var place = chords.Count;
        for (var path = paths.MinBy(p => p.Cost); path is not null; path = path.Before) blocks[--place] = path.Block;
    }

    private static IEnumerable<Block> Options(BlockChord chord)
    {
        foreach (var bass in Pitch.Between(chord.Bass, LowestBass, HighestBass))
            foreach (var tones in UpperTones(chord))
                foreach (var upper in Stacked(tones, bass)) yield return new Block(bass, upper);
    }

    // What the three upper voices hold: what the bass leaves missing, and of a triad all of it or one of those two twice.
    private static IEnumerable<Tone[]> UpperTones(BlockChord chord)
    {
        var others = chord.Tones.Where(t => t != chord.Bass).ToArray();
        if (others.Length >= 4)
        {
            // A ninth: the third, the seventh and the ninth tell it.
            yield return [chord.Tones[1], chord.Tones[3], chord.Tones[4]];
            yield break;
        }

        if (others.Length == 3)
        {
            yield return others;
            yield break;
        }

        yield return [.. chord.Tones];
        yield return [others[0], others[1], others[0]];
        yield return [others[1], others[0], others[1]];
    }

    private static IEnumerable<Pitch[]> Stacked(Tone[] tones, Pitch bass)
    {
        var isDoubled = tones[0] == tones[2];
        for (var turn = 0; turn < (isDoubled ? 1 : 3); turn++)
        {
            foreach (var reversed in (bool[])[false, true])
            {
                if (reversed && isDoubled) break;
                Tone[] order = reversed
                    ? [tones[turn], tones[(turn + 2) % 3], tones[(turn + 1) % 3]]
                    : [tones[turn], tones[(turn + 1) % 3], tones[(turn + 2) % 3]];
                foreach (var low in Pitch.Between(order[0], Math.Max(LowestUpper, bass.Midi + 1), HighestUpper))
                {
                    var middle = Above(order[1], low);
                    var high = Above(order[2], middle);
                    if (high.Midi - low.Midi <= 12 && high.Midi <= HighestUpper) yield return [low, middle, high];
                }
            }
        }
    }

    private static double Cost(Block block, BlockChord chord)
    {
        var (low, middle, high) = (block.Upper[0], block.Upper[1], block.Upper[2]);
        var cost = 0.2 * Math.Abs(((low.Midi + middle.Midi + high.Midi) / 3.0) - MiddleUpper);
        cost += 0.1 * Math.Abs(block.Bass.Midi - MiddleBass);
        if (chord.Heard is { } heard) cost += 0.05 * Math.Abs(block.Bass.Midi - heard);
        if (high.Midi - low.Midi == 12) cost += 1;
        if (low.Midi - block.Bass.Midi > 24) cost += 2;
        foreach (var tone in chord.Tendencies)
        {
            var count = block.Upper.Count(p => p.Tone == tone) + (block.Bass.Tone == tone ? 1 : 0);
            if (count > 1) cost += 6;
        }

        return cost;
    }

    private static double Motion(Block from, Block to, BlockChord before, BlockChord after)
    {
        var cost = 0.25 * Math.Abs(to.Bass.Midi - from.Bass.Midi);
        for (var i = 0; i < 3; i++)
        {
            var (start, step) = (from.Upper[i], to.Upper[i].Midi - from.Upper[i].Midi);
            cost += Math.Abs(step) + (Math.Abs(step) > 4 ? 2 : 0);
            if (start.Tone == before.Seventh && step is > 0 or < -2 && CanGo(start, -1, -2, after)) cost += 3;
            if (start.Tone == before.LeadingTone && step is not (0 or 1) && CanGo(start, 1, 1, after)) cost += i == 2 ? 3 : 1.5;
            for (var j = i + 1; j < 3; j++)
                if (IsParallel(from.Upper[i], from.Upper[j], to.Upper[i], to.Upper[j])) cost += 4;
            if (IsParallel(from.Bass, start, to.Bass, to.Upper[i])) cost += 4;
        }

        return cost;
    }

    private static bool CanGo(Pitch from, int step, int orStep, BlockChord after) =>
        after.Tones.Any(t => (t.PitchClass - from.Midi - step) % 12 == 0 || (t.PitchClass - from.Midi - orStep) % 12 == 0);

    private static bool IsParallel(Pitch low, Pitch high, Pitch nextLow, Pitch nextHigh) =>
        low.Midi != nextLow.Midi && (high.Midi - low.Midi) % 12 is 0 or 7
            && (high.Midi - low.Midi) % 12 == (nextHigh.Midi - nextLow.Midi) % 12;

    private static Pitch Above(Tone tone, Pitch below) => Pitch.Between(tone, below.Midi + 1, below.Midi + 12).First();

    private sealed record Path(Path? Before, Block Block, double Cost);
}
