using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Reharmonising.Voicing;

/// <summary>A written voice: what begins in it, from the first note on, chords from the lowest note up.</summary>
internal sealed class Line
{
    private readonly SoundingNote[][] _chords;

    public Line(IReadOnlyList<SoundingNote> notes) =>
        _chords = [.. notes.GroupBy(n => n.Onset).OrderBy(g => g.Key).Select(g => g.OrderBy(n => n.Pitch).ToArray())];

    /// <summary>
    /// Pairs the notes on either side of a span's borders: of chords of one size by height, else the outer ones, as far as both have two.
    /// </summary>
    public void PairAcross(Fraction start, Fraction end, Dictionary<SoundingNote, Pitch> before, Dictionary<SoundingNote, Pitch> after)
    {
        for (var i = 1; i < _chords.Length; i++)
        {
            var onset = _chords[i][0].Onset;
            if (onset == start) Pair(_chords[i], [.. _chords[i - 1].Where(n => n.End == start)], before);
            if (onset == end) Pair([.. _chords[i - 1].Where(n => n.End == end)], _chords[i], after);
        }
    }

    /// <summary>Of some notes those that decorate: alone in this voice, short, outside the chord, coming and going by step.</summary>
    public IEnumerable<SoundingNote> Decorating(IReadOnlyCollection<SoundingNote> notes, IReadOnlyList<Tone> chord, int longest)
    {
        for (var i = 1; i + 1 < _chords.Length; i++)
        {
            if (_chords[i] is not [var note] || note.End - note.Onset > longest || chord.Any(note.Pitch.Tone.IsEnharmonicWith)) continue;
            if (IsStep(_chords[i - 1][^1], note) && IsStep(note, _chords[i + 1][^1]) && notes.Contains(note)) yield return note;
        }
    }

    /// <summary>The runs of consecutive notes among some, each with the note before it and the note after it.</summary>
    public IEnumerable<(SoundingNote Before, IReadOnlyList<SoundingNote> Run,
        SoundingNote After)> Runs(IReadOnlyCollection<SoundingNote> notes)
    {
        for (var i = 1; i + 1 < _chords.Length; i++)
        {
            if (!notes.Contains(_chords[i][^1])) continue;
            var first = i;
            while (i + 1 < _chords.Length && notes.Contains(_chords[i][^1])) i++;
            yield return (_chords[first - 1][^1], [.. _chords[first..i].Select(c => c[^1])], _chords[i][^1]);
        }
    }

    /// <summary>Adds the notes on either side of every note in this voice, whether a rest stands between or not.</summary>
    public void Neighbours(Dictionary<SoundingNote, (Pitch? Before, Pitch? After)> around)
    {
        for (var i = 0; i < _chords.Length; i++)
            foreach (var note in _chords[i]) around[note] = (Beside(i, note, i - 1), Beside(i, note, i + 1));
    }

    // The note of the same height in a chord of the same size, else the outer one.
    private Pitch? Beside(int place, SoundingNote note, int other)
    {
        if (other < 0 || other >= _chords.Length) return null;
        var (here, there) = (_chords[place], _chords[other]);
        return here.Length == there.Length ? there[Array.IndexOf(here, note)].Pitch : note == here[^1] ? there[^1].Pitch : there[0].Pitch;
    }

    private static bool IsStep(SoundingNote from, SoundingNote to) =>
        from.End == to.Onset && Math.Abs(to.Pitch.Midi - from.Pitch.Midi) is 1 or 2;

    private static void Pair(SoundingNote[] here, SoundingNote[] there, Dictionary<SoundingNote, Pitch> pairs)
    {
        if (here.Length == 0 || there.Length == 0) return;
        if (here.Length == there.Length)
        {
            for (var i = 0; i < here.Length; i++) pairs[here[i]] = there[i].Pitch;
        }
        else
        {
            if (here.Length > 1 && there.Length > 1) pairs[here[0]] = there[0].Pitch;
            pairs[here[^1]] = there[^1].Pitch;
        }
    }
}
