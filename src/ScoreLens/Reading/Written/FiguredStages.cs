using ScoreLens.Notation;
using ScoreLens.Theory;

namespace ScoreLens.Reading.Written;

/// <summary>
/// Reads the figures over a bass line one after the other: when each holds, what a line of extension keeps, and which of them are
/// suspensions. Figures that share a note share its time: equally, but over a dotted note the first has two thirds (C. P. E. Bach, Versuch
/// II, 1762, on figures over one note; from memory).
/// </summary>
internal static class FiguredStages
{
    /// <summary>A line of extension in place of a figure: what stood there before is held.</summary>
    public const string Extension = "_";

    /// <summary>The stages, in order; at least one for every bass note.</summary>
    /// <param name="score">The score that the figures stand in.</param>
    /// <param name="texts">Its figures, by onset.</param>
    /// <param name="bass">The notes of the bass in order, ties joined.</param>
    public static IReadOnlyList<FiguredStage> Of(Score score, IReadOnlyList<ScoreText> texts,
        IReadOnlyList<(Fraction Onset, Fraction End, Tone Tone)> bass)
    {
        var stages = new List<FiguredStage>();
        var heldTo = Fraction.Zero;
        foreach (var low in bass)
        {
            var own = texts.Where(t => t.Onset >= low.Onset && t.Onset < low.End).ToList();
            var signature = score.MeasureAt(low.Onset).Signature;
            if (own.Count == 0 || own[0].Onset > low.Onset)
            {
                var isHeld = low.Onset < heldTo || IsPassing(score.MeasureAt(low.Onset), low.Onset, low.End);
                stages.Add(new(low.Onset, own.Count > 0 ? own[0].Onset : low.End, low.Tone, signature, "", isHeld));
            }

            foreach (var (onset, end, text) in InTime(own, low.End))
            {
                var before = stages.Count > 0 && stages[^1].Bass == low.Tone && stages[^1].Onset >= low.Onset ? stages[^1].Text : "";
                stages.Add(IsLine(text) ? new(onset, end, low.Tone, signature, before, IsHeld: true)
                    : new(onset, end, low.Tone, signature, Continued(text, before), IsHeld: false));
            }

            foreach (var text in own) heldTo = Fraction.Max(heldTo, text.Onset + text.Extends);
        }

        return Suspensions.Of(stages, score);
    }

    // A short bass note, or one off the beat.
    private static bool IsPassing(Measure measure, Fraction onset, Fraction end)
    {
        var pulse = measure.Time.PulseLength;
        return end - onset < pulse || ((onset - measure.Start + measure.PickupOffset) / pulse).Denominator != 1;
    }

    // Several figures at one place follow each other until the next place.
    private static IEnumerable<(Fraction Onset, Fraction End, string Text)> InTime(List<ScoreText> texts, Fraction end)
    {
        var places = texts.GroupBy(t => t.Onset)
            .Select(g => (Onset: g.Key, Texts: g.SelectMany(t => t.Text.Split('-', StringSplitOptions.TrimEntries)).ToArray())).ToArray();
        for (var p = 0; p < places.Length; p++)
        {
            var (onset, figures) = places[p];
            var length = (p + 1 < places.Length ? places[p + 1].Onset : end) - onset;
            var isDotted = figures.Length == 2 && length.Numerator % 3 == 0;
            for (var i = 0; i < figures.Length; i++)
            {
                yield return (onset + (length * Share(i)), onset + (length * Share(i + 1)), figures[i]);
            }

            Fraction Share(int count) => isDotted && count == 1 ? new Fraction(2, 3) : new Fraction(count, figures.Length);
        }
    }

    private static bool IsLine(string text) => text.Length > 0 && text.Split(' ').All(f => f == Extension);

    // A line among figures keeps the figure that stood in its row.
    private static string Continued(string text, string before)
    {
        var rows = before.Split(' ');
        return string.Join(' ', text.Split(' ').Select((f, i) => f != Extension ? f : i < rows.Length ? rows[i] : "").Where(f => f.Length > 0));
    }
}
