using ScoreLens.Theory;

namespace ScoreLens.Output.Annotation;

/// <summary>
/// Chord qualities as values of MusicXML's <c>kind-value</c> list (MusicXML 4.0, W3C), with the degrees that the list lacks.
/// </summary>
internal static class HarmonyKinds
{
    /// <summary>The kind of a chord symbol, and the degrees that it must be altered by.</summary>
    public static (string Kind, IReadOnlyList<(int Value, int Alter, string Type)> Degrees) Of(ChordQuality quality, int extension) =>
        (quality, extension) switch
        {
            (ChordQuality.DominantSeventh, 9) => ("dominant-ninth", []),
            (ChordQuality.DominantSeventh, 11) => ("dominant-11th", []),
            (ChordQuality.DominantSeventh, 13) => ("dominant-13th", []),
            (ChordQuality.MajorSeventh, 9) => ("major-ninth", []),
            (ChordQuality.MajorSeventh, 11) => ("major-11th", []),
            (ChordQuality.MajorSeventh, 13) => ("major-13th", []),
            (ChordQuality.MinorSeventh, 9) => ("minor-ninth", []),
            (ChordQuality.MinorSeventh, 11) => ("minor-11th", []),
            (ChordQuality.MinorSeventh, 13) => ("minor-13th", []),
            (_, 0) => quality switch
            {
                ChordQuality.Major => ("major", []),
                ChordQuality.Minor => ("minor", []),
                ChordQuality.Diminished => ("diminished", []),
                ChordQuality.Augmented => ("augmented", []),
                ChordQuality.MajorSeventh => ("major-seventh", []),
                ChordQuality.MinorSeventh => ("minor-seventh", []),
                ChordQuality.HalfDiminishedSeventh => ("half-diminished", []),
                ChordQuality.DiminishedSeventh => ("diminished-seventh", []),
                ChordQuality.AugmentedSeventh => ("augmented-seventh", []),
                ChordQuality.AugmentedMajorSeventh => ("major-seventh", [(5, 1, "alter")]),
                ChordQuality.MinorMajorSeventh => ("major-minor", []),
                ChordQuality.FrenchSixth => ("dominant", [(5, -1, "alter")]),
                _ => ("dominant", []),
            },
            _ => (Of(quality, 0).Kind, [.. Of(quality, 0).Degrees, (extension, 0, "add")]),
        };

    /// <summary>The kind of a Roman numeral: the augmented sixths have names of their own in the list.</summary>
    public static string Functional(Numeral numeral) => numeral.Quality switch
    {
        ChordQuality.ItalianSixth => "Italian",
        ChordQuality.FrenchSixth => "French",
        ChordQuality.GermanSixth => "German",
        _ => Of(numeral.Quality, numeral.Extension).Kind,
    };
}
