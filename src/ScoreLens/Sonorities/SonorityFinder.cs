using ScoreLens.Notation;
using ScoreLens.Theory;

namespace ScoreLens.Sonorities;

/// <summary>Cuts a score into verticals.</summary>
public static class SonorityFinder
{
    /// <summary>The verticals of a score in order, without gaps from its start to its last sound.</summary>
    public static IReadOnlyList<Sonority> Find(Score score)
    {
        ArgumentNullException.ThrowIfNull(score);
        var notes = JoinTies(score.Notes);
        if (notes.Count == 0) return [];
        var cuts = Cuts(notes);
        var sonorities = new List<Sonority>(cuts.Count);
        var active = new List<SoundingNote>();
        var next = 0;
        for (var i = 0; i + 1 < cuts.Count; i++)
        {
            var onset = cuts[i];
            active.RemoveAll(n => n.End <= onset);
            while (next < notes.Count && notes[next].Onset <= onset) active.Add(notes[next++]);
            var measure = score.MeasureAt(onset);
            sonorities.Add(new Sonority(onset, cuts[i + 1] - onset, [.. active.OrderBy(n => n.Pitch)], Weight(measure, onset), measure.Index));
        }

        return sonorities;
    }

    /// <summary>The harmonic notes of a score by onset, each with what is tied to it.</summary>
    public static IReadOnlyList<SoundingNote> JoinTies(IEnumerable<Note> notes)
    {
        ArgumentNullException.ThrowIfNull(notes);
        var joined = new List<SoundingNote>();
        var open = new Dictionary<(int Part, Pitch Pitch), List<int>>();
        foreach (var note in notes.Where(n => n.IsHarmonic).OrderBy(n => n.Onset))
        {
            var at = (note.Part, note.Pitch);
            var held = open.GetValueOrDefault(at);
            // The note that it continues ends where it starts; the same voice first, since two voices may hold one pitch.
            var place = !note.IsTiedFrom || held is null ? -1 : held.FindIndex(i => joined[i].End == note.Onset && joined[i].Voice == note.Voice);
            if (place < 0 && note.IsTiedFrom && held is not null) place = held.FindIndex(i => joined[i].End == note.Onset);
            if (place >= 0)
            {
                var index = held![place];
                joined[index] = joined[index] with { End = note.End };
                if (!note.IsTiedTo) held.RemoveAt(place);
                continue;
            }

            joined.Add(new SoundingNote(note.Pitch, note.Onset, note.End, note.Part, note.Staff, note.Voice));
            if (!note.IsTiedTo) continue;
            if (held is null) open[at] = held = [];
            held.Add(joined.Count - 1);
        }

        return joined;
    }

    /// <summary>
    /// Metrical weight of a time inside its measure: 1 on the first beat, .5 on the next level (the half measure where the
    /// metre has one, else every pulse), halved at each level below.
    /// </summary>
    public static double Weight(Measure measure, Fraction onset)
    {
        ArgumentNullException.ThrowIfNull(measure);
        var position = onset - measure.Start + measure.PickupOffset;
        if (position.Sign == 0) return 1;
        var pulse = measure.Time.PulseLength;
        var pulses = measure.Time.Length / pulse;
        var weight = 0.5;
        if (pulses.Denominator == 1 && pulses.Numerator % 2 == 0 && pulses.Numerator > 2)
        {
            if ((position / (measure.Time.Length / 2)).Denominator == 1) return weight;
            weight /= 2;
        }

        for (var unit = pulse; weight > 0.02; weight /= 2, unit /= measure.Time.IsCompound && unit == pulse ? 3 : 2)
            if ((position / unit).Denominator == 1) return weight;
        return 0;
    }

    // A cut at every onset, and where silence begins.
    private static List<Fraction> Cuts(IReadOnlyList<SoundingNote> notes)
    {
        var cuts = new SortedSet<Fraction> { Fraction.Zero };
        var furthest = Fraction.Zero;
        foreach (var note in notes)
        {
            if (note.Onset > furthest) cuts.Add(furthest);
            cuts.Add(note.Onset);
            furthest = Fraction.Max(furthest, note.End);
        }

        cuts.Add(furthest);
        return [.. cuts];
    }
}
