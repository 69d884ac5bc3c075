namespace ScoreLens.Grouping;

/// <summary>
/// What in the notes and marks of a score speaks for a group that begins at a place, or against it; each from 0 (not at all) to 1.
/// </summary>
internal enum GroupingCue
{
    /// <summary>Nothing sounds before it.</summary>
    Silence,

    /// <summary>A fermata on what sounds before it.</summary>
    Fermata,

    /// <summary>A breath mark before it.</summary>
    Breath,

    /// <summary>A double, final or repeat bar line before it.</summary>
    Barline,

    /// <summary>The leading line waits before it longer than around it.</summary>
    LeadGap,

    /// <summary>The leading line rests before it.</summary>
    LeadRest,

    /// <summary>The leading line leaps to it.</summary>
    LeadLeap,

    /// <summary>The other lines wait before it.</summary>
    OtherGap,

    /// <summary>The share of the other lines that begin with it or are silent.</summary>
    Together,

    /// <summary>A slur of the leading line ends before it and another begins with it.</summary>
    Slur,

    /// <summary>A slur of the leading line goes over it.</summary>
    UnderSlur,

    /// <summary>The leading line holds a note over it.</summary>
    Held,

    /// <summary>The words begin a sentence.</summary>
    Sentence,

    /// <summary>The words begin a line of verse.</summary>
    VerseLine,

    /// <summary>Nothing sets the syllable apart, or a syllable is sung on.</summary>
    InsideText,

    /// <summary>A passage that is heard elsewhere too begins with its first measure.</summary>
    Parallel,

    /// <summary>The number, height or pace of the lines changes.</summary>
    Texture,
}
