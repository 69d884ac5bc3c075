using ScoreLens.Notation;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Reharmonising.Voicing;

/// <summary>
/// Passing and neighbour notes of an accompaniment whose chord has changed: they go on leading by step from one chord tone to the next, in
/// the scale of the key with the new chord's tones in it.
/// </summary>
internal sealed class Decorations(Texture texture, PartRanges ranges, Key key, NewChord chord)
{
    // How far a decorating note may move, and what counts against it: another number of steps than before, standing still, a semitone away.
    private const int Reach = 6;
    private const double Standing = 6, Away = 0.3;

    private readonly Tone[] _scale = Scale(key, chord);

    /// <summary>The decorating notes that move, given where the others go.</summary>
    public IEnumerable<(SoundingNote Note, Pitch Pitch)> Follow(IReadOnlyDictionary<SoundingNote, Pitch> moved)
    {
        foreach (var line in texture.Lines)
        {
            foreach (var (before, run, after) in line.Runs(texture.Decorations))
            {
                var (from, to) = (moved.GetValueOrDefault(before, before.Pitch), moved.GetValueOrDefault(after, after.Pitch));
                // Between notes that stay it leads where it did.
                if (from == before.Pitch && to == after.Pitch && run.All(n => _scale.Contains(n.Pitch.Tone))) continue;
                foreach (var (note, pitch) in run.Zip(Lead(before.Pitch, from, run, after.Pitch, to)))
                    if (note.Pitch != pitch) yield return (note, pitch);
            }
        }
    }

    /// <summary>Grace notes before notes that move: as many steps from them as before.</summary>
    public IEnumerable<PitchChange> Graces(IReadOnlyDictionary<SoundingNote, Pitch> moved)
    {
        foreach (var grace in texture.Written.Where(n => n.Marks.HasFlag(NoteMarks.Grace)))
        {
            var main = moved.Keys.FirstOrDefault(n => (n.Part, n.Staff, n.Voice, n.Onset) == (grace.Part, grace.Staff, grace.Voice,
                grace.Onset));
            if (main is null || moved[main] == main.Pitch) continue;
            var steps = grace.Pitch.Staff - main.Pitch.Staff;
            var wanted = _scale.SelectMany(t => Pitch.Between(t, moved[main].Midi - 12, moved[main].Midi + 12))
                .Where(p => p.Staff == moved[main].Staff + steps).ToArray();
            if (wanted.Length > 0 && wanted[0] != grace.Pitch) yield return new PitchChange(grace, wanted[0]);
        }
    }

    // The way from one chord tone to the next that keeps the steps of the old one as far as may be.
    private Pitch[] Lead(Pitch oldFrom, Pitch from, IReadOnlyList<SoundingNote> run, Pitch oldTo, Pitch to)
    {
        var ways = new List<(Pitch[] Notes, double Cost)> { ([from], 0) };
        var old = oldFrom;
        foreach (var note in run)
        {
            var longer = new List<(Pitch[], double)>();
            foreach (var pitch in Candidates(note))
            {
                var best = ways.Select(w => (w.Notes, Cost: w.Cost + Move(old, note.Pitch, w.Notes[^1], pitch))).MinBy(w => w.Cost);
                longer.Add(([.. best.Notes, pitch], best.Cost + (Away * Math.Abs(pitch.Midi - note.Pitch.Midi))));
            }

            // No tone of the scale lies within reach and range: the note stays.
            if (longer.Count == 0) longer.Add(([.. ways.MinBy(w => w.Cost).Notes, note.Pitch], ways.Min(w => w.Cost)));
            (ways, old) = (longer, note.Pitch);
        }

        return ways.MinBy(w => w.Cost + Move(old, oldTo, w.Notes[^1], to)).Notes[1..];
    }

    private static double Move(Pitch oldFrom, Pitch oldTo, Pitch from, Pitch to)
    {
        var (was, now) = (oldTo.Staff - oldFrom.Staff, to.Staff - from.Staff);
        return ((now - was) * (now - was)) + (from.Midi == to.Midi ? Standing : 0);
    }

    private IEnumerable<Pitch> Candidates(SoundingNote note)
    {
        var (low, high) = ranges.Of(note.Part);
        foreach (var above in texture.Fixed)
            if (above.Onset < note.End && note.Onset < above.End && above.Pitch >= note.Pitch) high = Math.Min(high, above.Pitch.Midi);
        return _scale.SelectMany(t => Pitch.Between(t, Math.Max(low, note.Pitch.Midi - Reach), Math.Min(high, note.Pitch.Midi + Reach)));
    }

    private static Tone[] Scale(Key key, NewChord chord)
    {
        var ofChord = chord.Tones.ToLookup(t => t.Letter);
        return [.. Enumerable.Range(1, 7).Select(key.Degree).SelectMany(t => ofChord.Contains(t.Letter) ? ofChord[t.Letter] : [t])];
    }
}
