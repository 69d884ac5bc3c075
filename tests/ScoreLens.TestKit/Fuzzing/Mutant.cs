namespace ScoreLens.TestKit.Fuzzing;

/// <summary>What kind of file a mutant was made from.</summary>
public enum MutantKind
{
    /// <summary>A MusicXML score: of the conformance suite, the demo, or an analysed work.</summary>
    MusicXml,

    /// <summary>A MIDI file.</summary>
    Midi,

    /// <summary>An assignment file.</summary>
    Assignment,

    /// <summary>A table of chords or of phrases.</summary>
    Table,
}

/// <summary>A file that was changed at random, and can be made again from its seed.</summary>
/// <param name="Kind">What it was made from.</param>
/// <param name="Seed">The seed.</param>
/// <param name="Source">The name of the file that was changed.</param>
/// <param name="Bytes">The bytes.</param>
internal sealed record Mutant(MutantKind Kind, int Seed, string Source, byte[] Bytes)
{
    /// <summary>The name under which it is kept where it breaks something.</summary>
    public string FileName => $"{Kind.ToString().ToLowerInvariant()}-{Seed}{Ending}";

    private string Ending => Kind switch
    {
        MutantKind.MusicXml => ".musicxml",
        MutantKind.Midi => ".mid",
        MutantKind.Assignment => ".yaml",
        _ => ".csv",
    };
}
