using ScoreLens.Marking.PartWriting;
using ScoreLens.Theory;

namespace ScoreLens.Marking.Facts;

/// <summary>Two voices go from one pair of notes to the next.</summary>
internal sealed record MotionFacts(PairMotion Motion) : RemarkFacts;

/// <summary>Two voices sound together in the wrong order, or too far apart.</summary>
/// <param name="High">The note of the upper voice.</param>
/// <param name="Low">The note of the lower voice.</param>
/// <param name="Octaves">How many octaves they may be apart.</param>
internal sealed record PairFacts(LineNote High, LineNote Low, int Octaves = 0) : RemarkFacts;

/// <summary>A voice moves beyond the note that its neighbour has just left.</summary>
internal sealed record OverlapFacts(LineNote Moved, LineNote Left) : RemarkFacts;

/// <summary>A note leaves its voice's range.</summary>
internal sealed record RangeFacts(LineNote Note, VoiceRange Range) : RemarkFacts;

/// <summary>A tendency note stands in several voices.</summary>
/// <param name="Tone">The note.</param>
/// <param name="Instead">What to double instead.</param>
/// <param name="InsteadMember">Which member of the chord that is: 0 the root, 1 the third.</param>
internal sealed record DoubledFacts(Tone Tone, Tone Instead, int InsteadMember) : RemarkFacts;

/// <summary>A tendency note goes elsewhere than it should.</summary>
/// <param name="From">The note.</param>
/// <param name="To">Where it goes.</param>
/// <param name="Goal">Where it should go; null where by step is enough.</param>
/// <param name="Through">By way of what it may go there; null for nothing.</param>
internal sealed record TendencyFacts(LineNote From, LineNote To, Tone? Goal = null, Tone? Through = null) : RemarkFacts;

/// <summary>A melodic interval.</summary>
internal sealed record StepFacts(LineNote From, LineNote To) : RemarkFacts
{
    public Interval Interval => Interval.Between(From.Pitch, To.Pitch);

    /// <summary>Whether the interval is a dissonant leap, which turns back by step.</summary>
    public bool IsDissonant => UnresolvedLeaps.IsDissonant(Interval.Size);
}

/// <summary>A chord lacks a tone.</summary>
internal sealed record MissingToneFacts(Numeral Numeral, Tone Tone) : RemarkFacts;

/// <summary>Why a six-four stands out of place.</summary>
internal enum SixFourFault
{
    /// <summary>Neither cadential nor passing, pedal nor arpeggiated.</summary>
    NoneOfTheUsual,

    /// <summary>Before V, on a weaker beat than V.</summary>
    WeakBeat,

    /// <summary>It ends a phrase.</summary>
    EndsPhrase,
}

/// <summary>A six-four chord stands out of place.</summary>
internal sealed record SixFourFacts(Numeral Numeral, Tone Bass, SixFourFault Fault) : RemarkFacts;

/// <summary>What is doubled against the advice of the handbooks.</summary>
internal enum DoubledMember
{
    /// <summary>The flat sixth of an augmented sixth.</summary>
    FlatSixth,

    /// <summary>The raised fourth of an augmented sixth.</summary>
    RaisedFourth,

    /// <summary>The fifth three times.</summary>
    FifthThreeTimes,

    /// <summary>The third three times.</summary>
    ThirdThreeTimes,

    /// <summary>The root of a six-four.</summary>
    RootOfSixFour,

    /// <summary>The third of a six-four.</summary>
    ThirdOfSixFour,

    /// <summary>The third of a major triad in root position.</summary>
    ThirdOfMajorTriad,
}

/// <summary>A doubling that handbooks advise against.</summary>
internal sealed record DoublingFacts(DoubledMember Member, Tone Tone, Tone Instead) : RemarkFacts;
