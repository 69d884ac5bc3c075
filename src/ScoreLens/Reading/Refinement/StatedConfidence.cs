using ScoreLens.Sonorities;

namespace ScoreLens.Reading.Refinement;

/// <summary>
/// Turns the model's own probabilities into stated ones. The model is too sure of itself, and the surer the more verticals a
/// chord spans and the slower the chords of the score change: experts differ more over broken and figured music than over
/// chorales. A logistic curve over these three mends that; its coefficients were fitted to the validation works by
/// <c>ScoreLens.Training calibrate</c>.
/// </summary>
internal static class StatedConfidence
{
    /// <summary>The chords with stated probabilities in place of the model's own. Their order by confidence inside a chord stays.</summary>
    public static List<ChordReading> Of(
        IReadOnlyList<ChordReading> chords, IReadOnlyList<Sonority> sonorities, ReadingSettings? settings = null)
    {
        settings ??= ReadingSettings.Default;
        return [.. chords.Zip(Evidence(chords, sonorities, settings), (chord, evidence) => chord.Numeral is null ? chord
            : Stated(chord, evidence, settings))];
    }

    /// <summary>
    /// What the curve looks at, chord by chord: one, the log odds of the model's probability, the log of the number of sounding
    /// verticals, and the mean log of the chords' durations in quarter notes over the whole score, by duration.
    /// </summary>
    public static IEnumerable<double[]> Evidence(
        IReadOnlyList<ChordReading> chords, IReadOnlyList<Sonority> sonorities, ReadingSettings settings)
    {
        double sum = 0, total = 0;
        foreach (var chord in chords.Where(c => c.Numeral is not null))
        {
            var duration = chord.Duration.ToDouble();
            sum += duration * Math.Log(duration);
            total += duration;
        }

        var pace = total > 0 ? sum / total : 0;
        var at = 0;
        foreach (var chord in chords)
        {
            var count = 0;
            for (; at < sonorities.Count && sonorities[at].Onset < chord.End; at++)
                if (sonorities[at].Notes.Count > 0) count++;
            yield return [1, Math.Log(Odds(chord.Confidence, settings.Surest)), Math.Log(Math.Max(1, count)), pace];
        }
    }

    private static ChordReading Stated(ChordReading chord, double[] evidence, ReadingSettings settings)
    {
        double[] weights =
        [
            settings.ConfidenceConstant, settings.ConfidenceOfModel, settings.ConfidenceByVerticals, settings.ConfidenceByPace,
        ];
        var stated = 1 / (1 + Math.Exp(-evidence.Zip(weights, (e, w) => e * w).Sum()));
        // What is taken from the chosen reading goes to the others in their own proportions.
        var scale = (1 - stated) / Math.Max(1 - settings.Surest, 1 - chord.Confidence);
        return chord with
        {
            Confidence = stated,
            RunnersUp = [.. chord.RunnersUp.Select(r => r with { Probability = Math.Min(stated, r.Probability * scale) })],
        };
    }

    private static double Odds(double probability, double surest)
    {
        var p = Math.Clamp(probability, 1 - surest, surest);
        return p / (1 - p);
    }
}
