using ScoreLens.Notation;
using ScoreLens.Theory;

namespace ScoreLens.TestKit.Truth;

/// <summary>A note with its ties joined: what a listener hears as one.</summary>
internal sealed record HeardNote(Pitch Pitch, Fraction Onset, Fraction End, int Part, string Voice);

/// <summary>The notes of a score as they are heard, in voices; grace and cue notes left out. Nothing here knows of chords.</summary>
internal sealed class HeardNotes
{
    // In semitones; anything less is a step.
    private const int MinorThird = 3;

    private readonly Dictionary<(int Part, string Voice), HeardNote[]> _voices;
    private readonly HeardNote[] _all;
    private readonly ChordSymbol[] _symbols;

    // Up to each note the latest end of any, so that those that have ended can be left out in one step.
    private readonly Fraction[] _ends;

    public HeardNotes(Score score)
    {
        _all = [.. Join(score.Notes.Where(n => n.IsHarmonic).OrderBy(n => n.Onset)).OrderBy(n => n.Onset)];
        _symbols = [.. score.ChordSymbols.OrderBy(s => s.Onset)];
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

    /// <summary>The tones that sound at any time between two, as they are written, each once.</summary>
    public IReadOnlyList<Tone> Tones(Fraction start, Fraction end) => [.. Between(start, end).Select(n => n.Pitch.Tone).Distinct()];

    /// <summary>The tones of the chord symbols that stand between two times, or hold at the first, as they are written.</summary>
    public IReadOnlyList<Tone> Symbols(Fraction start, Fraction end)
    {
        var holding = _symbols.LastOrDefault(s => s.Onset <= start);
        return [.. _symbols.Where(s => (s.Onset > start && s.Onset < end) || s.Onset == holding?.Onset).SelectMany(Of)
            .Distinct()];

        // Of a polychord the tones of both.
        static IEnumerable<Tone> Of(ChordSymbol symbol) => symbol.Upper is { } upper ? symbol.Tones.Concat(Of(upper)) : symbol.Tones;
    }

    /// <summary>
    /// Whether one voice goes from a tone that sounds in a chord to another tone, up or down: its next note is the other; or, in a broken
    /// chord, the next note of that strand, where the notes between lie a third and more from both (compound melody, common practice).
    /// The other tone must be heard after the chord has gone.
    /// </summary>
    /// <param name="from">The tone, as it is written.</param>
    /// <param name="to">The other tone.</param>
    /// <param name="up">Whether it rises.</param>
    /// <param name="start">Where the chord begins.</param>
    /// <param name="end">Where it has gone.</param>
    /// <param name="limit">Before which the next note begins.</param>
    /// <param name="next">Before which the next note of a broken chord's strand begins: where the chord that follows ends.</param>
    public bool Moves(Tone from, Tone to, bool up, Fraction start, Fraction end, Fraction limit, Fraction next) =>
        Between(start, end).Where(n => n.Pitch.Tone == from).Any(note => Moves(note, to, up, end, limit, next));

    private bool Moves(HeardNote note, Tone to, bool up, Fraction end, Fraction limit, Fraction next)
    {
        var voice = _voices[(note.Part, note.Voice)];
        var between = new List<HeardNote>();
        for (var i = First(voice, n => n.Onset >= note.End); i < voice.Length && voice[i].Onset < limit;)
        {
            var (first, onset) = (i, voice[i].Onset);
            while (i < voice.Length && voice[i].Onset == onset) i++;
            var struck = voice[first..i];
            foreach (var other in struck.Where(n => n.Pitch.Tone == to && n.End > end))
            {
                var step = other.Pitch.Midi - note.Pitch.Midi;
                if (up ? step <= 0 : step >= 0) continue;
                var isStep = Math.Abs(step) < MinorThird;
                // Of several notes of a voice at once, a leap might be anybody's.
                var isNext = between.Count == 0 && (Math.Abs(step) <= MinorThird || (struck.Length == 1 && IsAlone(note)));
                if (isNext || (isStep && IsApart(between, other))) return true;
            }

            if (onset >= next || !IsApart(struck, note)) return false;
            between.AddRange(struck);
        }

        return false;
    }

    /// <summary>Whether a tone sounds at every time between two at which anything does, and is the lowest then where that is asked.</summary>
    public bool SoundsThrough(Tone tone, bool isLowest, Fraction start, Fraction end)
    {
        HeardNote[] notes = [.. Between(start, end)];
        Fraction[] times = [.. notes.SelectMany(n => new[] { n.Onset, n.End }).Where(t => t > start && t < end).Append(start).Distinct()];
        return times.Select(t => notes.Where(n => n.Onset <= t && n.End > t).ToArray()).Where(sounding => sounding.Length > 0).All(sounding =>
            isLowest ? sounding.MinBy(n => n.Pitch.Midi)!.Pitch.Tone == tone : sounding.Any(n => n.Pitch.Tone == tone));
    }

    /// <summary>Whether one part holds or strikes again a tone of a chord, at its pitch, when the chord has gone.</summary>
    public bool IsHeld(Tone tone, Fraction start, Fraction end, Fraction limit) =>
        Between(start, end).Where(n => n.Pitch.Tone == tone)
            .Any(n => n.End > end || Between(end, limit).Any(m => m.Part == n.Part && m.Pitch.Midi == n.Pitch.Midi));

    private static bool IsApart(IEnumerable<HeardNote> others, HeardNote note) =>
        others.All(n => Math.Abs(n.Pitch.Midi - note.Pitch.Midi) >= MinorThird);

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
            if (note.IsTiedFrom && open.Remove((note.Part, note.Pitch, note.Onset), out var before))
                heard = heard with { Onset = before.Onset, Voice = before.Voice };
            if (note.IsTiedTo && open.TryAdd((note.Part, note.Pitch, note.End), heard)) continue;
            yield return heard;
        }

        foreach (var unended in open.Values) yield return unended;
    }
}
