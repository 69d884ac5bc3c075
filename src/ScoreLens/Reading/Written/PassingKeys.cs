using ScoreLens.Reading.Refinement;
using ScoreLens.Theory;

namespace ScoreLens.Reading.Written;

/// <summary>
/// Reads a few chords that stand in keys which nothing confirms, between chords of one key, in that key: "a key is one where its dominant
/// goes to its tonic" (common practice). So bIII bVI bII7 before I is a turnaround, not three keys, and a ii–V that goes on elsewhere is
/// no key of its own.
/// </summary>
internal sealed class PassingKeys : IRefinement
{
    // More chords than these in one foreign key, or in all together, are left.
    private const int MostInKey = 2, Most = 4;

    public IReadOnlyList<ChordReading> Apply(IReadOnlyList<ChordReading> chords, RefinementContext context)
    {
        var named = chords.ToArray();
        for (var start = 1; start < named.Length; start++)
        {
            var key = named[start - 1].Key;
            if (named[start].Key == key) continue;
            var end = start;
            while (end < named.Length && named[end].Key != key) end++;
            if (end == named.Length || end - start > Most || IsConfirmed(named, start, end)) continue;
            for (var i = start; i < end; i++) named[i] = named[i].NamedIn(key) ?? named[i] with { Key = key, Numeral = null };
        }

        return named;
    }

    // Whether one of the keys between has more chords than pass, or its tonic after its dominant; the chord that follows may be that tonic.
    private static bool IsConfirmed(ChordReading[] chords, int start, int end)
    {
        for (var i = start; i < end; i++)
        {
            var key = chords[i].Key;
            if (i + MostInKey < end && chords[i + MostInKey].Key == key) return true;
            if (i > start && chords[i].Written is { } tonic && chords[i - 1].Written is { } dominant && chords[i - 1].Key == key
                && tonic.Root.IsEnharmonicWith(key.Tonic) && Tone.Semitones(key.Tonic, dominant.Root) == 7) return true;
        }

        return false;
    }
}
