using ScoreLens.Notation;
using ScoreLens.Theory;

namespace ScoreLens.Output.Annotation;

/// <summary>Which labels are written into a score.</summary>
[Flags]
public enum LabelKinds
{
    /// <summary>None.</summary>
    None = 0,

    /// <summary>Chord symbols over the top staff.</summary>
    Symbols = 1,

    /// <summary>Roman numerals.</summary>
    Numerals = 2,

    /// <summary>A short sign for every chromatic device, in its colour.</summary>
    Devices = 4,

    /// <summary>The local key where it starts: <c>C:</c>, in minor <c>a:</c>.</summary>
    Keys = 8,

    /// <summary>All of them.</summary>
    All = Symbols | Numerals | Devices | Keys,
}

/// <summary>
/// As what numerals, devices and keys are written. Chord symbols are <c>harmony</c> in any case but <see cref="Words"/> alone.
/// </summary>
[Flags]
public enum LabelForms
{
    /// <summary>Lyric lines of their own; words where no note of the staff starts with the chord.</summary>
    Lyric = 1,

    /// <summary>Words below the staff.</summary>
    Words = 2,

    /// <summary>
    /// Numerals as <c>harmony</c>: with <c>numeral</c> from MusicXML 4.0 on, before it with <c>function</c>. Devices and keys, which
    /// harmony has no place for, as words.
    /// </summary>
    Harmony = 4,
}

/// <summary>Which staff takes the labels.</summary>
public enum LabelStaff
{
    /// <summary>
    /// In scores of more than four staves <see cref="Reduction"/>, else numerals, devices and keys under the lowest staff with notes, and
    /// chord symbols over the top one.
    /// </summary>
    Automatic,

    /// <summary>All on the harmonic reduction, two small staves of our own at the bottom of the score.</summary>
    Reduction,

    /// <summary>All at the top staff with notes.</summary>
    Top,

    /// <summary>All at the lowest staff with notes.</summary>
    Bottom,
}

/// <summary>What is written into an annotated score, and where.</summary>
public sealed record LabelOptions
{
    private const int MostStavesWithoutReduction = 4;

    /// <summary>Everything, as lyrics and chord symbols, where the size of the score asks for it.</summary>
    public static LabelOptions Default { get; } = new();

    /// <summary>Which labels.</summary>
    public LabelKinds Labels { get; init; } = LabelKinds.All;

    /// <summary>In which forms; several write each numeral several times.</summary>
    public LabelForms As { get; init; } = LabelForms.Lyric;

    /// <summary>
    /// The part that takes the labels: its name (either case), its identifier, or its number from the top, from 1. Empty for the
    /// score's own lowest staff with notes, and its top one for chord symbols.
    /// </summary>
    public string Part { get; init; } = "";

    /// <summary>How the qualities of chord symbols are spelled.</summary>
    public SymbolSpelling Spelling { get; init; }

    /// <summary>Which staff takes the labels, where no part is named.</summary>
    public LabelStaff On { get; init; }

    /// <summary>Whether the labels of a score go on a reduction of our own.</summary>
    public bool TakesReduction(Score score)
    {
        ArgumentNullException.ThrowIfNull(score);
        return Part.Length == 0 && (On == LabelStaff.Reduction
            || (On == LabelStaff.Automatic && score.Parts.Sum(p => p.Staves) > MostStavesWithoutReduction));
    }

    /// <summary>Reads where labels go as a command line gives it: <c>reduction</c>, <c>top</c>, <c>bottom</c>, or else a part.</summary>
    public LabelOptions At(string? on) => on?.Trim().ToUpperInvariant() switch
    {
        null or "" => this,
        "REDUCTION" => this with { On = LabelStaff.Reduction, Part = "" },
        "TOP" => this with { On = LabelStaff.Top, Part = "" },
        "BOTTOM" => this with { On = LabelStaff.Bottom, Part = "" },
        _ => this with { Part = on.Trim() },
    };

    /// <summary>Reads the options as a command line gives them.</summary>
    /// <param name="labels">Comma-separated: <c>symbols</c>, <c>numerals</c>, <c>devices</c>, <c>keys</c>; null or empty for all.</param>
    /// <param name="forms">Comma-separated: <c>harmony</c>, <c>lyric</c>, <c>words</c>; null or empty for lyric.</param>
    /// <param name="part">Name, identifier or number of a part; null or empty for none in particular.</param>
    /// <exception cref="FormatException">A word is none of these; the message names those that are.</exception>
    public static LabelOptions Parse(string? labels, string? forms, string? part) => new()
    {
        Labels = Flags(labels, LabelKinds.All, [LabelKinds.Symbols, LabelKinds.Numerals, LabelKinds.Devices, LabelKinds.Keys], (a, b) =>
            a | b),
        As = Flags(forms, LabelForms.Lyric, [LabelForms.Harmony, LabelForms.Lyric, LabelForms.Words], (a, b) => a | b),
        Part = part?.Trim() ?? "",
    };

    private static T Flags<T>(string? text, T otherwise, T[] known, Func<T, T, T> join)
        where T : struct, Enum
    {
        if (string.IsNullOrWhiteSpace(text)) return otherwise;
        T result = default;
        foreach (var word in text.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries))
        {
            var index = Array.FindIndex(known, k => k.ToString().Equals(word, StringComparison.OrdinalIgnoreCase));
            if (index < 0) throw new FormatException($"'{word}' is not one of {string.Join(", ", known).ToLowerInvariant()}.");
            result = join(result, known[index]);
        }

        return result;
    }
}
