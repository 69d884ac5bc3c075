using System.Globalization;
using System.Xml.Linq;
using ScoreLens.Theory;

namespace ScoreLens.Notation.MusicXml;

/// <summary>Time signatures as MusicXML writes them.</summary>
internal static class Metres
{
    private const int MaxBeats = 1000, MaxBeatType = 1024;

    /// <summary>
    /// The time signature of a <c>time</c> element: several beats and beat types add up (3/8+2/8+3/4), an
    /// <c>interchangeable</c> one is only its alternative. Null where it says nothing that can be counted.
    /// </summary>
    public static TimeSignature? Read(XElement time)
    {
        var groups = new List<(int Count, int Type)>();
        string? beats = null;
        foreach (var element in time.Elements())
        {
            switch (element.Name.LocalName)
            {
                case "senza-misura": return new TimeSignature(4, 4, IsFree: true);
                case "beats": beats = element.Value; break;
                case "beat-type" when beats is not null:
                    if (!TryNumber(element.Value, MaxBeatType, out var type)) return null;
                    foreach (var term in beats.Split('+'))
                    {
                        if (!TryNumber(term, MaxBeats, out var count) || groups.Count == 64) return null;
                        groups.Add((count, type));
                    }

                    beats = null;
                    break;
            }
        }

        return groups.Count == 0 ? null : Sum(groups);
    }

    private static TimeSignature? Sum(List<(int Count, int Type)> groups)
    {
        var unit = groups.Aggregate(1L, (least, g) => Multiple(least, g.Type));
        var total = groups.Sum(g => g.Count * (unit / g.Type));
        if (unit > MaxBeatType || total > MaxBeats) return null;
        var grouping = groups.Count == 1 ? null
            : string.Join('+', groups.Select(g => (g.Count * (unit / g.Type)).ToString(CultureInfo.InvariantCulture)));
        return new TimeSignature((int)total, (int)unit, Grouping: grouping);
    }

    private static long Multiple(long a, long b) => a > MaxBeatType ? a : Fraction.LeastCommonMultiple(a, b);

    private static bool TryNumber(string text, int highest, out int value) =>
        int.TryParse(text.Trim(), NumberStyles.None, CultureInfo.InvariantCulture, out value) && value >= 1 && value <= highest;

    /// <summary>Nominal length of a measure, or null without a metre.</summary>
    public static Fraction? Nominal(TimeSignature time) => time.IsFree ? null : time.Length;
}
