using System.Text.RegularExpressions;
using ScoreLens.Theory;

namespace ScoreLens.Marking.Labels;

/// <summary>
/// Reads chord symbols as students write them: <c>A7/C#</c>, <c>Dmin7</c>, <c>B°7</c>, <c>F#ø</c>, <c>CM7</c>, <c>G+</c>.
/// </summary>
internal static partial class ChordSymbolText
{
    /// <summary>The chord; null where the text is no chord symbol.</summary>
    public static ChordName? Read(string text)
    {
        var match = Pattern().Match(NumeralSigns.Plain(text));
        if (!match.Success) return null;
        var (root, bass) = (match.Groups["root"].Value, match.Groups["bass"].Value);
        var suffix = match.Groups["suffix"].Value.Replace(" ", "", StringComparison.Ordinal) switch
        {
            "M" or "maj" or "Maj" => "",
            "min" or "mi" or "-" => "m",
            "min7" or "mi7" or "-7" => "m7",
            "M7" or "Maj7" or "ma7" or "j7" => "maj7",
            "o" => "dim",
            "o7" => "dim7",
            "ø" or "ø7" or "-7b5" or "min7b5" => "m7b5",
            "+" or "#5" => "aug",
            "+7" or "7+" or "aug7" => "7#5",
            var other => other,
        };
        return ChordName.TryParse(root + suffix + (bass.Length == 0 ? "" : "/" + bass), null, out var name) ? name : null;
    }

    /// <summary>The numeral of a chord in a key; null where the bass is foreign to it or no degree reaches its root.</summary>
    public static Numeral? In(Key key, ChordName chord)
    {
        var inversion = 0;
        if (chord.Bass is { } bass)
        {
            var members = chord.Quality.Members();
            while (inversion < members.Length && !(chord.Root + members[inversion]).IsEnharmonicWith(bass)) inversion++;
            if (inversion == members.Length) return null;
        }

        return chord.Quality.IsAugmentedSixth() ? null : Numeral.For(key, chord.Root, chord.Quality, inversion);
    }

    [GeneratedRegex(@"^(?<root>[A-H](?:#|b)?)(?<suffix>[^/]*?)(?:\s*/\s*(?<bass>[A-H](?:#|b)?))?$")]
    private static partial Regex Pattern();
}
