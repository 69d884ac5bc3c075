using System.Diagnostics.CodeAnalysis;
using System.Globalization;
using ScoreLens.Devices;
using ScoreLens.Theory;

namespace ScoreLens.Wording;

/// <summary>The tones outside the key and who plays them, as text: <c>F#: Horn in F, Viola; Bb: Flute</c>.</summary>
public static class ColourText
{
    /// <summary>The text; empty where there is no such tone.</summary>
    public static string Of(IReadOnlyList<ColourTone> tones)
    {
        ArgumentNullException.ThrowIfNull(tones);
        return string.Join("; ", tones.Select(t => $"{t.Tone}: {string.Join(", ", t.Parts.Select(Plain))}"));
    }

    /// <summary>Reads what <see cref="Of"/> writes.</summary>
    public static bool TryParse([NotNullWhen(true)] string? text, IFormatProvider? provider, out IReadOnlyList<ColourTone> tones)
    {
        var read = new List<ColourTone>();
        tones = read;
        if (text is null) return false;
        foreach (var item in text.Split("; ", StringSplitOptions.RemoveEmptyEntries))
        {
            var colon = item.IndexOf(": ", StringComparison.Ordinal);
            if (colon < 1 || !Tone.TryParse(item[..colon], CultureInfo.InvariantCulture, out var tone)) return false;
            read.Add(new ColourTone(tone, item[(colon + 2)..].Split(", ")));
        }

        return true;
    }

    // What separates names and tones stands in no name.
    private static string Plain(string name) =>
        name.Replace(", ", " ", StringComparison.Ordinal).Replace("; ", " ", StringComparison.Ordinal);
}
