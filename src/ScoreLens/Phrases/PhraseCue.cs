namespace ScoreLens.Phrases;

/// <summary>What speaks for a phrase that begins at a place, or against it; each from 0 (not at all) to 1.</summary>
internal enum PhraseCue
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

    /// <summary>An authentic cadence, or a plagal one that confirms it, arrived in the measure before it.</summary>
    AfterAuthentic,

    /// <summary>An authentic cadence arrives at it.</summary>
    AtAuthentic,

    /// <summary>A half cadence arrived in the measure before it.</summary>
    AfterHalf,

    /// <summary>The words begin a sentence.</summary>
    Sentence,

    /// <summary>The words begin a line of verse.</summary>
    VerseLine,

    /// <summary>Nothing sets the syllable apart, or a syllable is sung on.</summary>
    InsideText,

    /// <summary>Its first downbeat has the tonic in root position.</summary>
    StartsOnTonic,

    /// <summary>The harmony goes on over it and its first downbeat.</summary>
    NoChange,

    /// <summary>A new local key begins.</summary>
    NewKey,

    /// <summary>A passage that is heard elsewhere too begins with its first measure.</summary>
    Parallel,

    /// <summary>The number, height or pace of the lines changes.</summary>
    Texture,

    /// <summary>The share of a measure that its pickup takes.</summary>
    Pickup,

    /// <summary>It lies off the beat.</summary>
    OffBeat,
}
