using System.Xml.Linq;
using ScoreLens.Theory;
using static ScoreLens.Notation.MusicXml.MusicXmlNumbers;

namespace ScoreLens.Output.Annotation;

/// <summary>What a note element says, as far as it tells which note of the score it is.</summary>
internal static class NoteElements
{
    /// <summary>
    /// The sounding pitch of a note with a pitch. By sound: how a transposed note is spelled at concert pitch is the reader's affair.
    /// </summary>
    public static int Midi(XElement note, int transposition)
    {
        var pitch = Child(note, "pitch")!;
        var step = "C D EF G A B".IndexOf(Child(pitch, "step")!.Value.Trim(), StringComparison.OrdinalIgnoreCase);
        var alter = Child(pitch, "alter") is { } a ? Number(a) : Fraction.Zero;
        return (12 * (int)(Number(Child(pitch, "octave")!).Floor() + 1)) + step + (int)Math.Truncate(alter.ToDouble()) + transposition;
    }

    /// <summary>The voice of a note, <c>1</c> where it names none.</summary>
    public static string Voice(XElement note) => Child(note, "voice")?.Value.Trim() is { Length: > 0 } voice ? voice : "1";
}
