namespace ScoreLens.Reading;

/// <summary>What harmony is read from where a score has chord symbols of its own.</summary>
public enum HarmonySource
{
    /// <summary>
    /// The score decides: without chord symbols the notes; with chord symbols over a melody, or little more, the symbols; with an
    /// accompaniment both.
    /// </summary>
    Automatic,

    /// <summary>The notes alone.</summary>
    Notes,

    /// <summary>The chord symbols, with the melody as evidence for keys.</summary>
    Symbols,

    /// <summary>The chord symbols, but the notes where an accompaniment plainly contradicts one.</summary>
    Both,
}
