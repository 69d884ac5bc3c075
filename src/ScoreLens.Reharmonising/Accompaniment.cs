using System.Globalization;
using ScoreLens.Notation;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Reharmonising;

/// <summary>Everything but the melody in a span of a score, and how it goes over to another chord.</summary>
internal sealed class Accompaniment
{
    // A voice may move this far to a tone of the new chord, the bass to any octave within one; so many ways are kept to each lowest note
    // and set of members.
    private const int Reach = 8, BassReach = 12, Kept = 4;

    // What is wrong with a setting, against semitones of motion. A voice with a neighbour to come from or go to moves little from that, one
    // without from the old note.
    private const double MissingEssential = 60, MissingOfTriad = 8, MissingOther = 2.5, DoubledTendency = 5, OverMelody = 4, Parallel = 12,
        Unison = 1.5, Away = 0.3;

    private readonly Fraction _start;
    private readonly Fraction _end;
    private readonly List<Strand> _free = [];
    private readonly List<SoundingNote> _held = [];
    private readonly IReadOnlyList<MelodyNote> _melody;
    private readonly VoiceMotion? _melodyMotion;

    /// <summary>Takes apart what sounds in a span.</summary>
    public Accompaniment(IReadOnlyList<Note> notes, Melody? melody, Fraction start, Fraction end)
    {
        (_start, _end) = (start, end);
        _melody = melody?.In(start, end) ?? [];
        var joined = SonorityFinder.JoinTies(notes);
        var sounding = joined.Where(n => n.Onset < end && n.End > start && melody?.Has(n) != true).ToArray();
        var written = notes.Where(n => n.IsHarmonic && n.Onset >= start && n.Onset < end).ToArray();
        var (before, after) = Neighbours(joined);
        foreach (var strand in sounding.GroupBy(n => (n.Part, n.Staff, n.Voice, n.Pitch)))
        {
            if (strand.Any(n => n.Onset < start || n.End > end)) _held.AddRange(strand.Where(n => n.Onset < start || n.End > end));
            var free = strand.Where(n => n.Onset >= start && n.End <= end).ToArray();
            if (free.Length == 0) continue;
            var key = strand.Key;
            _free.Add(new Strand(
                key.Pitch, (key.Part, key.Staff, key.Voice), [.. free.Select(n => n.Onset)],
                [.. written.Where(w => (w.Part, w.Pitch) == (key.Part, key.Pitch)
                    && free.Any(f => f.Voice == w.Voice && w.Onset >= f.Onset && w.End <= f.End))],
                Neighbour(free, before), Neighbour(free, after)));
        }

        if (_melody.Count > 0)
        {
            SoundingNote first = _melody[0].Note, last = _melody[^1].Note;
            _melodyMotion = new VoiceMotion(Neighbour([first], before), first.Pitch, last.Pitch, Neighbour([last], after));
        }

        // From the lowest up; of equal ones the part that stands lower in the score comes first.
        _free.Sort((a, b) => (a.Pitch, -a.Line.Part, -a.Line.Staff).CompareTo((b.Pitch, -b.Line.Part, -b.Line.Staff)));
    }

    /// <summary>How it goes over to a chord: the notes that change, or what stands in the way.</summary>
    public VoicedRewriting For(NewChord chord)
    {
        if (_free.Count == 0)
            return Blocked(_held.Count == 0 ? "nothing but the melody sounds here, so there is no accompaniment to rewrite."
                : "every note under the melody here is held from before or into what follows.");
        foreach (var note in _held)
        {
            if (chord.Tones.Any(t => t.IsEnharmonicWith(note.Pitch.Tone))) continue;
            return Blocked($"{note.Pitch} is held {(note.Onset < _start ? "from before" : "into what follows")} and is no tone of {chord.Name}.");
        }

        var lowestHeld = _held.Count == 0 ? (Pitch?)null : _held.Min(n => n.Pitch);
        if (lowestHeld is { } pedal && pedal < _free[0].Pitch && !pedal.Tone.IsEnharmonicWith(chord.Bass))
            return Blocked($"{pedal} is held in the bass, where {chord.Name} has {chord.Bass}.");
        var hasBass = lowestHeld is not { } low || _free[0].Pitch <= low;
        var settings = hasBass ? Basses(chord.Bass, _free[0].Pitch, lowestHeld).Select(b => Set(chord, b))
            : [Spread(_free, chord, lowestHeld!.Value, null)];
        if (settings.OfType<Setting>().MinBy(s =>
            s.Cost) is not { } best) return Blocked($"the notes under the melody lie too far apart for {chord.Name}.");
        if (Missing(best.Pitches.Select(p => p.Pitch), chord) is { } missing)
            return Blocked(string.Create(CultureInfo.InvariantCulture,
                $"there are too few notes under the melody for {chord.Name}: {missing} would be missing."));
        PitchChange[] changes = [.. best.Pitches.SelectMany(c => c.Strand.Written.Where(n => n.Pitch != c.Pitch)
            .Select(n => new PitchChange(n, c.Pitch)))];
        return new VoicedRewriting(new Rewriting(_start, _end, changes, ""), best.Faults);
    }

    // The notes that a voice comes from into the span, or goes to out of it: of a chord to a chord in one written voice by height, where
    // they have as many notes.
    private (Dictionary<SoundingNote, Pitch> Before, Dictionary<SoundingNote, Pitch> After) Neighbours(IReadOnlyList<SoundingNote> notes)
    {
        var (before, after) = (new Dictionary<SoundingNote, Pitch>(), new Dictionary<SoundingNote, Pitch>());
        foreach (var line in notes.GroupBy(n => (n.Part, n.Staff, n.Voice)))
        {
            Pair(line.Where(n => n.Onset == _start), line.Where(n => n.End == _start), before);
            Pair(line.Where(n => n.End == _end && n.Onset >= _start), line.Where(n => n.Onset == _end), after);
        }

        return (before, after);
    }

    private static void Pair(IEnumerable<SoundingNote> here, IEnumerable<SoundingNote> there, Dictionary<SoundingNote, Pitch> pairs)
    {
        SoundingNote[] own = [.. here.OrderBy(n => n.Pitch)], others = [.. there.OrderBy(n => n.Pitch)];
        if (own.Length == 0 || others.Length == 0) return;
        if (own.Length == others.Length)
        {
            foreach (var (note, other) in own.Zip(others)) pairs[note] = other.Pitch;
        }
        else
        {
            // Of unlike ones the outer notes are lines, as far as both have two.
            pairs[own[0]] = others[0].Pitch;
            pairs[own[^1]] = others[^1].Pitch;
        }
    }

    private static Pitch? Neighbour(IEnumerable<SoundingNote> notes, Dictionary<SoundingNote, Pitch> pairs)
    {
        foreach (var note in notes)
            if (pairs.TryGetValue(note, out var pitch)) return pitch;
        return null;
    }

    // The whole accompaniment over one bass note.
    private Setting? Set(NewChord chord, Pitch bass)
    {
        var (lowest, others) = (_free[0], _free.Skip(1).ToList());
        // A bass that is doubled in the octave stays doubled.
        var doubled = others.Where(s => IsDoubled(lowest, s)).ToArray();
        foreach (var strand in doubled) others.Remove(strand);
        return Spread(others, chord, bass, lowest) is { } spread
            ? new Setting([(lowest, bass), .. doubled.Select(s => (s, new Pitch(bass.Tone, bass.Octave + 1))), .. spread.Pitches],
                spread.Cost, spread.Faults)
            : null;
    }

    // Octaves in one hand, or two parts that move in octaves: two voices that happen to stand an octave apart are no doubling.
    private bool IsDoubled(Strand bass, Strand strand)
    {
        if (strand.Pitch.Midi != bass.Pitch.Midi + 12 || !strand.Onsets.SequenceEqual(bass.Onsets)) return false;
        if (strand.Line == bass.Line && _free.Count(s => s.Line == bass.Line) == 2) return true;
        return strand.To(strand.Pitch).ParallelsWith(bass.To(bass.Pitch)) > 0;
    }

    private VoicedRewriting Blocked(string obstacle) => new(new Rewriting(_start, _end, [], obstacle), 0);

    private static IEnumerable<Pitch> Basses(Tone tone, Pitch old, Pitch? highest) =>
        Pitch.Between(tone, old.Midi - BassReach, old.Midi + BassReach).Where(p => highest is not { } top || p <= top);

    // Every strand to a tone of the chord, without crossing, with the least motion, as complete as may be and without parallels as far as
    // there is a choice.
    private Setting? Spread(List<Strand> strands, NewChord chord, Pitch bass, Strand? bassStrand)
    {
        var (covered, lowestMember) = (Covered(chord), Member(chord, bass.Tone));
        var root = new Path(null, null, bass, 0, 0);
        if (bassStrand is not null) root = Step(root, bassStrand, bass, 0, (covered & lowestMember) != 0
            && chord.Tendencies.Contains(bass.Tone) ? DoubledTendency : 0);
        var paths = new Dictionary<(int Midi, int Members), List<Path>> { [(bass.Midi, covered | lowestMember)] = [root] };
        var ceiling = _melody.Count == 0 ? int.MaxValue : _melody.Min(n => n.Note.Pitch.Midi);
        foreach (var strand in strands)
        {
            var next = new Dictionary<(int Midi, int Members), List<Path>>();
            foreach (var ((lowest, members), known) in paths)
            {
                foreach (var pitch in TonesNear(chord, strand.Pitch).Where(p => p.Midi >= lowest))
                {
                    var member = Member(chord, pitch.Tone);
                    var extra = pitch.Midi == lowest ? Unison : 0;
                    var doubled = (members & member) != 0 && chord.Tendencies.Contains(pitch.Tone) ? DoubledTendency : 0;
                    if (pitch.Midi > ceiling && strand.Pitch.Midi <= ceiling) extra += OverMelody;
                    var state = (pitch.Midi, members | member);
                    if (!next.TryGetValue(state, out var list)) next[state] = list = [];
                    foreach (var path in known) list.Add(Step(path, strand, pitch, extra, doubled));
                }
            }

            foreach (var list in next.Values)
            {
                list.Sort((a, b) => a.Cost.CompareTo(b.Cost));
                if (list.Count > Kept) list.RemoveRange(Kept, list.Count - Kept);
            }

            paths = next;
        }

        if (paths.Count == 0) return null;
        var (best, cost) = paths
            .Select(p => (Path: p.Value[0], Cost: p.Value[0].Cost + Enumerable.Range(0, chord.Tones.Count)
                .Where(m => (p.Key.Members & (1 << m)) == 0).Sum(m => Cost(chord, m))))
            .MinBy(p => p.Cost);
        var spread = new List<(Strand, Pitch)>();
        for (var path = best; path.Strand is { } strand && strand != bassStrand; path = path.Before!) spread.Add((strand, path.Pitch));
        return new Setting(spread, cost, best.Faults);
    }

    // One voice more: its own motion, and parallels with the voices below it and with the melody that did not stand there before.
    private Path Step(Path path, Strand strand, Pitch pitch, double extra, double doubled)
    {
        var (motion, old) = (strand.To(pitch), strand.To(strand.Pitch));
        var parallels = _melodyMotion is { } melody ? Math.Max(0, motion.ParallelsWith(melody) - old.ParallelsWith(melody)) : 0;
        for (var lower = path; lower.Strand is { } other; lower = lower.Before!)
            parallels += Math.Max(0, motion.ParallelsWith(other.To(lower.Pitch)) - old.ParallelsWith(other.To(other.Pitch)));
        var (away, faults) = (Math.Abs(pitch.Midi - strand.Pitch.Midi), (Parallel * parallels) + doubled);
        return new Path(path, strand, pitch, path.Cost + extra + faults + (strand.IsConnected ? Away * away : away) + motion.Cost,
            path.Faults + faults);
    }

    private static double Cost(NewChord chord, int member) =>
        chord.Essential.Contains(member) ? MissingEssential : chord.Tones.Count == 3 ? MissingOfTriad : MissingOther;

    // What the melody and held notes already have of the chord.
    private int Covered(NewChord chord)
    {
        var covered = _held.Aggregate(0, (all, note) => all | Member(chord, note.Pitch.Tone));
        foreach (var note in _melody)
        {
            var time = Fraction.Min(_end, note.Note.End) - Fraction.Max(_start, note.Note.Onset);
            if (time * 2 >= _end - _start) covered |= Member(chord, note.Note.Pitch.Tone);
        }

        return covered;
    }

    private string? Missing(IEnumerable<Pitch> pitches, NewChord chord)
    {
        var members = pitches.Aggregate(Covered(chord), (all, pitch) => all | Member(chord, pitch.Tone));
        foreach (var member in chord.Essential)
            if ((members & (1 << member)) == 0) return chord.Tones[member].ToString();
        return null;
    }

    private static int Member(NewChord chord, Tone tone)
    {
        for (var i = 0; i < chord.Tones.Count; i++)
            if (chord.Tones[i].IsEnharmonicWith(tone)) return 1 << i;
        return 0;
    }

    private static IEnumerable<Pitch> TonesNear(NewChord chord, Pitch old) =>
        chord.Tones.SelectMany(tone => Pitch.Between(tone, old.Midi - Reach, old.Midi + Reach));

    private sealed record Path(Path? Before, Strand? Strand, Pitch Pitch, double Cost, double Faults);

    /// <summary>Where every strand goes.</summary>
    private sealed record Setting(IReadOnlyList<(Strand Strand, Pitch Pitch)> Pitches, double Cost, double Faults);

    /// <summary>The notes of one pitch in one voice, which stay of one pitch, with the notes that they come from and go to.</summary>
    private sealed record Strand(Pitch Pitch, (int Part, int Staff, string Voice) Line, IReadOnlyList<Fraction> Onsets,
        IReadOnlyList<Note> Written, Pitch? Before, Pitch? After)
    {
        public bool IsConnected => Before is not null || After is not null;

        public VoiceMotion To(Pitch pitch) => VoiceMotion.Through(Before, pitch, After);
    }
}

/// <summary>How an accompaniment goes over to a chord.</summary>
/// <param name="Rewriting">The notes that change, or what stands in the way.</param>
/// <param name="Faults">What its parallels and doubled tendency tones cost, in semitones of motion; 0 where something stands in the
/// way.</param>
internal sealed record VoicedRewriting(Rewriting Rewriting, double Faults);
