using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Reharmonising;

/// <summary>A note of the melody with its neighbours in the line.</summary>
/// <param name="Note">The note, its ties joined.</param>
/// <param name="Before">The note before, or null.</param>
/// <param name="After">The note after, or null.</param>
internal sealed record MelodyNote(SoundingNote Note, Pitch? Before, Pitch? After)
{
    public bool ComesByStep => Before is { } before && Math.Abs(before.Midi - Note.Pitch.Midi) is 1 or 2;

    /// <summary>Whether the line turns here: both neighbours lie on the same side.</summary>
    public bool IsTurned => Before is { } before && After is { } after && before.Midi < Note.Pitch.Midi == after.Midi < Note.Pitch.Midi;

    public bool GoesByStep => After is { } after && Math.Abs(after.Midi - Note.Pitch.Midi) is 1 or 2;
}

/// <summary>
/// The melody of a score: the voice that is on top for most of the time, of its chords the highest note. What else sounds is
/// accompaniment.
/// </summary>
internal sealed class Melody
{
    private readonly SoundingNote[] _line;
    private readonly HashSet<(Fraction Onset, Pitch Pitch)> _tops;

    private Melody(int part, int staff, string voice, SoundingNote[] line)
    {
        (Part, Staff, Voice, _line) = (part, staff, voice, line);
        _tops = [.. line.Select(n => (n.Onset, n.Pitch))];
    }

    public int Part { get; }

    public int Staff { get; }

    public string Voice { get; }

    /// <summary>The melody of a score in which something sounds, else null.</summary>
    public static Melody? Of(IReadOnlyList<Sonority> sonorities)
    {
        var time = new Dictionary<(int Part, int Staff, string Voice), double>();
        foreach (var sonority in sonorities)
            if (sonority.Top is { } top) time[(top.Part, top.Staff, top.Voice)] = time.GetValueOrDefault((top.Part, top.Staff, top.Voice))
                + sonority.Duration.ToDouble();
        if (time.Count == 0) return null;
        var (part, staff, voice) = time.MaxBy(t => t.Value).Key;
        var line = sonorities.SelectMany(s => s.Notes.Where(s.IsStruck)).Where(n => n.Part == part && n.Staff == staff && n.Voice == voice)
            .GroupBy(n => n.Onset).Select(g => g.MaxBy(n => n.Pitch)!).OrderBy(n => n.Onset).ToArray();
        return new Melody(part, staff, voice, line);
    }

    /// <summary>Whether a sounding note is the melody's.</summary>
    public bool Has(SoundingNote note) =>
        note.Part == Part && note.Staff == Staff && note.Voice == Voice && _tops.Contains((note.Onset, note.Pitch));

    /// <summary>The melody's notes that sound in a span.</summary>
    public IReadOnlyList<MelodyNote> In(Fraction start, Fraction end) =>
    [
        .. _line.Index().Where(n => n.Item.Onset < end && n.Item.End > start).Select(n => new MelodyNote(
            n.Item, n.Index > 0 ? _line[n.Index - 1].Pitch : null, n.Index + 1 < _line.Length ? _line[n.Index + 1].Pitch : null)),
    ];
}
