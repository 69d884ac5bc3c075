namespace ScoreLens.Phrases;

/// <summary>
/// What else than the notes and marks (<see cref="Grouping.GroupingCue"/>) speaks for a phrase that begins at a place, or against it:
/// harmony and metre; each from 0 (not at all) to 1.
/// </summary>
internal enum PhraseCue
{
    /// <summary>An authentic cadence, or a plagal one that confirms it, arrived in the measure before it.</summary>
    AfterAuthentic,

    /// <summary>An authentic cadence arrives at it.</summary>
    AtAuthentic,

    /// <summary>A half cadence arrived in the measure before it.</summary>
    AfterHalf,

    /// <summary>Its first downbeat has the tonic in root position.</summary>
    StartsOnTonic,

    /// <summary>The harmony goes on over it and its first downbeat.</summary>
    NoChange,

    /// <summary>A new local key begins.</summary>
    NewKey,

    /// <summary>The share of a measure that its pickup takes.</summary>
    Pickup,

    /// <summary>It lies off the beat.</summary>
    OffBeat,
}
