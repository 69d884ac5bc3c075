using ScoreLens.Notation;
using ScoreLens.Reading;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Marking.PartWriting;

/// <summary>
/// An exercise as the rules see it: voices, what each sounds at every moment, and the chords that the reading names, by
/// which a note is a chord note or not.
/// </summary>
internal sealed class VoicedProgression
{
    private readonly Fraction[] _boundaries;

    public VoicedProgression(Score score, IReadOnlyList<Sonority> sonorities, HarmonicReading reading, PartWritingOptions options)
    {
        Score = score;
        Options = options;
        Voices = VoiceFinder.Find(score, options.Style, options.VoiceCount);
        Moments = FindMoments(sonorities, reading);
        Chords =
        [
            .. reading.Chords.Select((chord, index) => new VoicedChord(index, chord, [.. Moments.Where(m => m.ChordIndex == index)])),
        ];
        _boundaries = FindBoundaries(score);
    }

    public Score Score { get; }

    public PartWritingOptions Options { get; }

    /// <summary>The voices, the highest first.</summary>
    public IReadOnlyList<IReadOnlyList<LineNote>> Voices { get; }

    /// <summary>Everything that sounds together, in order.</summary>
    public IReadOnlyList<Moment> Moments { get; }

    /// <summary>The chords of the reading, in order.</summary>
    public IReadOnlyList<VoicedChord> Chords { get; }

    public int Bass => Voices.Count - 1;

    public bool IsOuter(int voice) => voice == 0 || voice == Bass;

    public VoicedChord? ChordOf(Moment moment) => moment.ChordIndex < 0 ? null : Chords[moment.ChordIndex];

    public VoicedChord? ChordAt(Fraction time)
    {
        var index = IndexAt(Chords.Count, i => Chords[i].Reading.Onset, time);
        return index < 0 || Chords[index].Reading.End <= time ? null : Chords[index];
    }

    /// <summary>Whether the harmony stays the same into what sounds at a time.</summary>
    public bool IsOneHarmonyInto(Fraction time) =>
        MomentAt(time) is { Index: > 0 } moment && ChordOf(moment) is { } to && ChordOf(Moments[moment.Index - 1]) is { } from
        && (from == to || from.IsSameHarmonyAs(to));

    public Moment? MomentAt(Fraction time)
    {
        var index = IndexAt(Moments.Count, i => Moments[i].Onset, time);
        return index < 0 ? null : Moments[index];
    }

    /// <summary>Whether a note belongs to the chord of a moment; true where the reading names no chord.</summary>
    public bool IsChordNote(LineNote note, Moment moment) =>
        ChordOf(moment) is not { Numeral: not null } chord || chord.Has(note.Pitch.Tone);

    /// <summary>Whether a note belongs to the chord over which it starts.</summary>
    public bool StartsAsChordNote(LineNote note) =>
        ChordAt(note.Onset) is not { Numeral: not null } chord || chord.Has(note.Pitch.Tone);

    public LineNote? After(LineNote note) => note.Place + 1 < Voices[note.Voice].Count ? Voices[note.Voice][note.Place + 1] : null;

    public LineNote? Before(LineNote note) => note.Place > 0 ? Voices[note.Voice][note.Place - 1] : null;

    /// <summary>Whether a phrase ends after <paramref name="from"/> and no later than <paramref name="to"/>.</summary>
    public bool IsPhraseBetween(Fraction from, Fraction to)
    {
        if (Options.AcrossPhrases) return false;
        var place = Array.BinarySearch(_boundaries, from);
        place = place >= 0 ? place + 1 : ~place;
        return place < _boundaries.Length && _boundaries[place] <= to;
    }

    /// <summary>Whether a voice goes from one note to the next without a rest or a phrase's end between them.</summary>
    public bool IsConnected(LineNote from, LineNote to) => from.End == to.Onset && !IsPhraseBetween(from.Onset, to.Onset);

    /// <summary>The chord notes that a voice has in a chord, in order, those held into it among them.</summary>
    public IEnumerable<LineNote> ChordNotes(VoicedChord chord, int voice) =>
        chord.Moments.Select(m => m.Notes[voice] is { } n && IsChordNote(n, m) ? n : null).OfType<LineNote>().Distinct();

    public string Name(int voice) => Options.Style != PartWritingStyle.Counterpoint ? VoiceNames.Of(voice, Voices.Count)
        : (voice == 0) == Options.IsCantusUpper ? "cantus firmus" : "counterpoint";

    private Moment[] FindMoments(IReadOnlyList<Sonority> sonorities, HarmonicReading reading)
    {
        var next = new int[Voices.Count];
        var moments = new Moment[sonorities.Count];
        var chord = 0;
        for (var i = 0; i < sonorities.Count; i++)
        {
            var onset = sonorities[i].Onset;
            var notes = new LineNote?[Voices.Count];
            for (var v = 0; v < Voices.Count; v++)
            {
                while (next[v] < Voices[v].Count && Voices[v][next[v]].Onset <= onset) next[v]++;
                notes[v] = next[v] > 0 && Voices[v][next[v] - 1].End > onset ? Voices[v][next[v] - 1] : null;
            }

            while (chord < reading.Chords.Count && reading.Chords[chord].End <= onset) chord++;
            var has = chord < reading.Chords.Count && reading.Chords[chord].Onset <= onset;
            moments[i] = new Moment(i, onset, sonorities[i].End, sonorities[i].MetricalWeight, notes, has ? chord : -1);
        }

        return moments;
    }

    private static Fraction[] FindBoundaries(Score score) =>
    [
        .. score.Notes.Where(n => n.IsHarmonic && (n.Marks & (NoteMarks.Fermata | NoteMarks.BreathAfter)) != 0).Select(n => n.End)
            .Concat(score.Measures.Where(m => m.EndsWithBarline).Select(m => m.End)).Distinct().Order(),
    ];

    private static int IndexAt(int count, Func<int, Fraction> onset, Fraction time)
    {
        int low = -1, high = count - 1;
        while (low < high)
        {
            var middle = (low + high + 1) / 2;
            if (onset(middle) <= time) low = middle;
            else high = middle - 1;
        }

        return low;
    }
}

/// <summary>What the voices sound from one onset to the next.</summary>
/// <param name="Index">Place in the progression, from 0.</param>
/// <param name="Onset">Quarter notes from the start of the score.</param>
/// <param name="End">Where the next moment begins.</param>
/// <param name="Weight">Metrical weight, 0..1.</param>
/// <param name="Notes">A note a voice, the highest voice first; null where it rests.</param>
/// <param name="ChordIndex">The chord of the reading, or -1.</param>
internal sealed record Moment(int Index, Fraction Onset, Fraction End, double Weight, IReadOnlyList<LineNote?> Notes, int ChordIndex);

/// <summary>A chord of the reading with the moments that it covers.</summary>
internal sealed class VoicedChord
{
    private readonly bool[] _has = new bool[12];

    public VoicedChord(int index, ChordReading reading, IReadOnlyList<Moment> moments)
    {
        (Index, Reading, Moments) = (index, reading, moments);
        Numeral = reading.Numeral;
        Tones = Numeral?.Tones(reading.Key) ?? [];
        Context = Numeral?.Target?.In(reading.Key) ?? reading.Key;
        foreach (var tone in Tones) _has[tone.PitchClass] = true;
        if (Numeral is { Extension: not 0 } extended)
        {
            // A ninth, an eleventh or a thirteenth of the chord's own key.
            foreach (var steps in (ReadOnlySpan<int>)[9, 11, 13])
                if (extended.Extension == steps) _has[(Tones[0] + Above(Context, Tones[0], steps)).PitchClass] = true;
        }
    }

    public int Index { get; }

    public ChordReading Reading { get; }

    public IReadOnlyList<Moment> Moments { get; }

    public Numeral? Numeral { get; }

    /// <summary>The chord's tones from the root up; an augmented sixth's from its flat sixth.</summary>
    public IReadOnlyList<Tone> Tones { get; }

    /// <summary>The key in which the chord acts: the target's where it is applied.</summary>
    public Key Context { get; }

    /// <summary>Whether a tone sounds like one of the chord's.</summary>
    public bool Has(Tone tone) => _has[tone.PitchClass];

    public bool IsTriad => Numeral is { } n && !n.Quality.IsSeventh() && !n.Quality.IsAugmentedSixth();

    /// <summary>V, viio or an augmented mediant, with or without a seventh, of the context: chords whose leading tone leads.</summary>
    public bool IsDominant => Numeral is { Kind: NumeralKind.Plain, Alteration: 0 } n && n switch
    {
        { Degree: 5 } => n.Quality.HasMajorThird() && n.Quality is not (ChordQuality.MajorSeventh or ChordQuality.AugmentedMajorSeventh),
        { Degree: 7 } => n.Quality is ChordQuality.Diminished or ChordQuality.DiminishedSeventh or ChordQuality.HalfDiminishedSeventh,
        { Degree: 3 } => n.Quality is ChordQuality.Augmented or ChordQuality.AugmentedMajorSeventh,
        _ => false,
    };

    /// <summary>The leading tone of the context.</summary>
    public Tone LeadingTone => Context.Tonic + 5;

    /// <summary>The seventh above the root, or null where the chord has none.</summary>
    public Tone? Seventh => Numeral is { } n && n.Quality.IsSeventh() ? Tones[3] : null;

    /// <summary>Whether two chords have the same tones, or one adds a seventh to the other: no change of harmony.</summary>
    public bool IsSameHarmonyAs(VoicedChord other) =>
        Numeral is not null && other.Numeral is not null
        && (Tones.Count <= other.Tones.Count ? Tones.All(other.Has) : other.Tones.All(Has));

    private static int Above(Key key, Tone root, int number)
    {
        var scale = key.ScaleFifths;
        var rootStep = root.Step;
        for (var degree = 0; degree < 7; degree++)
        {
            var tone = key.Tonic + scale[degree];
            if (((tone.Step - rootStep + 7) % 7) + 8 == number) return tone - root;
        }

        return 0;
    }
}

/// <summary>What musicians call the voices of an exercise.</summary>
internal static class VoiceNames
{
    private static readonly string[] Four = ["soprano", "alto", "tenor", "bass"];

    public static string Of(int voice, int count) => count switch
    {
        4 => Four[voice],
        _ when voice == count - 1 && count > 1 => "bass",
        _ when voice == 0 => "soprano",
        3 => "middle voice",
        _ => $"voice {voice + 1}",
    };
}
