using ScoreLens.Marking.Alignment;

namespace ScoreLens.Marking.Wording;

/// <summary>Sentences about how a submission differs from the score that was set.</summary>
internal static class DifferenceWords
{
    private static readonly string[] Intervals =
    [
        "", "a semitone", "a whole tone", "a minor third", "a major third", "a fourth", "a tritone", "a fifth", "a minor sixth",
            "a major sixth",
        "a minor seventh", "a major seventh", "an octave",
    ];

    /// <summary>The difference, and what it costs where it costs something.</summary>
    public static string Of(Difference difference, double cost)
    {
        var text = difference switch
        {
            Transposed moved => $"The score stands {Intervals[Math.Abs(moved.Semitones)]} {(moved.Semitones > 0 ? "higher" : "lower")} "
                + $"than the one that was set",
            OtherNoteValues values => $"The note values are {Factor(values)} those of the score that was set",
            MissingMeasures missing => $"{Measures(missing.Measures)} of the score that was set "
                + $"{(missing.Measures.Count == 1 ? "is" : "are")} missing",
            AddedMeasures { IsPickup: true } added =>
                $"{Measures(added.Measures)} {(added.Measures.Count == 1 ? "stands" : "stand")} before the beginning",
            AddedMeasures added => $"{Measures(added.Measures)} {(added.Measures.Count == 1 ? "is" : "are")} not in the score that was set",
            RepeatedSection repeated => $"{Measures(repeated.Measures)} {(repeated.Measures.Count == 1 ? "repeats" : "repeat")} what was "
                + $"written before",
            _ => "",
        };
        return cost > 0 ? $"{text}: {Amounts.Points(cost)} less." : $"{text}.";
    }

    private static string Measures(IReadOnlyList<string> numbers) =>
        numbers.Count == 1 ? $"Measure {numbers[0]}" : $"Measures {Amounts.List(numbers)}";

    private static string Factor(OtherNoteValues values) => values.Factor > 1
        ? values.Factor == 2 ? "twice" : $"{values.Factor} times"
        : values.Factor == new Theory.Fraction(1, 2) ? "half of" : "a quarter of";
}
