using System.Globalization;
using ScoreLens.Theory;

namespace ScoreLens.Notation;

/// <summary>
/// The rehearsal marks of a score, and places counted from them: <c>B</c> is the mark's own measure, <c>B+3</c> the third after it.
/// </summary>
public sealed class RehearsalMarks
{
    private readonly Score _score;
    private readonly (string Text, int Measure)[] _marks;

    private RehearsalMarks(Score score, (string Text, int Measure)[] marks) => (_score, _marks) = (score, marks);

    /// <summary>The marks of a score; of several at one measure the first.</summary>
    public static RehearsalMarks Of(Score score)
    {
        ArgumentNullException.ThrowIfNull(score);
        return new RehearsalMarks(score, score.Measures.Count == 0 ? [] :
        [
            .. score.Texts.Where(t => t.Kind == ScoreTextKind.Rehearsal && !t.IsOwn)
                .Select(t => (t.Text, score.MeasureAt(t.Onset).Index)).DistinctBy(m => m.Index).OrderBy(m => m.Index),
        ]);
    }

    /// <summary>The texts of the marks in order.</summary>
    public IReadOnlyList<string> Texts => [.. _marks.Select(m => m.Text)];

    /// <summary>A time as a place after the last mark of its movement before it; empty before the first.</summary>
    public string At(Fraction onset)
    {
        if (_marks.Length == 0) return "";
        var measure = _score.MeasureAt(onset);
        var (text, at) = _marks.LastOrDefault(m => m.Measure <= measure.Index, (Text: "", Measure: -1));
        if (at < 0 || _score.Measures[at].Movement != measure.Movement) return "";
        var after = Count(at, measure.Index);
        return after == 0 ? text : string.Create(CultureInfo.InvariantCulture, $"{text}+{after}");
    }

    /// <summary>The measures that a place such as <c>B</c> or <c>B+3</c> means: several where movements have marks of one name.</summary>
    public IReadOnlyList<Measure> Find(string place)
    {
        ArgumentNullException.ThrowIfNull(place);
        var plus = place.LastIndexOf('+');
        var found = Measures(place, 0);
        return found.Count > 0 || plus < 1
            || !int.TryParse(place[(plus + 1)..], NumberStyles.None, CultureInfo.InvariantCulture, out var after)
            ? found
            : Measures(place[..plus].Trim(), after);
    }

    private List<Measure> Measures(string text, int after) =>
    [
        .. _marks.Where(m => m.Text.Equals(text, StringComparison.OrdinalIgnoreCase))
            .Select(m => _score.Measures.Skip(m.Measure).FirstOrDefault(x => Count(m.Measure, x.Index) == after)).OfType<Measure>(),
    ];

    // The halves of a measure that a bar line splits count as one.
    private int Count(int from, int to)
    {
        var count = 0;
        for (var i = from + 1; i <= to; i++)
            if (_score.Measures[i].Number != _score.Measures[i - 1].Number && !(_score.Measures[i].IsImplicit && i > 0)) count++;
        return count;
    }
}
