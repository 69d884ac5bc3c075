using ScoreLens.Theory;

namespace ScoreLens.Pages;

/// <summary>
/// The part that plays the highest note for most of a measure. Of the lines of an orchestra it is the one that an ear follows first.
/// Whether it is the melody, nobody can say from this alone, and the page does not call it so.
/// </summary>
internal static class HighestLine
{
    /// <summary>Identifier of the part for each measure of the score; null for a measure in which nothing sounds.</summary>
    public static IReadOnlyList<string?> Of(CueAnalysis analysis)
    {
        var score = analysis.Score;
        var found = new string?[score.Measures.Count];
        var first = 0;
        foreach (var measure in score.Measures)
        {
            while (first < analysis.Sonorities.Count && analysis.Sonorities[first].End <= measure.Start) first++;
            var time = new Dictionary<int, Fraction>();
            for (var i = first; i < analysis.Sonorities.Count && analysis.Sonorities[i].Onset < measure.End; i++)
            {
                var sonority = analysis.Sonorities[i];
                if (sonority.Notes.Count == 0) continue;
                var lasts = Fraction.Min(sonority.End, measure.End) - (sonority.Onset > measure.Start ? sonority.Onset : measure.Start);
                var part = sonority.Notes[^1].Part;
                time[part] = time.GetValueOrDefault(part) + lasts;
            }

            // Of parts that share the time, the upper one in the score.
            if (time.Count > 0) found[measure.Index] = score.Parts[time.OrderByDescending(t => t.Value).ThenBy(t => t.Key).First().Key].Id;
        }

        return found;
    }
}
