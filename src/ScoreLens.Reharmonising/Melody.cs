using ScoreLens.Notation;
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
/// Which written voice carries the melody of a score, place by place: the one that is asked for; else the highest part that sings; else
/// the voice that is on top for most of the time about the place.
/// </summary>
internal sealed class Melody
{
    // So many quarter notes on either side of a place are asked who is on top.
    private const int About = 8;

    private readonly IReadOnlyList<Sonority> _sonorities;
    private readonly Dictionary<(int Part, int Staff, string Voice), MelodyLine> _lines;
    private readonly int[] _singing;
    private readonly int? _part;

    /// <summary>Prepares a score.</summary>
    /// <param name="score">The score.</param>
    /// <param name="sonorities">Its verticals.</param>
    /// <param name="part">The part that carries the melody, from 0; null where it has to be found.</param>
    public Melody(Score score, IReadOnlyList<Sonority> sonorities, int? part)
    {
        (_sonorities, _part) = (sonorities, part);
        var struck = SonorityFinder.JoinTies(score.Notes).GroupBy(n => (n.Part, n.Staff, n.Voice)).ToArray();
        var tones = struck.ToDictionary(l => l.Key, l => l.GroupBy(n => n.Onset)
            .ToDictionary(g => g.Key, g => g.Aggregate(0, (all, n) => all | (1 << n.Pitch.Tone.PitchClass))));
        _lines = struck.ToDictionary(l => l.Key, l => new MelodyLine(l.Key,
            [.. l.GroupBy(n => n.Onset).Select(g => g.MaxBy(n => n.Pitch)!).OrderBy(n => n.Onset)], tones));
        _singing = [.. score.Texts.Where(t => t.Kind == ScoreTextKind.Lyric && !t.IsOwn).Select(t => t.Part).Distinct().Order()];
    }

    /// <summary>
    /// The line that carries the melody over a span; null where nothing sounds there, or the part that is asked for rests.
    /// </summary>
    public MelodyLine? Over(Fraction start, Fraction end)
    {
        if (_part is { } part) return Upper(part, start, end);
        foreach (var singer in _singing)
            if (Upper(singer, start, end) is { } sung) return sung;
        var time = new Dictionary<(int Part, int Staff, string Voice), double>();
        foreach (var sonority in TonesInTime.Between(_sonorities, start - About, end + About))
        {
            if (sonority.Top is not { } top) continue;
            var key = (top.Part, top.Staff, top.Voice);
            time[key] = time.GetValueOrDefault(key) + sonority.Duration.ToDouble();
        }

        return time.Count == 0 ? null : _lines.GetValueOrDefault(time.MaxBy(t => t.Value).Key);
    }

    // The highest voice of a part among those that sound in a span.
    private MelodyLine? Upper(int part, Fraction start, Fraction end) => _lines.Values.Where(l => l.Part == part)
        .MaxBy(l => l.In(start, end) is { Count: > 0 } notes ? notes.Average(n => n.Note.Pitch.Midi) : double.MinValue) is { } line
        && line.In(start, end).Count > 0 ? line : null;
}

/// <summary>A written voice as a melody, of its chords the highest note.</summary>
internal sealed class MelodyLine
{
    private readonly (int Part, int Staff, string Voice) _key;
    private readonly SoundingNote[] _line;
    private readonly Dictionary<Fraction, int> _places = [];
    private readonly Dictionary<(int Part, int Staff, string Voice), Dictionary<Fraction, int>> _tones;

    /// <summary>A line of a score.</summary>
    /// <param name="key">Part, staff and voice.</param>
    /// <param name="line">Its notes, one at a time.</param>
    /// <param name="tones">Of all voices the pitch classes that they strike, as bits.</param>
    public MelodyLine((int Part, int Staff, string Voice) key, SoundingNote[] line,
        Dictionary<(int Part, int Staff, string Voice), Dictionary<Fraction, int>> tones)
    {
        (_key, _line, _tones) = (key, line, tones);
        foreach (var (place, note) in line.Index()) _places[note.Onset] = place;
    }

    public int Part => _key.Part;

    /// <summary>Whether a sounding note is the melody's.</summary>
    public bool Has(SoundingNote note) =>
        (note.Part, note.Staff, note.Voice) == _key && _places.TryGetValue(note.Onset, out var place) && _line[place].Pitch == note.Pitch;

    /// <summary>The melody's note that is struck at a time, or null.</summary>
    public SoundingNote? At(Fraction onset) => _places.TryGetValue(onset, out var place) ? _line[place] : null;

    /// <summary>
    /// Whether the voice of a note that has the melody's tone has it at the melody's note before or after as well: the two go in unison or
    /// octaves.
    /// </summary>
    public bool GoesAlong(SoundingNote note)
    {
        if (!_places.TryGetValue(note.Onset, out var place) || !_tones.TryGetValue((note.Part, note.Staff, note.Voice), out var struck))
            return false;
        return IsThere(place - 1) || IsThere(place + 1);

        bool IsThere(int other) => other >= 0 && other < _line.Length && struck.TryGetValue(_line[other].Onset, out var tones)
            && (tones & (1 << _line[other].Pitch.Tone.PitchClass)) != 0;
    }

    /// <summary>The melody's notes that sound in a span.</summary>
    public IReadOnlyList<MelodyNote> In(Fraction start, Fraction end)
    {
        var notes = new List<MelodyNote>();
        for (var i = Sorted.FirstWhere(_line.Length, n => _line[n].End > start); i < _line.Length && _line[i].Onset < end; i++)
            notes.Add(new MelodyNote(_line[i], i > 0 ? _line[i - 1].Pitch : null, i + 1 < _line.Length ? _line[i + 1].Pitch : null));
        return notes;
    }
}
