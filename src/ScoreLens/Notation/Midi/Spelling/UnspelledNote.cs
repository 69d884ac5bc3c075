namespace ScoreLens.Notation.Midi.Spelling;

/// <summary>A note that has a pitch and no name.</summary>
/// <param name="Onset">Quarter notes from the start of the score; only distances count, so that a double will do.</param>
/// <param name="End">Where it ends, in quarter notes.</param>
/// <param name="Part">Index of its part.</param>
/// <param name="Key">MIDI's number, 60 for middle C.</param>
/// <param name="Signature">The key signature in force in sharps, flats negative; null where the file states none.</param>
internal readonly record struct UnspelledNote(double Onset, double End, int Part, int Key, int? Signature)
{
    /// <summary>Its spelling nearest to C on the line of fifths, from -5 (D flat) to 6 (F sharp); the others lie 12 fifths apart.</summary>
    public int Fifths => (((Key * 7) + 5) % 12) - 5;
}
