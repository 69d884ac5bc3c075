using ScoreLens.Theory;

namespace ScoreLens.Benchmarks.Midi;

/// <summary>
/// Passages that are spelled in another key of the same sound: F sharp major for G flat major. A composer's choice between the two cannot
/// be heard, so that such a passage is counted apart from notes that are wrong among right ones.
/// </summary>
internal static class EnharmonicPassages
{
    /// <summary>The least notes of a passage; fewer are single notes that are wrong.</summary>
    public const int LeastNotes = 12;

    /// <summary>
    /// How many notes stand in passages in which every note, in all parts, lies the same diminished second away from the written one.
    /// </summary>
    public static int Count(IEnumerable<(Fraction Onset, Pitch Written, Pitch Read)> notes)
    {
        int counted = 0, run = 0, shift = 0;
        foreach (var together in notes.GroupBy(n => n.Onset).OrderBy(g => g.Key))
        {
            var shifts = together.Select(n => n.Read.Tone - n.Written.Tone).Distinct().ToArray();
            var isSame = shifts is [not 0];
            if (isSame && (run == 0 || shifts[0] == shift)) run += together.Count();
            else
            {
                Close();
                run = isSame ? together.Count() : 0;
            }

            if (isSame) shift = shifts[0];
        }

        Close();
        return counted;

        void Close()
        {
            if (run >= LeastNotes) counted += run;
        }
    }
}
