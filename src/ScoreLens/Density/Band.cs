using System.Diagnostics.CodeAnalysis;
using ScoreLens.Theory;

namespace ScoreLens.Density;

/// <summary>Where a share of time outside the key lies against a band.</summary>
public enum Verdict
{
    /// <summary>Inside the band, its edges included.</summary>
    Within,

    /// <summary>More colour than the band allows.</summary>
    Above,

    /// <summary>Plainer than the band asks for.</summary>
    Below,
}

/// <summary>
/// The band in which the share of time outside the key should lie: two shares from 0 to 1, the lower one first. Written in per
/// cent, <c>20-30</c>; by common practice (no source) 20 to 30 % of the music is outside the key.
/// </summary>
public readonly record struct Band : IParsable<Band>
{
    private const string Example = "a band in per cent such as 20-30, from 0 to 100, the lower number first";

    /// <summary>Creates a band.</summary>
    /// <exception cref="ArgumentOutOfRangeException">A share is outside 0..1, or the lower one is above the other.</exception>
    public Band(Fraction low, Fraction high)
    {
        if (low.Sign < 0 || low > high) throw new ArgumentOutOfRangeException(nameof(low), low, $"Give {Example}.");
        if (high > Fraction.One) throw new ArgumentOutOfRangeException(nameof(high), high, $"Give {Example}.");
        Low = low;
        High = high;
    }

    /// <summary>20 to 30 %.</summary>
    public static Band Default { get; } = new(new Fraction(1, 5), new Fraction(3, 10));

    /// <summary>The smallest share inside the band, 0..1.</summary>
    public Fraction Low { get; }

    /// <summary>The largest share inside the band, 0..1.</summary>
    public Fraction High { get; }

    /// <summary>Where a share lies; the edges are inside.</summary>
    public Verdict Judge(Fraction share) => share > High ? Verdict.Above : share < Low ? Verdict.Below : Verdict.Within;

    /// <summary>In per cent: <c>20-30</c>. <see cref="Parse"/> reads it back.</summary>
    public override string ToString() => $"{Low * 100}-{High * 100}";

    /// <summary>Reads <c>20-30</c>, with or without per cent signs; decimals are allowed.</summary>
    /// <exception cref="FormatException">The text is not a band.</exception>
    public static Band Parse(string s, IFormatProvider? provider = null) =>
        TryParse(s, provider, out var band) ? band : throw new FormatException($"'{s}' is not {Example}.");

    /// <inheritdoc cref="Parse"/>
    public static bool TryParse([NotNullWhen(true)] string? s, IFormatProvider? provider, out Band result)
    {
        result = default;
        if (s?.Replace("%", "", StringComparison.Ordinal).Split('-', '–') is not [var from, var to]) return false;
        if (!Fraction.TryParse(from, provider, out var low) || !Fraction.TryParse(to, provider, out var high)) return false;
        if (low.Sign < 0 || low > high || high > 100) return false;
        result = new Band(low / 100, high / 100);
        return true;
    }
}

/// <summary>The verdicts' names in tables.</summary>
public static class VerdictNames
{
    /// <summary><c>within</c>, <c>above</c> or <c>below</c>.</summary>
    public static string Name(this Verdict verdict) => verdict switch
    {
        Verdict.Within => "within",
        Verdict.Above => "above",
        Verdict.Below => "below",
        _ => throw new ArgumentOutOfRangeException(nameof(verdict), verdict, "Unknown verdict."),
    };
}
