using ScoreLens.Notation;
using ScoreLens.Theory;

namespace ScoreLens.Sonorities;

/// <summary>Cuts a score into verticals.</summary>
internal static class SonorityFinder
{
    /// <summary>The verticals of a score in order, without gaps from its start to its last sound.</summary>
    public static IReadOnlyList<Sonority> Find(Score score)
    {
        ArgumentNullException.ThrowIfNull(score);
        var notes = JoinTies(score.Notes);
        if (notes.Count == 0 || score.Measures.Count == 0) return [];
        var cuts = Cuts(notes, score.Start);
        var sonorities = new List<Sonority>(cuts.Count);
        var active = new List<(int Midi, SoundingNote Note)>();
        int next = 0, measure = 0;
        for (var i = 0; i + 1 < cuts.Count; i++)
        {
            var onset = cuts[i];
            active.RemoveAll(n => n.Note.End <= onset);
            for (; next < notes.Count && notes[next].Onset <= onset; next++) Insert(active, notes[next]);
            while (measure + 1 < score.Measures.Count && score.Measures[measure + 1].Start <= onset) measure++;
            var sounding = new SoundingNote[active.Count];
            for (var n = 0; n < sounding.Length; n++) sounding[n] = active[n].Note;
            sonorities.Add(new Sonority(onset, cuts[i + 1] - onset, sounding, Weight(score.Measures[measure], onset), measure));
        }

        return sonorities;
    }

    /// <summary>The harmonic notes of a score by onset, each with what is tied to it.</summary>
    public static IReadOnlyList<SoundingNote> JoinTies(IEnumerable<Note> notes) => Ties.Between(notes).Joined();

    /// <summary>
    /// Metrical weight of a time inside its measure: 1 on the first beat, .5 on the next level of the metre, halved at each
    /// level below, 0 at the weakest places. The levels are those of common practice: an even number of beats falls into halves
    /// (4/4, 6/8, 12/8, 8/8), nine into threes, an additive signature into the groups that it writes; then every beat; below
    /// the beat its halves or thirds. Without a metre all places inside a measure weigh .25.
    /// </summary>
    public static double Weight(Measure measure, Fraction onset)
    {
        ArgumentNullException.ThrowIfNull(measure);
        var position = onset - measure.Start + measure.PickupOffset;
        if (position.Sign == 0) return 1;
        if (measure.Time.IsFree) return 0.25;
        var time = measure.Time;
        var weight = 0.5;
        var unit = time.PulseLength;
        if (time.Grouping is not null && !time.IsCompound)
        {
            if (StartsGroup(time, position)) return weight;
            weight /= 2;
        }
        else
        {
            for (var beats = (time.Length / unit).Floor(); beats > 3 && (beats % 2 == 0 || beats % 3 == 0);)
            {
                beats /= beats % 2 == 0 ? 2 : 3;
                if ((position / (unit * (int)beats)).Denominator == 1) return weight;
                weight /= 2;
            }
        }

        if ((position / unit).Denominator == 1) return weight;
        // A beat of three falls into thirds first; every other unit into halves, and thirds where they are played instead.
        unit /= time.IsCompound ? 3 : 1;
        if (time.IsCompound && (position / unit).Denominator == 1) return weight / 2;
        if (time.IsCompound) weight /= 2;
        for (weight /= 2; weight > 0.02; weight /= 2, unit /= 2)
            if ((position / (unit / 2)).Denominator == 1 || (position / (unit / 3)).Denominator == 1) return weight;
        return 0;
    }

    private static bool StartsGroup(TimeSignature time, Fraction position)
    {
        var start = Fraction.Zero;
        foreach (var group in time.Groups)
        {
            if (position <= start) break;
            start += group * time.BeatLength;
        }

        return position == start;
    }

    private static void Insert(List<(int Midi, SoundingNote Note)> active, SoundingNote note)
    {
        var midi = note.Pitch.Midi;
        var place = active.Count;
        while (place > 0 && (active[place - 1].Midi > midi || (active[place - 1].Midi == midi && active[place - 1]
            .Note.Pitch.Staff > note.Pitch.Staff)))
            place--;
        active.Insert(place, (midi, note));
    }

    // A cut at every onset, and where silence begins. The notes are in order.
    private static List<Fraction> Cuts(IReadOnlyList<SoundingNote> notes, Fraction start)
    {
        var cuts = new List<Fraction> { start };
        var furthest = start;
        foreach (var note in notes)
        {
            if (note.Onset > furthest && furthest != cuts[^1]) cuts.Add(furthest);
            if (note.Onset != cuts[^1]) cuts.Add(note.Onset);
            furthest = Fraction.Max(furthest, note.End);
        }

        if (furthest != cuts[^1]) cuts.Add(furthest);
        return cuts;
    }
}
