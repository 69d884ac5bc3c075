namespace ScoreLens.TestKit.Fuzzing;

/// <summary>Values that a reader meets in broken files.</summary>
internal static class Nonsense
{
    private static readonly string[] Values =
    [
        "", " ", "0", "-1", "1", "2", "3", "7", "12", "100", "255", "65536", "999999937", "1000000000", "2147483647",
        "2147483648", "-2147483648", "9223372036854775807", "99999999999999999999", "0.333", "1/3", "1/0", "1e9", "NaN",
        "Infinity", "yes", "no", "start", "stop", "abc", "é♭", "\u202e", "C", "H", "quarter", "none", "percussion", "=1+1", "'",
        "\"", "[", "{", "&a", "*a", "null", "~", "I", "V7/V", "viio", "C major", "xx minor",
    ];

    /// <summary>One of them.</summary>
    public static string Value(Random random) => Values[random.Next(Values.Length)];

    /// <summary>A number near another, or far from it.</summary>
    public static string Near(string number, Random random)
    {
        if (!long.TryParse(number, out var value)) return Value(random);
        return random.Next(5) switch
        {
            0 => $"{unchecked(value + 1)}",
            1 => $"{unchecked(value - 1)}",
            2 => $"{unchecked(-value)}",
            3 => $"{unchecked(value * 1000)}",
            _ => $"{value}.5",
        };
    }
}
