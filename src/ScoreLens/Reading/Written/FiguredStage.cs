using ScoreLens.Theory;

namespace ScoreLens.Reading.Written;

/// <summary>What the figures say over a bass note, or over a part of it.</summary>
/// <param name="Onset">Where it begins, in quarter notes from the start of the score.</param>
/// <param name="End">Where it ends.</param>
/// <param name="Bass">The bass.</param>
/// <param name="Signature">The key signature that the figures count by, in sharps (flats negative).</param>
/// <param name="Text">The figures, a blank between them; empty for a bass note without any, which bears a triad.</param>
/// <param name="IsHeld">Whether the chord before, if any, goes on: under a line of extension, or over a short bass note off the beat without
/// figures.</param>
/// <param name="ResolvesIn">How many stages further the suspension that this one is resolves; zero where it is none.</param>
internal sealed record FiguredStage(Fraction Onset, Fraction End, Tone Bass, int Signature, string Text, bool IsHeld, int ResolvesIn = 0)
{
    /// <summary>The figures, completed; null where they are none.</summary>
    public Figures? Figures => Figures.Over(Text, Bass, Signature);
}
