namespace ScoreLens.Notation.Midi.Spelling;

/// <summary>How something that speaks for a note's name stands to the note. The tables hold a row for each, in this order.</summary>
internal enum SpellingRelation
{
    /// <summary>The key signature's major tonic.</summary>
    Signature,

    /// <summary>The centre of the key that <see cref="KeyCentres"/> hears there.</summary>
    Centre,

    /// <summary>A tone that sounds as the note begins.</summary>
    Sounding,

    /// <summary>The lowest note that sounds then.</summary>
    Bass,

    /// <summary>Tones that begin within a quarter note, by how near.</summary>
    Near,

    /// <summary>Within four quarter notes.</summary>
    Around,

    /// <summary>Within sixteen quarter notes.</summary>
    Far,

    /// <summary>The note before it in its line, from two semitones below up to it …</summary>
    UpWhole,

    /// <summary>… from a semitone below …</summary>
    UpHalf,

    /// <summary>… the same key again …</summary>
    Again,

    /// <summary>… from a semitone above …</summary>
    DownHalf,

    /// <summary>… from two semitones above.</summary>
    DownWhole,

    /// <summary>The note after it in its line, two semitones below it …</summary>
    ToDownWhole,

    /// <summary>… a semitone below …</summary>
    ToDownHalf,

    /// <summary>… the same key again …</summary>
    ToAgain,

    /// <summary>… a semitone above …</summary>
    ToUpHalf,

    /// <summary>… two semitones above.</summary>
    ToUpWhole,
}
