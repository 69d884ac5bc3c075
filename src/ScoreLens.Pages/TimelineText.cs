namespace ScoreLens.Pages;

/// <summary>
/// Words along a line of time, of which each width of window shows those that have room. Style sheets cannot measure text; so every word
/// carries the classes of the widths at which it fits.
/// </summary>
internal sealed class TimelineText
{
    // Width of the line of time, in pixels, in the narrowest window of each class: above 78 rem, above 40 rem, and on a phone.
    private static readonly (string Class, double Width)[] Windows = [("on-wide", 1150), ("on-middle", 580), ("on-narrow", 340)];

    // The largest face of the timeline, and a gap to the next word.
    private const double Character = 7.5, Gap = 6;

    private readonly double[] _taken = new double[Windows.Length];

    private static double Room(string text) => (text.Length * Character) + Gap;

    /// <summary>The classes of the windows in which a text fits into a share of the line; empty where it never does.</summary>
    public static string Fitting(string text, double share) => Classes(i => Room(text) <= share * Windows[i].Width);

    /// <summary>For each window the first text that fits, as pairs of a text and its classes.</summary>
    public static IEnumerable<(string Text, string Classes)> FirstFitting(double share, params string[] texts)
    {
        for (var t = 0; t < texts.Length; t++)
        {
            var earlier = texts[..t];
            var text = texts[t];
            var classes = Classes(i => Room(text) <= share * Windows[i].Width && !earlier.Any(e => Room(e) <= share * Windows[i].Width));
            if (classes.Length > 0) yield return (text, classes);
        }
    }

    /// <summary>
    /// The classes of the windows in which a text that begins at a place, 0 to 1, overprints none of the texts that were asked about
    /// before.
    /// </summary>
    public string After(string text, double place) => Classes(i =>
    {
        var left = place * Windows[i].Width;
        if (left < _taken[i] || left + Room(text) > Windows[i].Width + (2 * Gap)) return false;
        _taken[i] = left + Room(text);
        return true;
    });

    private static string Classes(Func<int, bool> fits)
    {
        var at = Enumerable.Range(0, Windows.Length).Where(fits).Select(i => Windows[i].Class).ToArray();
        return at.Length == 0 ? "" : $"fit {string.Join(' ', at)}";
    }
}
