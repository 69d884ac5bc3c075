using ScoreLens.Notation;
using ScoreLens.Theory;

namespace ScoreLens.TestKit.Truth;

/// <summary>A note with its ties joined: what a listener hears as one.</summary>
internal sealed record HeardNote(Pitch Pitch, Fraction Onset, Fraction End, int Part, string Voice);

/// <summary>The notes of a score as they are heard, in voices; grace and cue notes left out. Nothing here knows of chords.</summary>
internal sealed class HeardNotes
{
    private readonly Dictionary<(int Part, string Voice), HeardNote[]> _voices;
    private readonly HeardNote[] _all;

    // Up to each note the latest end of any, so that those that have ended can be left out in one step.
    private readonly Fraction[] _ends;

    public HeardNotes(Score score)
    {
        _all = [.. Join(score.Notes.Where(n => n.IsHarmonic).OrderBy(n => n.Onset)).OrderBy(n => n.Onset)];
        _ends = new Fraction[_all.Length];
        for (var i = 0; i < _all.Length; i++) _ends[i] = i == 0 ? _all[i].End : Fraction.Max(_ends[i - 1], _all[i].End);
        _voices = _all.GroupBy(n => (n.Part, n.Voice)).ToDictionary(g => g.Key, g => g.ToArray());
    }

    /// <summary>The notes that sound at any time between two.</summary>
    public IEnumerable<HeardNote> Between(Fraction start, Fraction end)
    {
        for (var i = First(_ends, e => e > start); i < _all.Length && _all[i].Onset < end; i++)
            if (_all[i].End > start) yield return _all[i];
    }

    /// <summary>
    /// Whether one voice goes from a tone that sounds in a chord to another tone, up or down: its next note after the tone is the other,
    /// and that one is heard after the chord has gone, before a limit.
    /// </summary>
    public bool Moves(Tone from, Tone to, bool up, Fraction start, Fraction end, Fraction limit) =>
        Between(start, end).Where(n => n.Pitch.Tone == from).Any(note => Next(note).Any(next =>
            next.Pitch.Tone == to && next.End > end && next.Onset < limit
            && (next.Pitch.Midi - note.Pitch.Midi) is var step && (up ? step > 0 : step < 0)
            && (Math.Abs(step) <= 4 || IsAlone(note))));

    /// <summary>Whether one part holds or strikes again a tone of a chord, at its pitch, when the chord has gone.</summary>
    public bool IsHeld(Tone tone, Fraction start, Fraction end, Fraction limit) =>
        Between(start, end).Where(n => n.Pitch.Tone == tone)
            .Any(n => n.End > end || Between(end, limit).Any(m => m.Part == n.Part && m.Pitch.Midi == n.Pitch.Midi));

    // The notes that begin next in a note's voice.
    private IEnumerable<HeardNote> Next(HeardNote note)
    {
        var voice = _voices[(note.Part, note.Voice)];
        var first = First(voice, n => n.Onset >= note.End);
        for (var i = first; i < voice.Length && voice[i].Onset == voice[first].Onset; i++) yield return voice[i];
    }

    private bool IsAlone(HeardNote note) =>
        !Between(note.Onset, note.End).Any(n => !ReferenceEquals(n, note) && n.Part == note.Part && n.Voice == note.Voice);

    private static int First<T>(T[] sorted, Func<T, bool> isReached)
    {
        int low = 0, high = sorted.Length;
        while (low < high)
        {
            var middle = (low + high) / 2;
            if (isReached(sorted[middle])) high = middle;
            else low = middle + 1;
        }

        return low;
    }

    private static IEnumerable<HeardNote> Join(IEnumerable<Note> notes)
    {
        var open = new Dictionary<(int Part, Pitch Pitch, Fraction End), HeardNote>();
        foreach (var note in notes)
        {
            var heard = new HeardNote(note.Pitch, note.Onset, note.End, note.Part, note.Voice);
            if (note.IsTiedFrom && open.Remove((note.Part, note.Pitch, note.Onset), out var before)) heard = heard with { Onset = before.Onset, Voice = before.Voice };
            if (note.IsTiedTo && open.TryAdd((note.Part, note.Pitch, note.End), heard)) continue;
            yield return heard;
        }

        foreach (var unended in open.Values) yield return unended;
    }
}
