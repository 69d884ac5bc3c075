using ScoreLens.Notation;
using ScoreLens.Sonorities;

namespace ScoreLens.Marking.PartWriting;

/// <summary>In which order the parts of a score are from the highest voice down: by their names, else by where they lie.</summary>
internal static class PartOrder
{
    private static readonly string[][] Names =
    [
        ["soprano", "sopran", "s", "s.", "descant", "treble"],
        ["alto", "alt", "a", "a.", "contralto"],
        ["tenor", "t", "t."],
        ["bass", "b", "b.", "basso"],
    ];

    /// <summary>The place of each part among the voices; that in the score where neither names nor heights say otherwise.</summary>
    public static IReadOnlyList<int> Of(Score score, IReadOnlyCollection<SoundingNote> notes)
    {
        var written = Enumerable.Range(0, score.Parts.Count).ToArray();
        var named = score.Parts.Select(p => Array.FindIndex(Names, n => n.Contains(p.Name.Trim(), StringComparer.OrdinalIgnoreCase)))
            .ToArray();
        if (named.All(v => v >= 0) && named.Distinct().Count() == named.Length) return Ranks(written.OrderBy(p => named[p]));
        var heights = written.Select(p => notes.Where(n => n.Part == p).Select(n => (double)n.Pitch.Midi).DefaultIfEmpty(double.NaN)
            .Average()).ToArray();
        // The usual order is from the top down; only a score that is upside down as a whole is turned.
        var isUpsideDown = heights.Length > 1 && heights.Zip(heights.Skip(1)).All(h => h.First < h.Second);
        return isUpsideDown ? Ranks(written.Reverse()) : written;
    }

    private static int[] Ranks(IEnumerable<int> parts)
    {
        var order = parts.ToArray();
        var ranks = new int[order.Length];
        for (var place = 0; place < order.Length; place++) ranks[order[place]] = place;
        return ranks;
    }
}
