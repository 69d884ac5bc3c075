using System.Globalization;
using System.Text.RegularExpressions;
using ScoreLens.Density;
using ScoreLens.Devices;
using ScoreLens.Notation;
using ScoreLens.Output;
using ScoreLens.Phrases;
using ScoreLens.Theory;
using ScoreLens.Wording;

namespace ScoreLens.Pages;

/// <summary>How values read on a page.</summary>
internal static partial class PageText
{
    /// <summary>A share in per cent: <c>23 %</c>, with a narrow space that does not break.</summary>
    public static string Percent(Fraction share) => (100 * share.ToDouble()).ToString("0", CultureInfo.InvariantCulture) + "\u202f%";

    /// <summary>A share in per cent that shows on which side of a band it lies.</summary>
    public static string Percent(Fraction share, Band band) => ShareText.Percent(share, band).Replace(' ', '\u202f');

    /// <summary>A share in per cent with one decimal.</summary>
    public static string PercentFine(Fraction share) => (100 * share.ToDouble()).ToString("0.0", CultureInfo.InvariantCulture) + "\u202f%";

    /// <summary>A place along the cue, as SVG takes it: per cent of <paramref name="whole"/>.</summary>
    public static string Along(Fraction place, Fraction whole) => Along(whole.Sign == 0 ? 0 : (place / whole).ToDouble());

    /// <inheritdoc cref="Along(Fraction, Fraction)"/>
    public static string Along(double share) => (100 * share).ToString("0.###", CultureInfo.InvariantCulture) + "%";

    public static string Name(Key key) => $"{key.Tonic.ToDisplayString()} {(key.IsMinor ? "minor" : "major")}";

    /// <summary>As musicians write a key before numerals: a capital for major, a small letter for minor.</summary>
    public static string Letter(Key key) => key.IsMinor ? char.ToLowerInvariant(key.Tonic.Letter) + key.Tonic.ToDisplayString()[1..]
        : key.Tonic.ToDisplayString();

    /// <summary>A sentence with the signs that music prints where it names notes: <c>Eb</c> becomes <c>E♭</c>.</summary>
    public static string Signs(string sentence) => PlainNote().Replace(
        sentence, note => note.Groups["letter"].Value + new string(note.Groups["sign"].Value[0] == 'b' ? '♭' : '♯', note.Groups["sign"]
            .Length));

    public static string Name(Cadence cadence) => cadence switch
    {
        Cadence.PerfectAuthentic => "perfect authentic cadence",
        Cadence.ImperfectAuthentic => "imperfect authentic cadence",
        Cadence.Half => "half cadence",
        Cadence.Deceptive => "deceptive cadence",
        Cadence.Plagal => "plagal cadence",
        _ => "no cadence",
    };

    public static string Measures(string first, string last) => first == last ? $"m. {first}" : $"mm. {first}–{last}";

    /// <summary>A numeral whose raised and lowered figures stand above each other.</summary>
    public static Markup Figures(string display)
    {
        for (var i = 0; i + 1 < display.Length; i++)
        {
            if (!"⁰¹²³⁴⁵⁶⁷⁸⁹".Contains(display[i], StringComparison.Ordinal) || display[i + 1] is < '₀' or > '₉') continue;
            return Markup.Of($"{display[..i]}<span "
                + $"class=\"fig\"><span>{display[i..(i + 1)]}</span><span>{display[(i + 1)..(i + 2)]}</span></span>{display[(i + 2)..]}");
        }

        return Markup.Text(display);
    }

    /// <summary>The tint class of a local key: how many fifths its signature lies from the home key's, sharper or flatter.</summary>
    public static string Tint(Key key, Key home)
    {
        var away = Math.Clamp(key.Signature - home.Signature, -4, 4);
        return away == 0 ? "home" : away > 0 ? $"sharp{away}" : $"flat{-away}";
    }

    /// <summary>A device's sign and title.</summary>
    public static Markup Title(Device device)
    {
        var look = DevicePalette.Of(device);
        return Markup.Of($"<span class=\"device {device.Name()}\"><span class=\"sign\" aria-hidden=\"true\">{look.Sign}</span> "
            + $"{look.Title}</span>");
    }

    /// <summary>A device's sign and code, as the legend explains them, and its title for who does not see the legend.</summary>
    public static Markup ShortTitle(Device device)
    {
        var look = DevicePalette.Of(device);
        return Markup.Of($"<span class=\"device {device.Name()}\" title=\"{look.Title}\"><span class=\"sign\" "
            + $"aria-hidden=\"true\">{look.Sign}</span> {look.Code}<span class=\"unseen\"> {look.Title}</span></span>");
    }

    [GeneratedRegex(@"\b(?<letter>[A-G])(?<sign>bb?|##?)(?![a-z])")]
    private static partial Regex PlainNote();

    public static string MeasureNumber(Score score, Fraction onset) => score.Measures.Count == 0 ? "" : score.MeasureAt(onset).Number;
}
