using ScoreLens.Notation;
using ScoreLens.Sonorities;

namespace ScoreLens.Marking.PartWriting;

/// <summary>
/// Finds the voices of a score, the highest first: four parts, two voices on each of two staves, or chords on the staves of
/// a keyboard, whose highest notes are the soprano, the lowest the bass and the rest by their order.
/// </summary>
internal static class VoiceFinder
{
    // A written voice may have one note in so many doubled and still be one line.
    private const int MostDivided = 8;

    /// <summary>The voices of a score, its parts in the order of the voices that they are.</summary>
    public static IReadOnlyList<IReadOnlyList<LineNote>> Find(Score score, PartWritingStyle style, int count)
    {
        var notes = SonorityFinder.JoinTies(score.Notes);
        return Find(notes, PartOrder.Of(score, notes), style, count);
    }

    /// <summary>
    /// The voices of the harmonic notes; in chorale style as they are written where each written voice is one line but for a divided note
    /// or two.
    /// </summary>
    /// <param name="notes">Notes with joined ties, by onset.</param>
    /// <param name="partOrder">The place of each part from the top.</param>
    /// <param name="style">The style of the exercise.</param>
    /// <param name="count">How many voices the exercise has.</param>
    private static IReadOnlyList<LineNote>[] Find(
        IReadOnlyList<SoundingNote> notes, IReadOnlyList<int> partOrder, PartWritingStyle style, int count)
    {
        if (notes.Count == 0) return [];
        var written = notes.GroupBy(n => (n.Part, n.Staff, n.Voice)).Select(g => g.ToArray()).ToArray();
        var most = MostAtOnce(notes);
        count = Math.Min(count, Math.Max(most, written.Length));
        if (style != PartWritingStyle.Keyboard && written.Length == count)
        {
            var ordered = written.OrderBy(v => partOrder[v[0].Part]).ThenBy(v => v[0].Staff)
                .ThenByDescending(v => v.Average(n => n.Pitch.Midi)).ToArray();
            var lines = ordered.Select((v, place) => Undivided(v, isBass: place == count - 1)).ToArray();
            if (lines.Zip(ordered).All(l => l.Second.Length - l.First.Length <= l.Second.Length / MostDivided)) return Number(lines);
        }

        var staves = notes.GroupBy(n => (Part: partOrder[n.Part], n.Staff)).OrderBy(g => g.Key).Select(g => g.ToArray()).ToArray();
        var sizes = staves.Select(MostAtOnce).ToArray();
        return style != PartWritingStyle.Keyboard && sizes.Sum() == count
            ? Number(staves.Zip(sizes, Share).SelectMany(lines => lines))
            : Number(Share(notes, Math.Min(count, most)));
    }

    // Where a singer's line divides for a note or two, its outer note is the voice: an added low octave in the bass, say.
    private static SoundingNote[] Undivided(SoundingNote[] voice, bool isBass)
    {
        var line = new List<SoundingNote>();
        foreach (var chord in voice.GroupBy(n => n.Onset).OrderBy(g => g.Key))
        {
            var note = isBass ? chord.MinBy(n => n.Pitch)! : chord.MaxBy(n => n.Pitch)!;
            if (line.Count == 0 || line[^1].End <= note.Onset) line.Add(note);
        }

        return [.. line];
    }

    private static IReadOnlyList<LineNote>[] Number(IEnumerable<IEnumerable<SoundingNote>> voices) =>
        [.. voices.Select((line, voice) => (IReadOnlyList<LineNote>)[.. line.OrderBy(n => n.Onset)
            .Select((n, place) => new LineNote(voice, place, n))])];

    private static int MostAtOnce(IReadOnlyList<SoundingNote> notes)
    {
        var events = notes.SelectMany(n => new[] { (At: n.Onset, Change: 1), (At: n.End, Change: -1) }).OrderBy(e => e.At)
            .ThenBy(e => e.Change);
        int now = 0, most = 0;
        foreach (var (_, change) in events) most = Math.Max(most, now += change);
        return most;
    }

    /// <summary>
    /// Shares notes among voices by height. A note keeps its voice while it sounds; where fewer notes start than voices are
    /// free, those take them that move least, the outer ones first.
    /// </summary>
    private static List<SoundingNote>[] Share(IReadOnlyList<SoundingNote> notes, int count)
    {
        var lines = Enumerable.Range(0, count).Select(_ => new List<SoundingNote>()).ToArray();
        foreach (var struck in notes.GroupBy(n => n.Onset).OrderBy(g => g.Key))
        {
            var free = Enumerable.Range(0, count).Where(v => lines[v].Count == 0 || lines[v][^1].End <= struck.Key).ToArray();
            var started = struck.OrderByDescending(n => n.Pitch).ToList();
            while (started.Count > free.Length) started.RemoveAt(started.Count / 2);
            foreach (var (voice, note) in Match(started, free, lines)) lines[voice].Add(note);
        }

        return lines;
    }

    private static IEnumerable<(int Voice, SoundingNote Note)> Match(List<SoundingNote> started, int[] free, List<SoundingNote>[] lines)
    {
        // Least movement among the assignments that keep the order: a table over notes and free voices.
        var cost = new int[started.Count + 1, free.Length + 1];
        for (var i = 1; i <= started.Count; i++)
        {
            for (var j = 0; j <= free.Length; j++)
            {
                cost[i, j] = j < i ? int.MaxValue / 2 : Math.Min(
                    j > i ? cost[i, j - 1] : int.MaxValue / 2,
                    cost[i - 1, j - 1] + Distance(started[i - 1], free[j - 1], i == 1, i == started.Count));
            }
        }

        var place = free.Length;
        for (var i = started.Count; i > 0; i--)
        {
            while (place > i && cost[i, place] == cost[i, place - 1]) place--;
            yield return (free[--place], started[i - 1]);
        }

        int Distance(SoundingNote note, int voice, bool isTop, bool isLowest)
        {
            // A new note below everything that sounds is the bass, above everything the soprano.
            var held = lines.Where(l => l.Count > 0 && l[^1].Onset < note.Onset && l[^1].End > note.Onset).Select(l => l[^1].Pitch)
                .ToArray();
            if (isLowest && held.All(p => note.Pitch < p) && voice != lines.Length - 1) return 1000;
            if (isTop && held.All(p => note.Pitch > p) && voice != 0 && !(isLowest && voice == lines.Length - 1)) return 1000;
            return lines[voice].Count == 0 ? 0 : Math.Abs(lines[voice][^1].Pitch.Midi - note.Pitch.Midi);
        }
    }
}
