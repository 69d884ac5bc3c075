using System.Globalization;
using ScoreLens.Theory;

namespace ScoreLens.Marking.PartWriting;

/// <summary>Notes and voices in words.</summary>
internal static class Say
{
    public static string Tone(LineNote note) => note.Pitch.Tone.ToDisplayString();

    /// <summary>With its octave, middle C being C4.</summary>
    public static string Pitch(Theory.Pitch pitch) => pitch.Tone.ToDisplayString() + pitch.Octave.ToString(CultureInfo.InvariantCulture);

    /// <summary>For the start of a sentence: <c>Soprano and bass</c>.</summary>
    public static string Voices(VoicedProgression progression, params IEnumerable<LineNote> notes)
    {
        var names = notes.Select(n => n.Voice).Distinct().Order().Select(progression.Name).ToArray();
        var list = names.Length == 1 ? names[0] : $"{string.Join(", ", names[..^1])} and {names[^1]}";
        return char.ToUpperInvariant(list[0]) + list[1..];
    }

    public static string Direction(Interval interval) => interval.Direction > 0 ? "up" : "down";
}
