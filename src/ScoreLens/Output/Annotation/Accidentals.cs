namespace ScoreLens.Output.Annotation;

/// <summary>Which accidentals a staff has to print in a measure; its notes are asked for in order.</summary>
internal sealed class Accidentals
{
    private readonly Dictionary<(char Letter, int Octave), int> _inForce = [];

    /// <summary>
    /// The alteration to print before a note, or null where none is needed: the key signature or an earlier note of the measure gives it,
    /// or the note is tied to the one before. What a tied note keeps from the measure before holds for that note alone.
    /// </summary>
    /// <param name="letter">The note's letter.</param>
    /// <param name="octave">The octave of the letter.</param>
    /// <param name="alteration">Its alteration in semitones.</param>
    /// <param name="signature">Sharps of the key signature in force, flats negative.</param>
    /// <param name="isHeld">Whether it is tied to the note before.</param>
    public int? Needed(char letter, int octave, int alteration, int signature, bool isHeld)
    {
        var inForce = _inForce.TryGetValue((letter, octave), out var written) ? written : AccidentalSigns.OfSignature(signature, letter);
        if (inForce == alteration || isHeld) return null;
        _inForce[(letter, octave)] = alteration;
        return alteration;
    }
}
