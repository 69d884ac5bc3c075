namespace ScoreLens.Output.Annotation;

/// <summary>Accidentals as MusicXML names them, and those that a key signature writes.</summary>
internal static class AccidentalSigns
{
    /// <summary>The accidental value (MusicXML 4.0) of an alteration, -3..3 semitones.</summary>
    public static string Name(int alteration) => alteration switch
    {
        -3 => "triple-flat",
        -2 => "flat-flat",
        -1 => "flat",
        0 => "natural",
        1 => "sharp",
        2 => "double-sharp",
        _ => "triple-sharp",
    };

    /// <summary>The alteration, -1..1, that a signature of at most seven sharps (flats negative) gives a letter.</summary>
    public static int OfSignature(int fifths, char letter)
    {
        var place = "FCGDAEB".IndexOf(letter, StringComparison.Ordinal);
        return fifths > place ? 1 : fifths < 0 && 6 - place < -fifths ? -1 : 0;
    }
}
