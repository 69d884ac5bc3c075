using ScoreLens.Theory;

namespace ScoreLens.Reading.Refinement;

/// <summary>Chords of one key that follow each other, from <paramref name="Start"/> up to but without <paramref name="End"/>.</summary>
/// <param name="Key">Their key.</param>
/// <param name="Start">Number of the first chord.</param>
/// <param name="End">Number after the last one.</param>
/// <param name="Duration">Quarter notes from the first chord's onset to the last one's end.</param>
internal readonly record struct KeyStay(Key Key, int Start, int End, Fraction Duration)
{
    /// <summary>The stays of a reading in their order; two neighbours have different keys.</summary>
    public static List<KeyStay> Of(IReadOnlyList<ChordReading> chords)
    {
        var stays = new List<KeyStay>();
        for (int start = 0, end; start < chords.Count; start = end)
        {
            end = start + 1;
            while (end < chords.Count && chords[end].Key == chords[start].Key) end++;
            stays.Add(new KeyStay(chords[start].Key, start, end, chords[end - 1].End - chords[start].Onset));
        }

        return stays;
    }

    /// <summary>How many of its chords have a numeral.</summary>
    public int Named(IReadOnlyList<ChordReading> chords)
    {
        var count = 0;
        for (var i = Start; i < End; i++)
            if (chords[i].Numeral is not null) count++;
        return count;
    }
}
