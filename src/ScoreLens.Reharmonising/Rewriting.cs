using ScoreLens.Notation;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Reharmonising;

/// <summary>A written note that takes another pitch; its rhythm stays.</summary>
/// <param name="Note">The note as it is written.</param>
/// <param name="Pitch">Its new concert pitch, spelled in the key of the new chord.</param>
public sealed record PitchChange(Note Note, Pitch Pitch);

/// <summary>
/// How another chord is written into a span of a score: the melody stays untouched, every other note that begins and ends in the span goes
/// to a near tone of the new chord, the lowest to its bass. No note outside the span changes.
/// </summary>
/// <param name="Start">Where the span begins, in quarter notes.</param>
/// <param name="End">Where it ends.</param>
/// <param name="Changes">The notes that change; empty where something stands in the way.</param>
/// <param name="Obstacle">What stands in the way, a sentence; empty where nothing does.</param>
public sealed record Rewriting(Fraction Start, Fraction End, IReadOnlyList<PitchChange> Changes, string Obstacle)
{
    /// <summary>Whether the chord can be written into the score.</summary>
    public bool IsPossible => Obstacle.Length == 0;

    /// <summary>What stands in the way as a fact; null where nothing does.</summary>
    internal Voicing.Obstacle? Hindrance { get; init; }

    /// <summary>The score with the notes changed; chord symbols and figures of the span, which name the old chord, are taken out.</summary>
    /// <exception cref="InvalidOperationException">Something stands in the way.</exception>
    public Score ApplyTo(Score score)
    {
        ArgumentNullException.ThrowIfNull(score);
        if (!IsPossible) throw new InvalidOperationException(Obstacle);
        var replaced = Replaced(score.Notes);
        return score with
        {
            Notes = [.. score.Notes.Select(n => replaced.GetValueOrDefault(n, n))],
            ChordSymbols = [.. score.ChordSymbols.Where(s => !Holds(s.Onset))],
            Texts = [.. score.Texts.Where(t => !IsNameOfChord(t.Kind) || !Holds(t.Onset))],
        };
    }

    /// <summary>
    /// What becomes of the notes that change: another pitch, and no tie to what has not that pitch any more. So a note that is held over
    /// the border of the span is struck anew there.
    /// </summary>
    internal Dictionary<Note, Note> Replaced(IEnumerable<Note> notes)
    {
        var replaced = new Dictionary<Note, Note>();
        foreach (var change in Changes) replaced[change.Note] = change.Note with { Pitch = change.Pitch };
        foreach (var (from, to) in Ties.Between(notes).Pairs.Where(t => replaced.ContainsKey(t.From) || replaced.ContainsKey(t.To)))
        {
            var (first, second) = (replaced.GetValueOrDefault(from, from), replaced.GetValueOrDefault(to, to));
            if (first.Pitch == second.Pitch) continue;
            replaced[from] = first with { Marks = first.Marks & ~NoteMarks.TieStart };
            replaced[to] = second with { Marks = second.Marks & ~NoteMarks.TieStop };
        }

        return replaced;
    }

    /// <summary>Whether a time lies in the span.</summary>
    internal bool Holds(Fraction onset) => onset >= Start && onset < End;

    private static bool IsNameOfChord(ScoreTextKind kind) => kind is ScoreTextKind.Numeral or ScoreTextKind.FiguredBass;
}
