namespace ScoreLens.Notation.Midi.Spelling;

/// <summary>Something that speaks for a note's name: what lies there, in which relation, and how much it counts.</summary>
/// <param name="Relation">How it stands to the note.</param>
/// <param name="Fifths">Where it lies on the line of fifths.</param>
/// <param name="Value">How much it counts.</param>
internal readonly record struct SpellingWitness(SpellingRelation Relation, int Fifths, double Value);

/// <summary>The notes of a score, and what stands around each of them.</summary>
internal sealed class SpellingContext
{
    // How far a note is from the one before or after it in its line, in quarter notes, and where two still touch.
    private const double Gap = 1, Touch = 0.06;

    private const int LineGroups = 12, WindowNotes = 250;

    private const double NearReach = 1, AroundReach = 4, FarReach = 16, WindowWeight = 4;

    private readonly IReadOnlyList<UnspelledNote> _notes;
    private readonly int[] _before;
    private readonly int[] _after;
    private readonly int[][] _sounding;
    private readonly double[] _near = new double[PitchSpeller.Range];
    private readonly double[] _around = new double[PitchSpeller.Range];
    private readonly double[] _far = new double[PitchSpeller.Range];

    /// <summary>Takes notes by onset, with the centre of the key at each.</summary>
    public SpellingContext(IReadOnlyList<UnspelledNote> notes, int[] centres)
    {
        (_notes, Centres) = (notes, centres);
        _before = new int[notes.Count];
        _after = new int[notes.Count];
        Array.Fill(_before, -1);
        Array.Fill(_after, -1);
        foreach (var part in Enumerable.Range(0, notes.Count).GroupBy(i => notes[i].Part))
            Lines([.. part.GroupBy(i => notes[i].Onset).Select(g => g.ToArray())]);
        _sounding = Sounding();
    }

    /// <summary>The centre of the key at every note, in fifths from C.</summary>
    public int[] Centres { get; }

    /// <summary>Everything that speaks for the name of a note, if all others are named as given (in fifths from C).</summary>
    public void Gather(int note, int[] names, List<SpellingWitness> witnesses)
    {
        witnesses.Clear();
        var own = _notes[note];
        if (own.Signature is { } signature) witnesses.Add(new(SpellingRelation.Signature, signature, 1));
        witnesses.Add(new(SpellingRelation.Centre, Centres[note], 1));
        var sounding = _sounding[note];
        for (var i = 0; i < sounding.Length; i++)
        {
            var other = sounding[i];
            if (_notes[other].Key % 12 == own.Key % 12) continue;
            var isDoubled = false;
            for (var n = 0; n < i && !isDoubled; n++) isDoubled = names[sounding[n]] == names[other];
            if (!isDoubled) witnesses.Add(new(SpellingRelation.Sounding, names[other], 1));
        }

        if (sounding[0] != note) witnesses.Add(new(SpellingRelation.Bass, names[sounding[0]], 1));
        Windows(note, names, witnesses);
        if (_before[note] is >= 0 and var before && own.Key - _notes[before].Key is >= -2 and <= 2 and var up)
            witnesses.Add(new(SpellingRelation.Again - up, names[before], 1));
        if (_after[note] is >= 0 and var after && _notes[after].Key - own.Key is >= -2 and <= 2 and var on)
            witnesses.Add(new(SpellingRelation.ToAgain + on, names[after], 1));
    }

    private void Windows(int note, int[] names, List<SpellingWitness> witnesses)
    {
        Array.Clear(_near);
        Array.Clear(_around);
        Array.Clear(_far);
        double near = 0, around = 0, far = 0;
        var onset = _notes[note].Onset;
        for (var i = note - 1; i >= 0 && note - i < WindowNotes && onset - _notes[i].Onset <= FarReach; i--) Add(i);
        for (var i = note + 1; i < _notes.Count && i - note < WindowNotes && _notes[i].Onset - onset <= FarReach; i++) Add(i);
        for (var place = 0; place < PitchSpeller.Range; place++)
        {
            if (_far[place] == 0) continue;
            var name = place + PitchSpeller.Lowest;
            if (_near[place] > 0) witnesses.Add(new(SpellingRelation.Near, name, WindowWeight * _near[place] / near));
            if (_around[place] > 0) witnesses.Add(new(SpellingRelation.Around, name, WindowWeight * _around[place] / around));
            witnesses.Add(new(SpellingRelation.Far, name, WindowWeight * _far[place] / far));
        }

        // Nearer counts more; at the end of each window there is something left, except in the widest.
        void Add(int i)
        {
            var distance = Math.Abs(_notes[i].Onset - onset);
            var place = names[i] - PitchSpeller.Lowest;
            if (distance <= NearReach) near += Count(_near, place, 1 - (distance / (2 * NearReach)));
            if (distance <= AroundReach) around += Count(_around, place, 1 - (distance / (AroundReach + 1)));
            far += Count(_far, place, 1 - (distance / (FarReach + 2)));
        }

        static double Count(double[] window, int place, double weight)
        {
            window[place] += weight;
            return weight;
        }
    }

    // The nearest in pitch of the part's notes that begin where a note ends, and of those that end where it begins.
    private void Lines(int[][] groups)
    {
        for (var group = 0; group < groups.Length; group++)
        {
            foreach (var note in groups[group])
            {
                _after[note] = After(groups, group, note);
                _before[note] = Before(groups, group, note);
            }
        }
    }

    private int After(int[][] groups, int group, int note)
    {
        for (var later = group + 1; later < groups.Length && later <= group + LineGroups; later++)
        {
            var wait = _notes[groups[later][0]].Onset - _notes[note].End;
            if (wait < -Touch) continue;
            return wait > Gap ? -1 : groups[later].MinBy(i => Math.Abs(_notes[i].Key - _notes[note].Key));
        }

        return -1;
    }

    private int Before(int[][] groups, int group, int note)
    {
        var (best, least) = (-1, double.MaxValue);
        for (var earlier = group - 1; earlier >= 0 && earlier >= group - LineGroups; earlier--)
        {
            foreach (var i in groups[earlier])
            {
                var wait = _notes[note].Onset - _notes[i].End;
                if (wait is < -Touch or > Gap) continue;
                // Three semitones count as much as a quarter note of silence.
                var distance = Math.Abs(_notes[i].Key - _notes[note].Key) + (3 * wait);
                if (distance < least) (best, least) = (i, distance);
            }
        }

        return best;
    }

    // What sounds as each note begins, from the lowest up.
    private int[][] Sounding()
    {
        var sounding = new int[_notes.Count][];
        var active = new List<int>();
        for (var start = 0; start < _notes.Count;)
        {
            var onset = _notes[start].Onset;
            active.RemoveAll(i => _notes[i].End <= onset);
            var end = start;
            for (; end < _notes.Count && _notes[end].Onset == onset; end++) active.Add(end);
            int[] here = [.. active.OrderBy(i => _notes[i].Key)];
            for (; start < end; start++) sounding[start] = here;
        }

        return sounding;
    }
}
