using ScoreLens.Theory;

namespace ScoreLens.Marking.Alignment;

/// <summary>
/// Aligns the measures of two scores by their contents: the global alignment of Needleman and Wunsch (Journal of Molecular Biology
/// 48, 1970), with the share of notes kept as the worth of a pair and a constant cost for a measure that has no counterpart.
/// </summary>
internal static class MeasureAlignment
{
    private const double Gap = 0.15, RepeatShare = 0.6;

    /// <summary>The pairs of measures in order, and repetitions of measures that are written out again.</summary>
    /// <param name="given">The measures of the score that was set.</param>
    /// <param name="written">The measures of the submission.</param>
    /// <param name="factor">How much longer a note of the submission is.</param>
    /// <param name="semitones">How much higher it sounds.</param>
    public static (IReadOnlyList<AlignedPair> Pairs, IReadOnlyList<AlignedPair> Repeats) Of(
        IReadOnlyList<MeasureContent> given, IReadOnlyList<MeasureContent> written, Fraction factor, int semitones)
    {
        var pair = new AlignedPair[given.Count, written.Count];
        for (var i = 0; i < given.Count; i++)
            for (var j = 0; j < written.Count; j++) pair[i, j] = Compare(given, written, i, j, factor, semitones);
        var best = Table(given, pair, written.Count);
        var pairs = new List<AlignedPair>();
        for (int i = given.Count, j = written.Count; i > 0 && j > 0;)
        {
            if (best[i, j] == best[i - 1, j - 1] + Worth(given, pair[i - 1, j - 1])) pairs.Add(pair[--i, --j]);
            else if (best[i, j] == best[i - 1, j] - Gap) i--;
            else j--;
        }

        pairs.Reverse();
        var used = pairs.Select(p => p.Written).ToHashSet();
        var repeats = Enumerable.Range(0, written.Count).Where(j => !used.Contains(j) && written[j].Notes.Count > 0)
            .Select(j => Enumerable.Range(0, given.Count).Select(i => pair[i, j]).MaxBy(p => Worth(given, p)))
            .Where(p => given[p.Given].Notes.Count > 0 && Worth(given, p) >= RepeatShare);
        return (pairs, [.. repeats]);
    }

    private static double[,] Table(IReadOnlyList<MeasureContent> given, AlignedPair[,] pair, int count)
    {
        var best = new double[given.Count + 1, count + 1];
        for (var i = 1; i <= given.Count; i++) best[i, 0] = -Gap * i;
        for (var j = 1; j <= count; j++) best[0, j] = -Gap * j;
        for (var i = 1; i <= given.Count; i++)
        {
            for (var j = 1; j <= count; j++)
            {
                var matched = best[i - 1, j - 1] + Worth(given, pair[i - 1, j - 1]);
                best[i, j] = Math.Max(matched, Math.Max(best[i - 1, j] - Gap, best[i, j - 1] - Gap));
            }
        }

        return best;
    }

    private static double Worth(IReadOnlyList<MeasureContent> given, AlignedPair pair) =>
        given[pair.Given].Notes.Count == 0 ? 0 : (double)pair.Kept / given[pair.Given].Notes.Count;

    private static AlignedPair Compare(
        IReadOnlyList<MeasureContent> given, IReadOnlyList<MeasureContent> written, int i, int j, Fraction factor, int semitones)
    {
        var fromStart = Kept(given[i], written[j], factor, Fraction.Zero, semitones);
        var shift = written[j].Length - (given[i].Length * factor);
        // A first measure may be a pickup here and filled up with rests there.
        if ((i > 0 && j > 0) || shift.Sign == 0) return new AlignedPair(i, j, Fraction.Zero, fromStart);
        var fromEnd = Kept(given[i], written[j], factor, shift, semitones);
        return fromEnd > fromStart ? new AlignedPair(i, j, shift, fromEnd) : new AlignedPair(i, j, Fraction.Zero, fromStart);
    }

    private static int Kept(MeasureContent given, MeasureContent written, Fraction factor, Fraction shift, int semitones) =>
        given.Notes.Count(n => written.Has((n.Offset * factor) + shift, n.Midi + semitones));
}
