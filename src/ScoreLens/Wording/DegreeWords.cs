using ScoreLens.Theory;

namespace ScoreLens.Wording;

/// <summary>Degrees of a key in words and as numerals, for sentences.</summary>
internal static class DegreeWords
{
    private static readonly string[] Ordinals = ["first", "second", "third", "fourth", "fifth", "sixth", "seventh"];

    /// <summary>
    /// <c>the raised fourth degree</c>, <c>the lowered sixth degree</c>, in minor <c>the sixth degree</c>, <c>the leading tone</c>.
    /// </summary>
    public static string Of(Key key, Tone tone)
    {
        var above = tone - key.Tonic;
        if (above == 5) return "the leading tone";
        var degree = ((((above * 4) % 7) + 7) % 7) + 1;
        var alteration = (above - key.ScaleFifths[degree - 1]) / 7;
        var change = alteration switch { 0 => "", 1 => "raised ", -1 => "lowered ", > 1 => "doubly raised ", _ => "doubly lowered " };
        return $"the {change}{Ordinals[degree - 1]} degree";
    }
}
