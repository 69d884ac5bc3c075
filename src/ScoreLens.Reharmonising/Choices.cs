using ScoreLens.Devices;
using ScoreLens.Notation;

namespace ScoreLens.Reharmonising;

/// <summary>An alternative that is chosen for a chord.</summary>
/// <param name="Index">The chord's place in <see cref="CueAnalysis.Chords"/>.</param>
/// <param name="Alternative">The alternative.</param>
public sealed record Choice(int Index, Alternative Alternative)
{
    /// <summary>The choice with what is read in its place.</summary>
    internal Choice With(TaggedChord? found) => this with { Alternative = Alternative with { ReadBack = ReadBack.Of(found, Alternative) } };
}

/// <summary>Several choices written into a score together.</summary>
/// <param name="Choices">The choices by onset, with the notes that they have beside each other and what is read there.</param>
/// <param name="Written">The score with all of them; the score as it was where one of them stands in the way.</param>
/// <param name="Obstacle">Why they cannot be written together, a sentence; empty where they can.</param>
public sealed record WrittenChoices(IReadOnlyList<Choice> Choices, Score Written, string Obstacle)
{
    /// <summary>Whether they can be written together.</summary>
    public bool IsPossible => Obstacle.Length == 0;

    /// <summary>The same with what an analysis of the written score calls each choice.</summary>
    internal WrittenChoices ReadIn(CueAnalysis analysis) =>
        this with { Choices = [.. Choices.Select(c => c.With(Rereading.In(analysis, c.Alternative)))] };

    /// <summary>What changes, a rewriting a choice.</summary>
    public IReadOnlyList<Rewriting> Rewritings => [.. Choices.Select(c => c.Alternative.Rewriting)];
}
