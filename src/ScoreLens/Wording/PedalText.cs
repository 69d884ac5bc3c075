using ScoreLens.Devices;
using ScoreLens.Reading;

namespace ScoreLens.Wording;

/// <summary>The sentence on a chord that sounds with a pedal.</summary>
public static class PedalText
{
    /// <summary>A pedal's label: <c>pedal 1</c>, <c>pedal 5</c>, with its degree in the key in which it begins.</summary>
    internal static string Label(PedalPoint pedal) => $"pedal {pedal.Degree}";

    /// <summary>Over or under which pedal the chord stands, and whether the pedal belongs to it.</summary>
    /// <param name="pedal">A pedal that sounds through the chord.</param>
    /// <param name="chord">The chord, which has a numeral.</param>
    /// <param name="isLowest">Whether the pedal is the lowest tone wherever the chord sounds.</param>
    public static string Of(PedalPoint pedal, ChordReading chord, bool isLowest)
    {
        ArgumentNullException.ThrowIfNull(pedal);
        ArgumentNullException.ThrowIfNull(chord);
        var place = isLowest ? "over" : "with";
        return $"{chord.Numeral} in {chord.Key} {place} a pedal on {pedal.Tone}, degree {pedal.Degree} of {pedal.Key}, "
            + (pedal.IsForeignTo(chord) ? "which is no tone of the chord" : "which is a tone of the chord");
    }
}
