using ScoreLens.Phrases;

namespace ScoreLens.Density;

/// <summary>A phrase and the measures between which it lies.</summary>
/// <param name="Phrase">The phrase.</param>
/// <param name="FirstMeasure">Printed number of the measure in which it begins; empty where it is not known.</param>
/// <param name="LastMeasure">Printed number of the measure in which it ends; empty where it is not known.</param>
public sealed record PhrasePlace(Phrase Phrase, string FirstMeasure, string LastMeasure);
