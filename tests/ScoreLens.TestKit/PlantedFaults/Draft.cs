using ScoreLens.Notation;
using ScoreLens.Reading;
using ScoreLens.Theory;

namespace ScoreLens.TestKit.PlantedFaults;

/// <summary>A four-part chorale that a fault is being planted into.</summary>
internal sealed class Draft
{
    private readonly Score _score;
    private readonly Key _home;

    public Draft(Score score, HarmonicReading reading)
    {
        (_score, _home) = (score, reading.HomeKey);
        Notes = [.. score.Notes];
        Chords = [.. reading.Chords];
        Voices =
        [
            .. Notes.Select((note, index) => (note, index)).Where(p => p.note.IsHarmonic)
                .GroupBy(p => (p.note.Part, p.note.Staff, p.note.Voice)).OrderBy(g => g.Key.Part).ThenBy(g => g.Key.Staff)
                .ThenBy(g => g.Key.Voice, StringComparer.Ordinal)
                .Select(g => g.OrderBy(p => p.note.Onset).Select(p => p.index).ToArray()),
        ];
        PhraseEnds = [.. Notes.Where(n => (n.Marks & (NoteMarks.Fermata | NoteMarks.BreathAfter)) != 0).Select(n => n.End)
            .Concat(score.Measures.Where(m => m.EndsWithBarline).Select(m => m.End))];
    }

    public List<Note> Notes { get; }

    public List<ChordReading> Chords { get; }

    /// <summary>Indices of the notes of each voice, the highest voice first.</summary>
    public int[][] Voices { get; }

    public HashSet<Fraction> PhraseEnds { get; }

    public Score Score => _score with { Notes = [.. Notes.OrderBy(n => n.Onset).ThenBy(n => n.Part).ThenBy(n => n.Staff)] };

    public HarmonicReading Reading => new(_home, [.. Chords]);

    public Measure MeasureAt(Fraction time) => _score.MeasureAt(time);

    public ChordReading? ChordAt(Fraction time) => Chords.FirstOrDefault(c => c.Onset <= time
        && time < c.End) is { Numeral: not null } chord ? chord : null;

    /// <summary>Index of the note that a voice sounds at a time, or -1.</summary>
    public int At(int voice, Fraction time)
    {
        foreach (var index in Voices[voice])
            if (Notes[index].Onset <= time && time < Notes[index].End) return index;
        return -1;
    }

    public void Set(int note, Pitch pitch) => Notes[note] = Notes[note] with { Pitch = pitch };

    public static bool Has(ChordReading chord, Tone tone) => chord.Numeral!.Tones(chord.Key).Any(tone.IsEnharmonicWith);

    public static bool IsSameHarmony(ChordReading a, ChordReading b)
    {
        var (x, y) = (a.Numeral!.Tones(a.Key), b.Numeral!.Tones(b.Key));
        return x.Count <= y.Count ? x.All(t => Has(b, t)) : y.All(t => Has(a, t));
    }

    /// <summary>
    /// A place where two chords meet and the given voices all go on to a new note, without tie, rest or phrase end; null where
    /// the random choice hits none.
    /// </summary>
    public Place? Pick(Random random, params int[] voices)
    {
        var to = Voices[voices[0]][random.Next(1, Voices[voices[0]].Length)];
        var time = Notes[to].Onset;
        if (PhraseEnds.Contains(time) || ChordAt(time) is not { } second) return null;
        var from = new int[voices.Length];
        var next = new int[voices.Length];
        for (var i = 0; i < voices.Length; i++)
        {
            next[i] = At(voices[i], time);
            var place = next[i] < 0 ? -1 : Array.IndexOf(Voices[voices[i]], next[i]);
            if (place < 1 || Notes[next[i]].Onset != time) return null;
            from[i] = Voices[voices[i]][place - 1];
            if (Notes[from[i]].End != time || IsTied(from[i]) || IsTied(next[i])) return null;
            if (PhraseEnds.Any(e => e > Notes[from[i]].Onset && e <= time)) return null;
        }

        return Chords.LastOrDefault(c => c.Onset < time && c.End >= time) is { Numeral: not null } first
            ? new Place(time, first, second, from, next)
            : null;
    }

    public bool IsTied(int note) => Notes[note].IsTiedFrom || Notes[note].IsTiedTo;
}

/// <summary>A place that <see cref="Draft.Pick"/> found: the notes before and at its time, in the order of the voices asked for.</summary>
internal sealed record Place(Fraction Time, ChordReading First, ChordReading Second, int[] From, int[] To);

/// <summary>A fault that was planted: what has to be found, where and in which voices.</summary>
internal sealed record PlantedFault(string Rule, Fraction Onset, int[] Voices, Fraction Start, Fraction End);
