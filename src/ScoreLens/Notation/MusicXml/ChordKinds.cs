using ScoreLens.Theory;

namespace ScoreLens.Notation.MusicXml;

/// <summary>The chord kinds of MusicXML's <c>kind-value</c> list (MusicXML 4.0, W3C) as intervals above the root.</summary>
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
        "major-minor" => [0, -3, 1, 5],
        "major-sixth" => [0, 4, 1, 3],
        "minor-sixth" => [0, -3, 1, 3],
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
        "Tristan" => [0, 6, 10, 3],
        "pedal" => [0],
        _ => [],
    };

    /// <summary>The tones of a chord symbol with its added, altered and subtracted degrees.</summary>
    public static IReadOnlyList<Tone> Tones(Tone root, string kind, IEnumerable<(int Degree, int Alter, string Type)> degrees)
    {
        var fifths = Members(kind).ToArray().ToList();
        foreach (var (degree, alter, type) in degrees)
        {
            if (degree is < 1 or > 13) continue;
            var above = NaturalDegree(degree) + (7 * alter);
            switch (type)
            {
                case "add": fifths.Add(above); break;
                case "alter":
                    fifths.RemoveAll(f => Letter(f) == Letter(above));
                    fifths.Add(above);
                    break;
                case "subtract": fifths.RemoveAll(f => Letter(f) == Letter(above)); break;
            }
        }

        return [.. fifths.Where(f => root.Fifths + f is >= Tone.MinFifths and <= Tone.MaxFifths).Distinct().Select(f => root + f)];
    }

    // The degrees of a dominant thirteenth: the seventh is minor.
    private static int NaturalDegree(int degree) => ((ReadOnlySpan<int>)[0, 2, 4, -1, 1, 3, -2])[(degree - 1) % 7];

    private static int Letter(int fifths) => (((fifths * 4) % 7) + 7) % 7;
}
