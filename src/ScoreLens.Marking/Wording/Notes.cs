using System.Globalization;
using ScoreLens.Marking.PartWriting;
using ScoreLens.Theory;

namespace ScoreLens.Marking.Wording;

/// <summary>How notes, voices and intervals read.</summary>
internal static class Notes
{
    /// <summary>The name of a tone with printed signs: <c>F♯</c>.</summary>
    public static string Tone(Tone tone) => tone.ToDisplayString();

    /// <summary>The name of a note, without its octave.</summary>
    public static string Tone(LineNote note) => note.Pitch.Tone.ToDisplayString();

    /// <summary>With its octave, middle C being C4.</summary>
    public static string Pitch(Pitch pitch) => pitch.Tone.ToDisplayString() + pitch.Octave.ToString(CultureInfo.InvariantCulture);

    /// <summary>Voices for the start of a sentence: <c>Soprano and bass</c>.</summary>
    public static string Voices(Remark remark) => Amounts.Capital(Amounts.List(remark.Voices));

    /// <summary><c>up</c> or <c>down</c>.</summary>
    public static string Direction(Interval interval) => interval.Direction > 0 ? "up" : "down";

    /// <summary>An interval with its article: <c>an augmented second</c>.</summary>
    public static string WithArticle(Interval interval) =>
        interval.ToString() is ['a' or 'e' or 'i' or 'o' or 'u', ..] name && name != "unison"
        ? $"an {name}"
        : $"a {interval}";
}
