using ScoreLens.Theory;

namespace ScoreLens.Notation.MusicXml;

/// <summary>
/// The chord kinds of MusicXML's <c>kind-value</c> list (MusicXML 4.0, W3C) as intervals above the root, and two that
/// exporters write beside it (<c>minor-major</c>, <c>augmented-ninth</c>).
/// </summary>
internal static class ChordKinds
{
    /// <summary>Fifths above the root of every member; empty for <c>none</c>, <c>other</c> and unknown kinds.</summary>
    public static ReadOnlySpan<int> Members(string kind) => kind switch
    {
        "major" => [0, 4, 1],
        "minor" => [0, -3, 1],
        "augmented" => [0, 4, 8],
        "diminished" => [0, -3, -6],
        "dominant" => [0, 4, 1, -2],
        "major-seventh" => [0, 4, 1, 5],
        "minor-seventh" => [0, -3, 1, -2],
        "diminished-seventh" => [0, -3, -6, -9],
        "augmented-seventh" => [0, 4, 8, -2],
        "half-diminished" => [0, -3, -6, -2],
        "major-minor" or "minor-major" => [0, -3, 1, 5],
        "major-sixth" => [0, 4, 1, 3],
        "minor-sixth" => [0, -3, 1, 3],
        "augmented-ninth" => [0, 4, 8, -2, 2],
        "dominant-ninth" => [0, 4, 1, -2, 2],
        "major-ninth" => [0, 4, 1, 5, 2],
        "minor-ninth" => [0, -3, 1, -2, 2],
        "dominant-11th" => [0, 4, 1, -2, 2, -1],
        "major-11th" => [0, 4, 1, 5, 2, -1],
        "minor-11th" => [0, -3, 1, -2, 2, -1],
        "dominant-13th" => [0, 4, 1, -2, 2, -1, 3],
        "major-13th" => [0, 4, 1, 5, 2, -1, 3],
        "minor-13th" => [0, -3, 1, -2, 2, -1, 3],
        "suspended-second" => [0, 2, 1],
        "suspended-fourth" => [0, -1, 1],
        "power" => [0, 1],
        "Neapolitan" => [0, 4, 1],
        "Italian" => [0, 4, 10],
        "French" => [0, 4, 6, 10],
        "German" => [0, 4, 1, 10],
        "Tristan" => [0, 6, 10, 9],
        "pedal" => [0],
        _ => [],
    };

    /// <summary>
    /// The tones of a chord symbol with its added, altered and subtracted degrees. An alteration counts from the degree that
    /// the kind has; an added degree, and an altered one that the kind has not, from a dominant chord (MusicXML 4.0, degree-alter).
    /// </summary>
    public static IReadOnlyList<Tone> Tones(Tone root, string kind, IEnumerable<(int Degree, int Alter, string Type)> degrees)
    {
        var fifths = new List<int>();
        foreach (var member in Members(kind)) fifths.Add(member);
        foreach (var (degree, alter, type) in degrees)
        {
            if (degree is < 1 or > 13) continue;
            var natural = NaturalDegree(degree);
            var place = fifths.FindIndex(f => Letter(f) == Letter(natural));
            switch (type)
            {
                case "alter" when place >= 0: fifths[place] += 7 * alter; break;
                case "add" or "alter": fifths.Add(natural + (7 * alter)); break;
                case "subtract" when place >= 0: fifths.RemoveAt(place); break;
            }
        }

        return [.. fifths.Where(f => root.Fifths + f is >= Tone.MinFifths and <= Tone.MaxFifths).Distinct().Select(f => root + f)];
    }

    /// <summary>The quality of a kind that a Roman numeral can say, with the extension that its figures name, if it is one.</summary>
    public static (ChordQuality Quality, int Extension)? Quality(string kind) => kind switch
    {
        "major" => (ChordQuality.Major, 0),
        "minor" => (ChordQuality.Minor, 0),
        "diminished" => (ChordQuality.Diminished, 0),
        "augmented" => (ChordQuality.Augmented, 0),
        "major-seventh" => (ChordQuality.MajorSeventh, 0),
        "dominant" => (ChordQuality.DominantSeventh, 0),
        "minor-seventh" => (ChordQuality.MinorSeventh, 0),
        "half-diminished" => (ChordQuality.HalfDiminishedSeventh, 0),
        "diminished-seventh" => (ChordQuality.DiminishedSeventh, 0),
        "augmented-seventh" => (ChordQuality.AugmentedSeventh, 0),
        "major-minor" => (ChordQuality.MinorMajorSeventh, 0),
        "dominant-ninth" => (ChordQuality.DominantSeventh, 9),
        "major-ninth" => (ChordQuality.MajorSeventh, 9),
        "minor-ninth" => (ChordQuality.MinorSeventh, 9),
        "dominant-11th" => (ChordQuality.DominantSeventh, 11),
        "major-11th" => (ChordQuality.MajorSeventh, 11),
        "minor-11th" => (ChordQuality.MinorSeventh, 11),
        "dominant-13th" => (ChordQuality.DominantSeventh, 13),
        "major-13th" => (ChordQuality.MajorSeventh, 13),
        "minor-13th" => (ChordQuality.MinorSeventh, 13),
        "Italian" => (ChordQuality.ItalianSixth, 0),
        "French" => (ChordQuality.FrenchSixth, 0),
        "German" => (ChordQuality.GermanSixth, 0),
        _ => null,
    };

    // The degrees of a dominant thirteenth: the seventh is minor.
    private static int NaturalDegree(int degree) => ((ReadOnlySpan<int>)[0, 2, 4, -1, 1, 3, -2])[(degree - 1) % 7];

    private static int Letter(int fifths) => (((fifths * 4) % 7) + 7) % 7;
}
