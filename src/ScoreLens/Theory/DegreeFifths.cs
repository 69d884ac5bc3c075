namespace ScoreLens.Theory;

/// <summary>Where a written scale degree stands, in fifths above the tonic, and the way back.</summary>
/// <remarks>
/// In minor VI and VII are the natural degrees, while a diminished or minor chord on the sixth or seventh stands on the
/// raised one unless a flat says otherwise: the convention of the corpus's references (see docs/method.md).
/// </remarks>
internal static class DegreeFifths
{
    private static ReadOnlySpan<int> Major => [0, 2, 4, -1, 1, 3, 5];

    private static ReadOnlySpan<int> Minor => [0, 2, -3, -1, 1, -4, -2];

    public static int Of(int degree, int alteration, Mode mode, ChordQuality quality)
    {
        if (mode == Mode.Major) return Major[degree - 1] + (7 * alteration);
        var natural = Minor[degree - 1];
        if (degree is 6 or 7)
        {
            var raised = alteration == 0 ? TakesRaisedDegree(quality) : alteration > 0;
            return natural + (raised ? 7 : 0) + (7 * Math.Sign(alteration) * Math.Max(0, Math.Abs(alteration) - 1));
        }

        return degree == 3 && alteration == -1 ? natural : natural + (7 * alteration);
    }

    /// <summary>The degree and the shortest accidental that stand at <paramref name="fifths"/> above the tonic, if any do.</summary>
    public static bool TryFind(int fifths, Mode mode, ChordQuality quality, out int degree, out int alteration)
    {
        degree = ((((fifths * 4) % 7) + 7) % 7) + 1;
        foreach (var candidate in (ReadOnlySpan<int>)[0, -1, 1, -2, 2])
        {
            if (Of(degree, candidate, mode, quality) != fifths) continue;
            alteration = candidate;
            return true;
        }

        alteration = 0;
        return false;
    }

    private static bool TakesRaisedDegree(ChordQuality quality) => quality
        is ChordQuality.Diminished or ChordQuality.DiminishedSeventh or ChordQuality.HalfDiminishedSeventh
        or ChordQuality.Minor or ChordQuality.MinorSeventh;
}
