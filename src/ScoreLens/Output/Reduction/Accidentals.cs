using System.Xml.Linq;
using ScoreLens.Theory;

namespace ScoreLens.Output.Reduction;

/// <summary>Which accidentals a staff has to print in a measure.</summary>
internal sealed class Accidentals(int signature)
{
    private readonly Dictionary<(char Letter, int Octave), int> _inForce = [];

    public XElement? Of(Pitch pitch, bool isHeld)
    {
        var place = (pitch.Tone.Letter, pitch.Octave);
        var inForce = _inForce.TryGetValue(place, out var written) ? written : FromSignature(pitch.Tone.Letter);
        if (inForce == pitch.Tone.Alteration || isHeld) return null;
        _inForce[place] = pitch.Tone.Alteration;
        return new XElement("accidental", pitch.Tone.Alteration switch
        {
            -3 => "triple-flat",
            -2 => "flat-flat",
            -1 => "flat",
            0 => "natural",
            1 => "sharp",
            2 => "double-sharp",
            _ => "triple-sharp",
        });
    }

    private int FromSignature(char letter)
    {
        var place = "FCGDAEB".IndexOf(letter, StringComparison.Ordinal);
        return signature > place ? 1 : signature < 0 && 6 - place < -signature ? -1 : 0;
    }
}
