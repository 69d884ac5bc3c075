using ScoreLens.Notation;
using ScoreLens.Theory;

namespace ScoreLens.Marking.Wording;

/// <summary>How places read.</summary>
internal static class Places
{
    /// <summary><c>measure 3, beat 2.5</c>; <c>whole piece</c> where no measure is meant.</summary>
    public static string Of(string measure, Fraction beat) => measure.Length == 0 ? "whole piece" : $"measure {measure}, beat {beat}";

    /// <summary>The place of a time in a score.</summary>
    public static string At(Score score, Fraction onset) =>
        score.Measures.Count == 0 ? Of("", 0) : Of(score.MeasureAt(onset).Number, score.MeasureAt(onset).BeatAt(onset));
}
