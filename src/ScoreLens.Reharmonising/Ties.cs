using ScoreLens.Notation;

namespace ScoreLens.Reharmonising;

/// <summary>The ties of a score, as <see cref="Sonorities.SonorityFinder.JoinTies"/> joins notes.</summary>
internal static class Ties
{
    /// <summary>Each note that is held into another, with that one.</summary>
    public static IReadOnlyList<(Note From, Note To)> Of(IEnumerable<Note> notes)
    {
        var tied = notes.Where(n => n.IsHarmonic && (n.IsTiedTo || n.IsTiedFrom)).ToArray();
        var beginning = tied.ToLookup(n => (n.Part, n.Pitch, n.Onset));
        var pairs = new List<(Note, Note)>();
        foreach (var note in tied.Where(n => n.IsTiedTo))
        {
            var next = beginning[(note.Part, note.Pitch, note.End)].ToArray();
            if (next.FirstOrDefault(n => n.Voice == note.Voice) is { } own) pairs.Add((note, own));
            else if (next.FirstOrDefault(n => n.IsTiedFrom) is { } other) pairs.Add((note, other));
        }

        return pairs;
    }
}
