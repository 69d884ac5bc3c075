using ScoreLens.Theory;

namespace ScoreLens.Marking.Alignment;

/// <summary>How a submission differs as a whole from the score that was set. A closed set of records.</summary>
internal abstract record Difference;

/// <summary>It stands in another key.</summary>
/// <param name="Semitones">How much higher it sounds; negative for lower.</param>
internal sealed record Transposed(int Semitones) : Difference;

/// <summary>It is written in other note values.</summary>
/// <param name="Factor">How much longer a note is than in the score that was set.</param>
internal sealed record OtherNoteValues(Fraction Factor) : Difference;

/// <summary>Measures of the score that was set are not in it.</summary>
/// <param name="Measures">Their printed numbers there.</param>
/// <param name="Share">Their share of the length of the score that was set, 0..1.</param>
internal sealed record MissingMeasures(IReadOnlyList<string> Measures, double Share) : Difference;

/// <summary>It has measures that the score that was set has not.</summary>
/// <param name="Measures">Their printed numbers.</param>
/// <param name="IsPickup">Whether it is a measure before the first.</param>
internal sealed record AddedMeasures(IReadOnlyList<string> Measures, bool IsPickup) : Difference;

/// <summary>A section is written out again.</summary>
/// <param name="Measures">The printed numbers of the repetition.</param>
internal sealed record RepeatedSection(IReadOnlyList<string> Measures) : Difference;
