using System.Globalization;
using ScoreLens.Reading;
using ScoreLens.Theory;

namespace ScoreLens.TestKit.Corpus;

/// <summary>
/// A stretch of time, in quarter notes, that is read otherwise than an expert reads it, with what a musician needs to judge both.
/// </summary>
/// <param name="Kind">One of <see cref="Agreement.ErrorKinds"/>.</param>
/// <param name="Title">The work, as its score names it.</param>
/// <param name="Onset">Where the stretch begins.</param>
/// <param name="Duration">How long both readings stand beside each other.</param>
/// <param name="Text">Measure, beat, tones that sound from the lowest, the expert's reading and the program's.</param>
internal sealed record Disagreement(string Kind, string Title, Fraction Onset, Fraction Duration, string Text)
{
    /// <summary>Describes a stretch.</summary>
    public static Disagreement At(
        string kind, Fraction onset, Fraction time, CueAnalysis analysis, ChordReading ours, ChordReading theirs)
    {
        var measure = analysis.Score.MeasureAt(onset);
        var end = onset + time;
        var tones = analysis.Sonorities.SkipWhile(s => s.End <= onset).TakeWhile(s => s.Onset < end)
            .Select(s => string.Join(' ', s.Notes.Select(n => n.Pitch.ToString()).Distinct())).Distinct().Take(4);
        var text = string.Create(CultureInfo.InvariantCulture,
            $"m. {measure.Number}, {(onset - measure.Start).ToDouble():0.##} quarter notes in, for {time.ToDouble():0.##}: "
                + $"{string.Join(" | ", tones)}; expert {theirs.Key}: {theirs.Numeral}; here {ours.Key}: {ours.Numeral} "
                + $"({100 * ours.Confidence:0} %)");
        return new Disagreement(kind, analysis.Score.Title, onset, time, text);
    }
}
