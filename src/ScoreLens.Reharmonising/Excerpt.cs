using ScoreLens.Notation;
using ScoreLens.Theory;

namespace ScoreLens.Reharmonising;

/// <summary>
/// Some measures of a score as a score of its own that begins at 0: what is read again for every offer of a place. It is cut once; an offer
/// changes the pitches of a few of its notes.
/// </summary>
internal sealed class Excerpt
{
    private readonly (Note Written, Note Here)[] _notes;
    private readonly Score _score;

    private Excerpt(Fraction from, (Note, Note)[] notes, Score score) => (From, _notes, _score) = (from, notes, score);

    /// <summary>Where it begins in the score.</summary>
    public Fraction From { get; }

    /// <summary>The measures that hold a span and so many on either side, or as many as have four quarter notes each.</summary>
    public static Excerpt Around(Score score, Fraction start, Fraction end, int measures)
    {
        var quarters = 4 * measures;
        var first = Math.Min(score.MeasureAt(start).Index - measures, score.MeasureAt(Fraction.Max(score.Start, start - quarters)).Index);
        var last = Math.Max(score.MeasureAt(end).Index + measures, score.MeasureAt(end + quarters).Index);
        (first, last) = (Math.Max(0, first), Math.Min(score.Measures.Count - 1, last));
        var (from, to) = (score.Measures[first].Start, score.Measures[last].End);
        var notes = score.Notes.Where(n => n.Onset >= from && n.Onset < to).Select(n => (n, n with { Onset = n.Onset - from })).ToArray();
        return new Excerpt(from, notes, score with
        {
            Measures = [.. score.Measures.Skip(first).Take(last + 1 - first).Select((m, i) => m with
            {
                Index = i, Start = m.Start - from, PickupOffset = m.PickupOffset,
            })],
            Notes = [],
            Tempos = [],
            Texts = [.. score.Texts.Where(t => t.Onset >= from && t.Onset < to).Select(t => t with { Onset = t.Onset - from })],
            ChordSymbols = [.. score.ChordSymbols.Where(s => s.Onset >= from && s.Onset < to)
                .Select(s => s with { Onset = s.Onset - from })],
            Rests = [.. score.Rests.Where(r => r.Onset >= from && r.Onset < to).Select(r => r with { Onset = r.Onset - from })],
        });
    }

    /// <summary>The excerpt with a rewriting of the score in it.</summary>
    public Score With(Rewriting rewriting)
    {
        var replaced = rewriting.Replaced(_notes.Select(n => n.Written));
        var (start, end) = (rewriting.Start - From, rewriting.End - From);
        return new Rewriting(start, end, [], "").ApplyTo(_score) with
        {
            Notes = [.. _notes.Select(n => replaced.TryGetValue(n.Written, out var now)
                ? n.Here with { Pitch = now.Pitch, Marks = now.Marks }
                : n.Here)],
        };
    }
}
