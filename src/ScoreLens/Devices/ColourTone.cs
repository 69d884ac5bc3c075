using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Devices;

/// <summary>A tone of a chord that is foreign to the local key, and the parts that play it.</summary>
/// <param name="Tone">The tone as the chord has it.</param>
/// <param name="Parts">Names of the parts in which it sounds while the chord lasts, from the top of the score; at least one.</param>
public sealed record ColourTone(Tone Tone, IReadOnlyList<string> Parts)
{
    /// <summary>The colour tones of a chord that sound; empty for a chord of the key, and where all its tones belong to the key.</summary>
    /// <param name="chord">The chord.</param>
    /// <param name="sonorities">What sounds while it lasts.</param>
    /// <param name="parts">Names of the score's parts, none of them empty.</param>
    internal static IReadOnlyList<ColourTone> Of(TaggedChord chord, IEnumerable<Sonority> sonorities, IReadOnlyList<string> parts)
    {
        if (!chord.IsOutside || chord.Reading.Numeral is not { } numeral) return [];
        var key = chord.Reading.Key;
        var notes = sonorities.SelectMany(s => s.Notes).Distinct().ToList();
        return
        [
            .. numeral.Tones(key).Where(t => !key.Contains(t)).Distinct()
                .Select(t => new ColourTone(t, [.. notes.Where(n => n.Pitch.Tone.IsEnharmonicWith(t)).Select(n => n.Part).Distinct().Order()
                    .Select(p => parts[p])]))
                .Where(c => c.Parts.Count > 0),
        ];
    }
}
