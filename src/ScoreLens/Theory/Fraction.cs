using System.Globalization;

namespace ScoreLens.Theory;

/// <summary>
/// An exact rational number in lowest terms, used for time in quarter notes. Numerator and denominator are 64-bit;
/// arithmetic that leaves that range throws <see cref="OverflowException"/>. The default value is zero.
/// </summary>
public readonly struct Fraction : IComparable<Fraction>, IEquatable<Fraction>, IParsable<Fraction>
{
    private readonly long _denominatorLessOne;

    /// <summary>Creates <paramref name="numerator"/>/<paramref name="denominator"/>, reduced to lowest terms.</summary>
    /// <exception cref="DivideByZeroException">The denominator is zero.</exception>
    public Fraction(long numerator, long denominator = 1)
    {
        if (denominator == 0) throw new DivideByZeroException("A fraction's denominator cannot be zero.");
        if (denominator < 0) (numerator, denominator) = (checked(-numerator), checked(-denominator));
        if (denominator != 1)
        {
            var divisor = CommonDivisor(numerator < 0 ? (ulong)-(numerator + 1) + 1 : (ulong)numerator, (ulong)denominator);
            // A divisor is at most the denominator, and so fits.
            numerator /= (long)divisor;
            denominator /= (long)divisor;
        }

        Numerator = numerator;
        _denominatorLessOne = denominator - 1;
    }

    // Reduced before it is narrowed: a product that leaves 64 bits may still be a fraction that fits.
    private static Fraction Reduced(Int128 numerator, Int128 denominator)
    {
        if (denominator == 0) throw new DivideByZeroException("A fraction's denominator cannot be zero.");
        if (denominator < 0) (numerator, denominator) = (-numerator, -denominator);
        var (a, b) = (Int128.Abs(numerator), denominator);
        while (b != 0)
        {
            if (a <= ulong.MaxValue && b <= ulong.MaxValue)
            {
                a = CommonDivisor((ulong)a, (ulong)b);
                break;
            }

            (a, b) = (b, a % b);
        }

        return new(checked((long)(numerator / a)), checked((long)(denominator / a)));
    }

    /// <summary>The least number that two numbers above zero both divide.</summary>
    internal static long LeastCommonMultiple(long a, long b) => checked(a / (long)CommonDivisor((ulong)a, (ulong)b) * b);

    private static ulong CommonDivisor(ulong a, ulong b)
    {
        while (b != 0) (a, b) = (b, a % b);
        return a;
    }

    /// <summary>Zero quarter notes.</summary>
    public static Fraction Zero => default;

    /// <summary>One quarter note.</summary>
    public static Fraction One => new(1);

    /// <summary>The numerator, which carries the sign.</summary>
    public long Numerator { get; }

    /// <summary>The denominator, always positive.</summary>
    public long Denominator => _denominatorLessOne + 1;

    /// <summary>-1, 0 or 1.</summary>
    public int Sign => Math.Sign(Numerator);

    /// <summary>The nearest double; for weights and display, never for positions.</summary>
    public double ToDouble() => (double)Numerator / Denominator;

    /// <summary>The largest whole number that is not greater than this.</summary>
    public long Floor() => Numerator >= 0 || Numerator % Denominator == 0
        ? Numerator / Denominator
        : (Numerator / Denominator) - 1;

    /// <summary>A whole number as a fraction.</summary>
    public static implicit operator Fraction(int value) => new(value);

    // Times in a score are small numbers, whose products need no more than 64 bits: several times as fast.
    private bool IsSmall => Numerator is <= int.MaxValue and >= -int.MaxValue && _denominatorLessOne < int.MaxValue;

    /// <summary>The exact sum.</summary>
    /// <exception cref="OverflowException">The result does not fit 64-bit numerator and denominator.</exception>
    public static Fraction operator +(Fraction a, Fraction b) => a.Denominator == b.Denominator
        ? new(checked(a.Numerator + b.Numerator), a.Denominator)
        : a.IsSmall && b.IsSmall
        ? new((a.Numerator * b.Denominator) + (b.Numerator * a.Denominator), a.Denominator * b.Denominator)
        : Reduced(((Int128)a.Numerator * b.Denominator) + ((Int128)b.Numerator * a.Denominator), (Int128)a.Denominator * b.Denominator);

    /// <summary>The negative of a fraction.</summary>
    /// <exception cref="OverflowException">The result does not fit 64-bit numerator and denominator.</exception>
    public static Fraction operator -(Fraction a) => new(checked(-a.Numerator), a.Denominator);

    /// <summary>The exact difference.</summary>
    /// <exception cref="OverflowException">The result does not fit 64-bit numerator and denominator.</exception>
    public static Fraction operator -(Fraction a, Fraction b) => a + -b;

    /// <summary>The exact product.</summary>
    /// <exception cref="OverflowException">The result does not fit 64-bit numerator and denominator.</exception>
    public static Fraction operator *(Fraction a, Fraction b) => a.IsSmall && b.IsSmall
        ? new(a.Numerator * b.Numerator, a.Denominator * b.Denominator)
        : Reduced((Int128)a.Numerator * b.Numerator, (Int128)a.Denominator * b.Denominator);

    /// <summary>The exact quotient.</summary>
    /// <exception cref="OverflowException">The result does not fit 64-bit numerator and denominator.</exception>
    /// <exception cref="DivideByZeroException"><paramref name="b"/> is zero.</exception>
    public static Fraction operator /(Fraction a, Fraction b) => a.IsSmall && b.IsSmall
        ? new(a.Numerator * b.Denominator, a.Denominator * b.Numerator)
        : Reduced((Int128)a.Numerator * b.Denominator, (Int128)a.Denominator * b.Numerator);

    /// <summary>Whether one fraction is less than another.</summary>
    public static bool operator <(Fraction a, Fraction b) => a.CompareTo(b) < 0;

    /// <summary>Whether one fraction is greater than another.</summary>
    public static bool operator >(Fraction a, Fraction b) => a.CompareTo(b) > 0;

    /// <summary>Whether one fraction is at most another.</summary>
    public static bool operator <=(Fraction a, Fraction b) => a.CompareTo(b) <= 0;

    /// <summary>Whether one fraction is at least another.</summary>
    public static bool operator >=(Fraction a, Fraction b) => a.CompareTo(b) >= 0;

    /// <summary>Whether two fractions are equal.</summary>
    public static bool operator ==(Fraction a, Fraction b) => a.Equals(b);

    /// <summary>Whether two fractions differ.</summary>
    public static bool operator !=(Fraction a, Fraction b) => !a.Equals(b);

    /// <summary>The lesser of two fractions.</summary>
    public static Fraction Min(Fraction a, Fraction b) => a < b ? a : b;

    /// <summary>The greater of two fractions.</summary>
    public static Fraction Max(Fraction a, Fraction b) => a > b ? a : b;

    /// <inheritdoc/>
    public int CompareTo(Fraction other) => Denominator == other.Denominator
        ? Numerator.CompareTo(other.Numerator)
        : IsSmall && other.IsSmall
        ? (Numerator * other.Denominator).CompareTo(other.Numerator * Denominator)
        : ((Int128)Numerator * other.Denominator).CompareTo((Int128)other.Numerator * Denominator);

    /// <inheritdoc/>
    public bool Equals(Fraction other) => Numerator == other.Numerator && Denominator == other.Denominator;

    /// <inheritdoc/>
    public override bool Equals(object? obj) => obj is Fraction other && Equals(other);

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(Numerator, Denominator);

    /// <summary>An integer, a decimal where it is exact (<c>1.5</c>), else <c>a/b</c>; <see cref="Parse"/> reads all three.</summary>
    public override string ToString()
    {
        if (Denominator == 1) return Numerator.ToString(CultureInfo.InvariantCulture);
        long rest = Denominator, scale = 1;
        var digits = 0;
        while (rest % 10 == 0) rest = Step(10);
        while (rest % 5 == 0) rest = Step(5);
        while (rest % 2 == 0) rest = Step(2);
        if (rest != 1 || digits > 6) return string.Create(CultureInfo.InvariantCulture, $"{Numerator}/{Denominator}");
        var scaled = (Int128)Numerator * (scale / Denominator);
        var sign = scaled < 0 ? "-" : "";
        var text = Int128.Abs(scaled).ToString(CultureInfo.InvariantCulture).PadLeft(digits + 1, '0');
        return $"{sign}{text[..^digits]}.{text[^digits..]}";

        long Step(long factor)
        {
            digits++;
            scale *= 10;
            return rest / factor;
        }
    }

    /// <summary>Reads an integer, a plain decimal or <c>a/b</c>.</summary>
    /// <exception cref="FormatException">The text is none of these.</exception>
    public static Fraction Parse(string s, IFormatProvider? provider = null) =>
        TryParse(s, provider, out var value) ? value : throw new FormatException($"'{s}' is not a number of quarter notes.");

    /// <inheritdoc cref="Parse"/>
    public static bool TryParse(string? s, IFormatProvider? provider, out Fraction result)
    {
        result = default;
        if (string.IsNullOrWhiteSpace(s)) return false;
        var text = s.Trim();
        var slash = text.IndexOf('/', StringComparison.Ordinal);
        const NumberStyles whole = NumberStyles.AllowLeadingSign;
        if (slash >= 0)
        {
            if (!long.TryParse(text[..slash], whole, CultureInfo.InvariantCulture, out var top)
                || !long.TryParse(text[(slash + 1)..], whole, CultureInfo.InvariantCulture, out var bottom)
                || bottom is 0 or long.MinValue || top == long.MinValue) return false;
            result = new Fraction(top, bottom);
            return true;
        }

        if (!decimal.TryParse(text, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture,
            out var number))
            return false;
        long denominator = 1;
        while (number != decimal.Truncate(number))
        {
            if (denominator > 100_000_000) return false;
            number *= 10;
            denominator *= 10;
        }

        if (number is > long.MaxValue or < long.MinValue) return false;
        result = new Fraction((long)number, denominator);
        return true;
    }
}
