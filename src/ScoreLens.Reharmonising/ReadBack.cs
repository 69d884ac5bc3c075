using ScoreLens.Devices;
using ScoreLens.Theory;

namespace ScoreLens.Reharmonising;

/// <summary>What the reader calls the chord of an alternative where it is written into the score.</summary>
/// <param name="Key">Its key; null where no chord is read there.</param>
/// <param name="Numeral">Its numeral; null where none is named.</param>
/// <param name="Device">Its device; null for a chord of the key.</param>
/// <param name="IsKept">Whether that is what was promised, as <see cref="Rereading.Is"/> has it, and sure enough to be one.</param>
public sealed record ReadBack(Key? Key, Numeral? Numeral, Device? Device, bool IsKept)
{
    // What is read less surely may well be read otherwise with more of the music around it: the benchmark offers counts how often.
    private const double LeastConfidence = 0.45;

    /// <summary>How sure that reading is: the stated probability that an expert writes it, 0..1.</summary>
    public double Confidence { get; init; }

    /// <summary>What is read in the place of an alternative.</summary>
    internal static ReadBack Of(TaggedChord? found, Alternative alternative) =>
        new(found?.Reading.Key, found?.Reading.Numeral, found?.Device, found?.Reading.Confidence >= LeastConfidence
            && Rereading.Is(found, alternative))
        { Confidence = found?.Reading.Confidence ?? 0 };
}
