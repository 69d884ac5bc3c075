using ScoreLens.Notation.MusicXml;
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

    /// <summary>
    /// The kind of a written chord, and the degrees that its tones differ by: altered where the kind has the degree, added where it has
    /// not,
    /// subtracted where the chord leaves it out. Degrees count from a dominant chord (MusicXML 4.0, degree-alter).
    /// </summary>
    public static (string Kind, IReadOnlyList<(int Value, int Alter, string Type)> Degrees) Of(WrittenChord chord)
    {
        int[] members = [.. chord.Tones.Select(t => t - chord.Root)];
        var kind = chord.HasThird
            ? members.Contains(3) && chord.Quality() is (ChordQuality.Major or ChordQuality.Minor)
                ? chord.Quality() == ChordQuality.Major ? "major-sixth" : "minor-sixth"
                : Of(chord.Quality(), chord.Extension).Kind
            : members.Contains(-1) ? "suspended-fourth" : members.Contains(2) ? "suspended-second" : "power";
        var degrees = new List<(int, int, string)>();
        var own = ChordKinds.Members(kind).ToArray();
        foreach (var member in members.Except(own))
        {
            var (degree, alter) = Degree(member, members);
            var replaced = own.Except(members).Where(m => Letter(m) == Letter(member)).ToArray();
            degrees.Add(replaced.Length > 0 ? (Degree(replaced[0], members).Degree, (member - replaced[0]) / 7, "alter")
                : (degree, alter, "add"));
        }

        foreach (var left in own.Except(members).Where(m => !members.Except(own).Any(other => Letter(other) == Letter(m))))
            degrees.Add((Degree(left, members).Degree, 0, "subtract"));
        return (kind, degrees);
    }

    // The degree of a member and how many semitones it lies from the dominant chord's: seconds, fourths and sixths over a seventh are
    // ninths, elevenths and thirteenths.
    private static (int Degree, int Alter) Degree(int member, int[] members)
    {
        var letter = Letter(member) + 1;
        var natural = ((ReadOnlySpan<int>)[0, 2, 4, -1, 1, 3, -2])[letter - 1];
        var isHigh = letter is 2 or 4 or 6 && (members.Contains(-2) || members.Contains(5) || letter == 2);
        return (isHigh ? letter + 7 : letter, (member - natural) / 7);
    }

    private static int Letter(int fifths) => (((fifths * 4) % 7) + 7) % 7;

    /// <summary>The kind of a Roman numeral: the augmented sixths have names of their own in the list.</summary>
    public static string Functional(Numeral numeral) => numeral.Quality switch
    {
        ChordQuality.ItalianSixth => "Italian",
        ChordQuality.FrenchSixth => "French",
        ChordQuality.GermanSixth => "German",
        _ => Of(numeral.Quality, numeral.Extension).Kind,
    };
}
