using ScoreLens.Sonorities;

namespace ScoreLens.Marking.Mistakes;

/// <summary>
/// Puts remarks that have one cause together, so that a mistake is counted once: what one wrong note makes wrong, on the way into it and
/// on the way out, what follows for the other voices of that progression, and a given note that was changed with all that follows from it.
/// The heaviest remark of a group stands for it; the others are its parts and cost nothing.
/// </summary>
internal static class MistakeGroups
{
    // A wrong chord is heard when it is reached and when it is left.
    private const int MostMoments = 2;

    /// <summary>The remarks, grouped, in their order.</summary>
    public static IReadOnlyList<Remark> Of(IReadOnlyList<Remark> remarks)
    {
        var placed = remarks.Select((remark, place) => new Placed(place, remark)).ToList();
        var open = placed.Where(p => p.Remark.Severity == Severity.Fault && p.Remark.Notes.Count > 0).ToList();
        var alone = placed.Except(open).ToList();
        var groups = new List<List<Placed>>();
        while (Largest(open) is { } group)
        {
            open.RemoveAll(group.Contains);
            groups.Add(group);
        }

        groups.AddRange(open.Select(p => new List<Placed> { p }));
        Merge(groups);
        return [.. alone.Concat(groups.Select(One)).OrderBy(p => p.Place).Select(p => p.Remark)];
    }

    private static Placed One(List<Placed> group)
    {
        if (group.Count == 1) return group[0];
        var cause = group.OrderBy(p => p.Remark.Kind == RemarkKind.GivenNoteChanged ? 0 : 1).ThenByDescending(p => p.Remark.Points)
            .ThenBy(p => p.Place).First();
        var parts = group.Where(p => p != cause).OrderBy(p => p.Place).Select(p => p.Remark with { Points = 0 });
        return cause with { Remark = cause.Remark with { Parts = [.. parts] } };
    }

    // Groups that share a note and belong to one progression are one event, unless a parallel would be lost in it.
    private static void Merge(List<List<Placed>> groups)
    {
        for (var i = 0; i < groups.Count; i++)
        {
            while (groups.FindIndex(i + 1, g => AreOneEvent(groups[i], g)) is >= 0 and var j)
            {
                groups[i].AddRange(groups[j]);
                groups.RemoveAt(j);
            }
        }
    }

    private static bool AreOneEvent(List<Placed> a, List<Placed> b) => IsOneProgression(a, b) || IsOneStretch(a, b);

    // A voice that leaves its place is one mistake until it is back.
    private static bool IsOneStretch(List<Placed> a, List<Placed> b)
    {
        if (!a.TrueForAll(p => IsDisplaced(p.Remark.Kind)) && !b.TrueForAll(p => IsDisplaced(p.Remark.Kind))) return false;
        return a.Where(p => IsDisplaced(p.Remark.Kind)).SelectMany(p => p.Remark.Notes).Any(x =>
            b.Where(p => IsDisplaced(p.Remark.Kind)).SelectMany(p => p.Remark.Notes).Any(y => Follows(x, y) || Follows(y, x)));
    }

    private static bool Follows(SoundingNote first, SoundingNote second) => first.End == second.Onset
        && (first.Part, first.Staff, first.Voice) == (second.Part, second.Staff, second.Voice);

    private static bool IsDisplaced(RemarkKind kind) => kind is RemarkKind.VoiceCrossing or RemarkKind.VoiceOverlap or RemarkKind.Spacing
        or RemarkKind.Range;

    private static bool IsOneProgression(List<Placed> a, List<Placed> b) =>
        a.Exists(p => p.Remark.Notes.Any(n => b.Exists(q => q.Remark.Notes.Contains(n))))
        && a.Concat(b).Select(p => p.Remark.Onset).Distinct().Count() <= MostMoments
        && !a.Concat(b).Any(p => p.Remark.Kind == RemarkKind.GivenNoteChanged)
        && OneEvent(a.Concat(b)).Count == a.Count + b.Count;

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
