using System.Globalization;
using ScoreLens.Notation;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Reharmonising;

/// <summary>Everything but the melody in a span of a score, and how it goes over to another chord.</summary>
internal sealed class Accompaniment
{
    // A voice may move this far to a tone of the new chord; what a missing member costs against semitones of motion.
    private const int Reach = 8;
    private const double MissingEssential = 12, MissingOfTriad = 8, MissingOther = 2.5, DoubledTendency = 2.5, OverMelody = 4;

    private readonly Fraction _start;
    private readonly Fraction _end;
    private readonly List<Strand> _free = [];
    private readonly List<SoundingNote> _held = [];
    private readonly IReadOnlyList<MelodyNote> _melody;

    /// <summary>Takes apart what sounds in a span.</summary>
    public Accompaniment(IReadOnlyList<Note> notes, Melody? melody, Fraction start, Fraction end)
    {
        (_start, _end) = (start, end);
        _melody = melody?.In(start, end) ?? [];
        var sounding = SonorityFinder.JoinTies(notes).Where(n => n.Onset < end && n.End > start && melody?.Has(n) != true).ToArray();
        var written = notes.Where(n => n.IsHarmonic && n.Onset >= start && n.Onset < end).ToArray();
        foreach (var strand in sounding.GroupBy(n => (n.Part, n.Staff, n.Voice, n.Pitch)))
        {
            if (strand.Any(n => n.Onset < start || n.End > end)) _held.AddRange(strand.Where(n => n.Onset < start || n.End > end));
            var free = strand.Where(n => n.Onset >= start && n.End <= end).ToArray();
            if (free.Length == 0) continue;
            var key = strand.Key;
            _free.Add(new Strand(
                key.Pitch, key.Part, key.Staff, key.Voice, [.. free.Select(n => n.Onset)],
                [.. written.Where(w => (w.Part, w.Pitch) == (key.Part, key.Pitch) && free.Any(f => f.Voice == w.Voice && w.Onset >= f.Onset && w.End <= f.End))]));
        }

        // From the lowest up; of equal ones the part that stands lower in the score comes first.
        _free.Sort((a, b) => (a.Pitch, -a.Part, -a.Staff).CompareTo((b.Pitch, -b.Part, -b.Staff)));
    }

    /// <summary>The notes that change for a chord, or what stands in the way.</summary>
    public Rewriting For(NewChord chord)
    {
        if (_free.Count == 0)
            return Blocked(_held.Count == 0 ? "nothing but the melody sounds here, so there is no accompaniment to rewrite." : "every note under the melody here is held from before or into what follows.");
        foreach (var note in _held)
        {
            if (chord.Tones.Any(t => t.IsEnharmonicWith(note.Pitch.Tone))) continue;
            return Blocked($"{note.Pitch} is held {(note.Onset < _start ? "from before" : "into what follows")} and is no tone of {chord.Name}.");
        }

        var lowestHeld = _held.Count == 0 ? (Pitch?)null : _held.Min(n => n.Pitch);
        if (lowestHeld is { } pedal && pedal < _free[0].Pitch && !pedal.Tone.IsEnharmonicWith(chord.Bass))
            return Blocked($"{pedal} is held in the bass, where {chord.Name} has {chord.Bass}.");
        var hasBass = lowestHeld is not { } low || _free[0].Pitch <= low;
        var bass = hasBass ? Nearest(chord.Bass, _free[0].Pitch, lowestHeld) : lowestHeld!.Value;
        var changes = new Dictionary<Strand, Pitch>();
        if (hasBass) changes[_free[0]] = bass;
        var others = hasBass ? _free.Skip(1).ToList() : [.. _free];
        if (hasBass)
        {
            // A bass that is doubled in the octave stays doubled.
            foreach (var doubled in others.Where(s => s.Pitch.Midi == _free[0].Pitch.Midi + 12 && s.Onsets.SequenceEqual(_free[0].Onsets)).ToArray())
            {
                changes[doubled] = new Pitch(bass.Tone, bass.Octave + 1);
                others.Remove(doubled);
            }
        }

        if (Spread(others, chord, bass) is not { } spread) return Blocked($"the notes under the melody lie too far apart for {chord.Name}.");
        foreach (var (strand, pitch) in spread) changes[strand] = pitch;
        if (Missing(changes.Values, chord) is { } missing)
            return Blocked(string.Create(CultureInfo.InvariantCulture, $"there are too few notes under the melody for {chord.Name}: {missing} would be missing."));
        return new Rewriting(_start, _end, [.. changes.SelectMany(c => c.Key.Written.Where(n => n.Pitch != c.Value).Select(n => new PitchChange(n, c.Value)))], "");
    }

    private Rewriting Blocked(string obstacle) => new(_start, _end, [], obstacle);

    private static Pitch Nearest(Tone tone, Pitch old, Pitch? highest)
    {
        var octaves = Pitch.Between(tone, 0, 127);
        return octaves.Where(p => highest is not { } top || p <= top).MinBy(p => Math.Abs(p.Midi - old.Midi));
    }

    // Every strand to a tone of the chord, without crossing, with the least motion and as complete as may be.
    private List<(Strand Strand, Pitch Pitch)>? Spread(List<Strand> strands, NewChord chord, Pitch bass)
    {
        var paths = new Dictionary<(int Midi, int Members), Path> { [(bass.Midi, Covered(chord) | Member(chord, bass.Tone))] = new(null, null, default, 0) };
        var ceiling = _melody.Count == 0 ? int.MaxValue : _melody.Min(n => n.Note.Pitch.Midi);
        foreach (var strand in strands)
        {
            var next = new Dictionary<(int Midi, int Members), Path>();
            foreach (var ((lowest, members), path) in paths)
            {
                foreach (var pitch in TonesNear(chord, strand.Pitch).Where(p => p.Midi >= lowest))
                {
                    var member = Member(chord, pitch.Tone);
                    var cost = path.Cost + Math.Abs(pitch.Midi - strand.Pitch.Midi);
                    if ((members & member) != 0 && chord.Tendencies.Contains(pitch.Tone)) cost += DoubledTendency;
                    if (pitch.Midi > ceiling && strand.Pitch.Midi <= ceiling) cost += OverMelody;
                    var state = (pitch.Midi, members | member);
                    if (!next.TryGetValue(state, out var known) || cost < known.Cost) next[state] = new Path(path, strand, pitch, cost);
                }
            }

            paths = next;
        }

        if (paths.Count == 0) return null;
        var best = paths.MinBy(p => p.Value.Cost + Enumerable.Range(0, chord.Tones.Count).Where(m => (p.Key.Members & (1 << m)) == 0).Sum(m => Cost(chord, m))).Value;
        var spread = new List<(Strand, Pitch)>();
        for (var path = best; path.Strand is { } strand; path = path.Before!) spread.Add((strand, path.Pitch));
        return spread;
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

    private sealed record Path(Path? Before, Strand? Strand, Pitch Pitch, double Cost);

    /// <summary>The notes of one pitch in one voice, which stay of one pitch.</summary>
    private sealed record Strand(Pitch Pitch, int Part, int Staff, string Voice, IReadOnlyList<Fraction> Onsets, IReadOnlyList<Note> Written);
}
