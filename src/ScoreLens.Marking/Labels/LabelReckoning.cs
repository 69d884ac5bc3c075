using ScoreLens.Marking.Facts;
using ScoreLens.Theory;

namespace ScoreLens.Marking.Labels;

/// <summary>
/// What labels lose, taken together: a wrong key is one mistake however many labels it carries forward to, and parts that are
/// right by chance under wrong degrees earn nothing.
/// </summary>
internal static class LabelReckoning
{
    // Who finds fewer degrees than this has the other parts right by chance: "I" under every chord names many a quality and bass.
    private const double EnoughDegrees = 0.5;

    /// <summary>The marks with what each loses in the end.</summary>
    /// <param name="marks">The marks in the order of the score, each with what it loses by itself.</param>
    /// <param name="options">What the parts are worth.</param>
    public static IReadOnlyList<LabelMark> Of(IReadOnlyList<LabelMark> marks, LabelMarking options) =>
        WithoutChance(WithCarriedKeys(marks, options), options);

    private static List<LabelMark> WithCarriedKeys(IReadOnlyList<LabelMark> marks, LabelMarking options)
    {
        var result = new List<LabelMark>(marks.Count);
        (Key Written, Key Expected)? mistake = null;
        foreach (var mark in marks)
        {
            var facts = FactsOf(mark);
            if (mark.Key is { } expected && mistake is { } before && before.Expected != expected) mistake = null;
            if (facts is not { Meaning: { } written, Expected: { } right } || facts.Right.HasFlag(LabelParts.Key))
            {
                result.Add(mark);
                continue;
            }

            var pair = (written.Key, right.Key);
            var isCarried = mistake == pair;
            mistake = pair;
            var lost = 1 - options.WorthOf(facts.Right | LabelParts.Key);
            result.Add(!isCarried ? mark : mark with { Lost = lost, IsCarried = mark.Remark!.Kind == RemarkKind.WrongKey });
        }

        return result;
    }

    private static List<LabelMark> WithoutChance(List<LabelMark> marks, LabelMarking options)
    {
        var labelled = marks.Where(m => m.Key is not null && m.Written.Length > 0 && m.Remark?.Kind != RemarkKind.LabelUnreadable).ToList();
        var right = labelled.Count(m => m.Remark?.Kind != RemarkKind.WrongDegree);
        if (!options.NothingWithoutDegree && right >= EnoughDegrees * labelled.Count) return marks;
        return [.. marks.Select(m => m.Remark?.Kind == RemarkKind.WrongDegree ? m with { Lost = 1 } : m)];
    }

    private static LabelFacts? FactsOf(LabelMark mark) =>
        mark.Remark is { Severity: Severity.Fault, Kind: RemarkKind.WrongKey or RemarkKind.WrongDegree } ? mark.Remark.Facts as LabelFacts
            : null;
}
