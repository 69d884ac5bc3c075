using System.Text.Json;
using ScoreLens.Grouping;
using ScoreLens.Theory;

namespace ScoreLens.Reading.Model;

/// <summary>
/// The names by which a weights file and training data speak of what the library counts by position: features, modes, qualities. The file
/// <c>weights-format.json</c> beside this one lists them for what writes weights, and a test holds both to each other.
/// </summary>
internal static class ModelFormat
{
    /// <summary>What a weights file begins with.</summary>
    public static ReadOnlySpan<byte> Magic => "SLRM"u8;

    /// <summary>The version of the layout, which stands behind the magic.</summary>
    public const int Version = 2;

    /// <summary>The planes of a row of features, in the library's order.</summary>
    public static IReadOnlyList<string> Planes { get; } = Names<SonorityFeatures.Plane>();

    /// <summary>The scalars of a row of features, in the library's order.</summary>
    public static IReadOnlyList<string> Scalars { get; } =
        [.. Names<FeatureScalar>(), .. Names<GroupingCue>().Select(cue => $"cue-{cue}"), "under-fermata"];

    /// <summary>The modes, in the library's order.</summary>
    public static IReadOnlyList<string> Modes { get; } = Names<Mode>();

    /// <summary>The qualities of chords, in the library's order.</summary>
    public static IReadOnlyList<string> Qualities { get; } = Names<ChordQuality>();

    /// <summary>The kinds of factors in a network's output, in the order of <see cref="NumeralVocabulary"/>.</summary>
    public static IReadOnlyList<string> Factors { get; } =
        ["key", "root", "bass", "target", "quality", "inversion", "numeral", "new-chord", "new-key"];

    /// <summary>A numeral as it stands in a file: mode, root, target or null, quality, inversion.</summary>
    public static object?[] Write(NumeralClass numeral) =>
        [Modes[(int)numeral.Mode], numeral.Root, numeral.Target, Qualities[(int)numeral.Quality], numeral.Inversion];

    /// <summary>Reads what <see cref="Write"/> wrote.</summary>
    /// <exception cref="InvalidDataException">It names a mode or a quality that there is not.</exception>
    public static NumeralClass ReadNumeral(JsonElement numeral) => new(
        (Mode)Place(Modes, numeral[0].GetString()!),
        numeral[1].GetInt32(),
        numeral[2].ValueKind == JsonValueKind.Null ? null : numeral[2].GetInt32(),
        (ChordQuality)Place(Qualities, numeral[3].GetString()!),
        numeral[4].GetInt32());

    /// <summary>The place of a name in the library's order.</summary>
    /// <exception cref="InvalidDataException">The library has no such name.</exception>
    public static int Place(IReadOnlyList<string> names, string name)
    {
        for (var i = 0; i < names.Count; i++)
            if (names[i] == name) return i;
        throw new InvalidDataException($"The model speaks of '{name}', which this version does not know.");
    }

    private static string[] Names<T>()
        where T : struct, Enum => [.. Enum.GetNames<T>().Select(JsonNamingPolicy.KebabCaseLower.ConvertName)];
}
