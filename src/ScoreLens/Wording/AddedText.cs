using ScoreLens.Reading;
using ScoreLens.Theory;

namespace ScoreLens.Wording;

/// <summary>The sentence on a chord of the key to which its written symbol adds tones from outside it.</summary>
internal static class AddedText
{
    /// <summary>The sentence; empty where the symbol adds no such tone, or no symbol names the chord.</summary>
    public static string Of(ChordReading reading)
    {
        ArgumentNullException.ThrowIfNull(reading);
        if (reading is not { Written: { } written, Numeral: { } numeral } || !Diatonic.Contains(reading.Key, numeral)) return "";
        var added = written.Tones.Where(t => !reading.Key.Contains(t) && !reading.Sound.Tones.Any(t.IsEnharmonicWith)).ToArray();
        return added.Length == 0 ? ""
            : $"The written symbol adds {string.Join(" and ", added)}, outside {reading.Key}; the chord that it colours belongs to the "
                + $"key.";
    }
}
