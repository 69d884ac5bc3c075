using ScoreLens.Devices;
using ScoreLens.Theory;

namespace ScoreLens.Reharmonising;

/// <summary>What the reader calls the chord of an alternative where it is written into the score.</summary>
/// <param name="Key">Its key; null where no chord is read there.</param>
/// <param name="Numeral">Its numeral; null where none is named.</param>
/// <param name="Device">Its device; null for a chord of the key.</param>
/// <param name="IsKept">Whether that is what was promised, as <see cref="Rereading.Is"/> has it.</param>
public sealed record ReadBack(Key? Key, Numeral? Numeral, Device? Device, bool IsKept)
{
    /// <summary>What is read in the place of an alternative.</summary>
    internal static ReadBack Of(TaggedChord? found, Alternative alternative) =>
        new(found?.Reading.Key, found?.Reading.Numeral, found?.Device, Rereading.Is(found, alternative));
}
