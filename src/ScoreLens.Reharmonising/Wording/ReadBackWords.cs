using ScoreLens.Devices;
using ScoreLens.Theory;

namespace ScoreLens.Reharmonising.Wording;

/// <summary>How the reader calls an alternative that is written into the score.</summary>
public static class ReadBackWords
{
    /// <summary>
    /// The name that it has in the score, if another than the one it was offered by: <c>V/vi in F major (secondary-dominant)</c>; else
    /// empty, and so where it cannot be written.
    /// </summary>
    public static string OtherName(Alternative alternative)
    {
        ArgumentNullException.ThrowIfNull(alternative);
        return alternative.ReadBack is not { } found || (found.IsKept && found.Numeral == alternative.Numeral) ? ""
            : found is { Key: { } key, Numeral: { } numeral } ? $"{numeral} in {key} ({found.Device?.Name() ?? "diatonic"})" : "no chord";
    }
}
