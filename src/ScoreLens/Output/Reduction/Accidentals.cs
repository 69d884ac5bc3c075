using System.Xml.Linq;
using ScoreLens.Output.Annotation;
using ScoreLens.Theory;

namespace ScoreLens.Output.Reduction;

/// <summary>Which accidentals a staff has to print in a measure.</summary>
internal sealed class Accidentals(int signature)
{
    private readonly Dictionary<(char Letter, int Octave), int> _inForce = [];

    public XElement? Of(Pitch pitch, bool isHeld)
    {
        var place = (pitch.Tone.Letter, pitch.Octave);
        var inForce = _inForce.TryGetValue(place, out var written) ? written : AccidentalSigns.OfSignature(signature, pitch.Tone.Letter);
        if (inForce == pitch.Tone.Alteration || isHeld) return null;
        _inForce[place] = pitch.Tone.Alteration;
        return new XElement("accidental", AccidentalSigns.Name(pitch.Tone.Alteration));
    }
}
