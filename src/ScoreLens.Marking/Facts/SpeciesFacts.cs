using ScoreLens.Marking.PartWriting;

namespace ScoreLens.Marking.Facts;

/// <summary>What is wrong in an exercise of species counterpoint.</summary>
internal abstract record SpeciesFacts : RemarkFacts;

/// <summary>A note of the counterpoint stands wrong against one of the cantus firmus.</summary>
/// <param name="Line">The counterpoint's note.</param>
/// <param name="Cantus">The cantus firmus's note.</param>
/// <param name="Species">The species, 1 to 4.</param>
internal sealed record SpeciesPairFacts(LineNote Line, LineNote Cantus, int Species) : SpeciesFacts;

/// <summary>Two notes of the counterpoint follow each other wrongly.</summary>
internal sealed record SpeciesStepFacts(LineNote From, LineNote To) : SpeciesFacts;

/// <summary>The counterpoint has another number of notes against one of the cantus firmus.</summary>
/// <param name="Cantus">The cantus firmus's note.</param>
/// <param name="Found">How many begin there.</param>
/// <param name="Usual">How many the species has.</param>
internal sealed record SpeciesCountFacts(LineNote Cantus, int Found, int Usual) : SpeciesFacts;
