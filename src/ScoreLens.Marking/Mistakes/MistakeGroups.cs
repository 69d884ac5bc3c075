using ScoreLens.Sonorities;

namespace ScoreLens.Marking.Mistakes;

/// <summary>
/// Puts remarks that have one cause together, so that a mistake is counted once: what one wrong note makes wrong, and a given note
/// that was changed with all that follows from it. The heaviest remark of a group stands for it; the others are its parts and cost
/// nothing.
/// </summary>
internal static class MistakeGroups
{
    /// <summary>The remarks, grouped, in their order.</summary>
    public static IReadOnlyList<Remark> Of(IReadOnlyList<Remark> remarks)
    {
        var placed = remarks.Select((remark, place) => new Placed(place, remark)).ToList();
        var open = placed.Where(p => p.Remark.Severity == Severity.Fault && p.Remark.Notes.Count > 0).ToList();
        var result = placed.Except(open).ToList();
        while (Largest(open) is { } group)
        {
            open.RemoveAll(group.Contains);
            var inOrder = group.OrderBy(p => p.Remark.Kind == RemarkKind.GivenNoteChanged ? 0 : 1).ThenByDescending(p => p.Remark.Points)
                .ThenBy(p => p.Place);
            var cause = inOrder.First();
            var parts = group.Where(p => p != cause).OrderBy(p => p.Place).Select(p => p.Remark with { Points = 0 });
            result.Add(cause with { Remark = cause.Remark with { Parts = [.. parts] } });
        }

        return [.. result.Concat(open).OrderBy(p => p.Place).Select(p => p.Remark)];
    }

    // What most remarks have in common: a note.
    private static List<Placed>? Largest(List<Placed> remarks)
    {
        var byNote =
            from remark in remarks
            from note in remark.Remark.Notes
            group remark by note into shared
            from candidate in Candidates(shared.Key, [.. shared])
            where candidate.Count > 1
            orderby candidate.Count descending, shared.Key.Onset
            select candidate;
        return byNote.FirstOrDefault();
    }

    private static IEnumerable<List<Placed>> Candidates(SoundingNote note, List<Placed> remarks)
    {
        if (remarks.Exists(p => p.Remark.Kind == RemarkKind.GivenNoteChanged && p.Remark.Notes.Contains(note))) return [remarks];
        return [OneEvent(remarks)];
    }

    // A wrong note is one mistake on its way in and on its way out. But parallels count each time, unless they are heard at once.
    private static List<Placed> OneEvent(IEnumerable<Placed> remarks)
    {
        var group = new List<Placed>();
        foreach (var placed in remarks)
            if (!IsPerfectMotion(placed.Remark.Kind)
                || group.TrueForAll(p => p.Remark.Kind != placed.Remark.Kind || p.Remark.Onset == placed.Remark.Onset)) group.Add(placed);
        return group;
    }

    private static bool IsPerfectMotion(RemarkKind kind) => kind is >= RemarkKind.ParallelFifths and <= RemarkKind.DiminishedToPerfectFifth
        or RemarkKind.CounterpointDirectMotion or RemarkKind.CounterpointStrongBeats;

    private sealed record Placed(int Place, Remark Remark);
}
