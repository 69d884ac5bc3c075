using ScoreLens.Notation;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Reharmonising.Voicing;

/// <summary>
/// What sounds in a span, taken apart: notes that stay (the melody, what goes along with it, what is held into the span or out of it),
/// notes that decorate, and the rest as slots, from the lowest up.
/// </summary>
internal sealed class Texture
{
    private const int LongestDecoration = 1;

    private readonly Dictionary<SoundingNote, Pitch> _before = [];
    private readonly Dictionary<SoundingNote, Pitch> _after = [];
    private readonly Dictionary<SoundingNote, (Pitch? Before, Pitch? After)> _around = [];

    /// <summary>Takes apart what sounds in a span.</summary>
    /// <param name="notes">The notes of the score about the span, as they are written.</param>
    /// <param name="melody">The melody.</param>
    /// <param name="ranges">What the parts may have.</param>
    /// <param name="old">The tones of the chord that stands there.</param>
    /// <param name="start">Where the span begins.</param>
    /// <param name="end">Where it ends.</param>
    public Texture(IReadOnlyList<Note> notes, MelodyLine? melody, PartRanges ranges, IReadOnlyList<Tone> old, Fraction start, Fraction end)
    {
        (Start, End) = (start, end);
        Written = [.. notes.Where(n => n.Onset >= start && n.Onset < end)];
        var joined = Cut(SonorityFinder.JoinTies(notes), notes, melody);
        var lines = joined.GroupBy(n => (n.Part, n.Staff, n.Voice)).Select(l => new Line([.. l])).ToArray();
        foreach (var line in lines)
        {
            line.PairAcross(start, end, _before, _after);
            line.Neighbours(_around);
        }

        var sounding = joined.Where(n => n.Onset < end && n.End > start).ToArray();
        Sounding = sounding;
        Melody = [.. sounding.Where(n => melody?.Has(n) == true)];
        Along = melody is null ? [] : GoingAlong(sounding, melody).ToHashSet();
        Held = [.. sounding.Where(n => (n.Onset < start || n.End > end) && !Melody.Contains(n) && !Along.Contains(n))];
        Fixed = [.. Melody, .. Along, .. Held];
        FixedMotions = [.. FixedWays()];
        var free = sounding.Except(Fixed).ToArray();
        Decorations = [.. lines.SelectMany(l => l.Decorating(free, old, LongestDecoration))];
        var inChord = free.Except(Decorations).ToArray();
        Slots = Linked([.. inChord.GroupBy(n => n.Pitch).OrderBy(g => g.Key).Select(g => SlotOf(g.Key, [.. g], ranges))]);
        Lines = lines;
    }

    public Fraction Start { get; }

    public Fraction End { get; }

    /// <summary>The notes that begin in the span, as they are written, grace notes among them.</summary>
    public IReadOnlyList<Note> Written { get; }

    /// <summary>Everything that sounds in the span.</summary>
    public IReadOnlyList<SoundingNote> Sounding { get; }

    /// <summary>The notes that the voices come to where the span begins, each with the one before it.</summary>
    public IReadOnlyList<(SoundingNote Here, Pitch There)> Into => [.. _before.Select(b => (b.Key, b.Value))];

    /// <summary>The notes that the voices leave where the span ends, each with the one after it.</summary>
    public IReadOnlyList<(SoundingNote Here, Pitch There)> OutOf => [.. _after.Select(a => (a.Key, a.Value))];

    /// <summary>The melody's notes.</summary>
    public IReadOnlyList<SoundingNote> Melody { get; }

    /// <summary>Notes of other voices that go in unison or octaves with the melody.</summary>
    public IReadOnlyCollection<SoundingNote> Along { get; }

    /// <summary>Notes of the accompaniment that are held into the span or out of it.</summary>
    public IReadOnlyList<SoundingNote> Held { get; }

    /// <summary>Everything that stays.</summary>
    public IReadOnlyList<SoundingNote> Fixed { get; }

    /// <summary>How what stays goes into the span and out of it.</summary>
    public IReadOnlyList<VoiceMotion> FixedMotions { get; }

    /// <summary>Short notes outside the old chord that come and go by step.</summary>
    public IReadOnlyList<SoundingNote> Decorations { get; }

    /// <summary>What goes over to the new chord, from the lowest up.</summary>
    public IReadOnlyList<Slot> Slots { get; }

    /// <summary>The written voices about the span.</summary>
    public IReadOnlyList<Line> Lines { get; }

    // A note of the accompaniment that is tied over a border of the span may be struck anew there: the part in the span goes its own way.
    private IReadOnlyList<SoundingNote> Cut(IReadOnlyList<SoundingNote> joined, IReadOnlyList<Note> notes, MelodyLine? melody)
    {
        var crossing = joined.Where(n => n.Onset < End && n.End > Start && (n.Onset < Start || n.End > End) && melody?.Has(n) != true)
            .ToArray();
        if (crossing.Length == 0) return joined;
        var along = melody is null ? [] : GoingAlong(crossing, melody).ToHashSet();
        var written = notes.Where(n => n.IsHarmonic).ToLookup(n => (n.Part, n.Voice, n.Pitch));
        var pieces = new Dictionary<SoundingNote, SoundingNote[]>();
        foreach (var note in crossing.Where(n => !along.Contains(n)))
        {
            var own = written[(note.Part, note.Voice, note.Pitch)].Where(n => n.Onset >= note.Onset && n.End <= note.End).ToArray();
            var (start, end) = (Fraction.Max(Start, note.Onset), Fraction.Min(End, note.End));
            if (!own.Any(n => n.Onset == start) || !own.Any(n => n.End == end)) continue;
            pieces[note] = [note with { End = start }, note with { Onset = start, End = end }, note with { Onset = end }];
        }

        return pieces.Count == 0 ? joined : [.. joined.SelectMany(n => pieces.GetValueOrDefault(n, [n])).Where(n => n.End > n.Onset)
            .OrderBy(n => n.Onset)];
    }

    // What has the melody's tone together with the melody, and had or has it so at a note beside: parts in unison or octaves with it.
    private static IEnumerable<SoundingNote> GoingAlong(SoundingNote[] sounding, MelodyLine melody)
    {
        foreach (var note in sounding)
        {
            if (melody.Has(note) || melody.At(note.Onset) is not { } tune || !tune.Pitch.Tone.IsEnharmonicWith(note.Pitch.Tone)) continue;
            if (melody.GoesAlong(note)) yield return note;
        }
    }

    private IEnumerable<VoiceMotion> FixedWays()
    {
        if (Melody.Count > 0) yield return Through(Melody);
        foreach (var line in Along.GroupBy(n => (n.Part, n.Staff, n.Voice))) yield return Through([.. line.OrderBy(n => n.Onset)]);
        foreach (var note in Held) yield return Through([note]);

        VoiceMotion Through(IReadOnlyList<SoundingNote> line) => new(
            line[0].Onset == Start ? Neighbour(line[0], _before) : null, line[0].Pitch, line[^1].Pitch,
            line[^1].End == End ? Neighbour(line[^1], _after) : null);
    }

    private static Pitch? Neighbour(SoundingNote note, Dictionary<SoundingNote, Pitch> pairs) =>
        pairs.TryGetValue(note, out var pitch) ? pitch : null;

    private Slot SlotOf(Pitch pitch, IReadOnlyList<SoundingNote> notes, PartRanges ranges)
    {
        var (low, high) = (int.MinValue, int.MaxValue);
        foreach (var part in notes.Select(n => n.Part).Distinct())
        {
            var (least, most) = ranges.Of(part);
            (low, high) = (Math.Max(low, least), Math.Min(high, most));
        }

        // Nothing that lay under a note that stays rises above it.
        foreach (var above in Fixed.Where(f => f.Pitch.Midi >= pitch.Midi && notes.Any(n => n.Onset < f.End && f.Onset < n.End)))
            high = Math.Min(high, above.Pitch.Midi);
        var ways = notes.GroupBy(n => (n.Part, n.Staff, n.Voice)).Select(l => (Before: FirstOf(l, _before), After: FirstOf(l, _after)))
            .Distinct().ToArray();
        return new Slot(pitch, notes, ways, low, high)
        {
            HasTwoVoices = notes.Index().Any(a => notes.Skip(a.Index + 1).Any(b => a.Item.Onset < b.End && b.Onset < a.Item.End
                && (a.Item.Part, a.Item.Staff, a.Item.Voice) != (b.Part, b.Staff, b.Voice) && !MoveTogether(a.Item, b))),
        };

        static Pitch? FirstOf(IEnumerable<SoundingNote> line, Dictionary<SoundingNote, Pitch> pairs)
        {
            foreach (var note in line)
                if (pairs.TryGetValue(note, out var found)) return found;
            return null;
        }
    }

    // Octaves in one hand, or voices that move in octaves: two voices that happen to stand an octave apart are no doubling.
    private Slot[] Linked(Slot[] slots)
    {
        for (var i = 1; i < slots.Length; i++)
        {
            for (var j = i - 1; j >= 0 && slots[i].Doubles < 0; j--)
            {
                if (slots[i].Pitch.Tone != slots[j].Pitch.Tone || slots[i].Doubles >= 0) continue;
                var doubling = slots[i].Notes.All(n => slots[j].Notes.Any(o => o.Onset == n.Onset && GoTogether(o, n)));
                if (doubling) slots[i] = slots[i] with { Doubles = j };
            }
        }

        return slots;
    }

    private bool GoTogether(SoundingNote a, SoundingNote b)
    {
        if ((a.Part, a.Staff, a.Voice) == (b.Part, b.Staff, b.Voice)) return Written.Count(n => n.Onset == a.Onset
            && (n.Part, n.Staff, n.Voice) == (a.Part, a.Staff, a.Voice) && n.IsHarmonic) == 2;
        return MoveTogether(a, b);
    }

    // In unison or octaves: the tones before and after are the same too.
    private bool MoveTogether(SoundingNote a, SoundingNote b)
    {
        var (before, after) = ((_around[a].Before, _around[b].Before), (_around[a].After, _around[b].After));
        return IsSame(before) && IsSame(after) && (before is { Item1: not null, Item2: not null }
            || after is { Item1: not null, Item2: not null });

        static bool IsSame((Pitch? A, Pitch? B) pair) =>
            pair.A is not { } one || pair.B is not { } other || one.Tone.IsEnharmonicWith(other.Tone);
    }
}
