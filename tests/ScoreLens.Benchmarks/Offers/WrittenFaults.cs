using ScoreLens.Notation;
using ScoreLens.Reharmonising;
using ScoreLens.Reharmonising.Voicing;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Benchmarks.Offers;

/// <summary>
/// What is wrong with the notes of an alternative that was not wrong before: found from the two scores alone, by code that knows nothing of
/// how the notes were chosen.
/// </summary>
internal sealed class WrittenFaults
{
    private const int MeasuresAround = 2;

    private readonly Alternative _alternative;
    private readonly Score _score;
    private readonly IReadOnlyList<SoundingNote> _before;
    private readonly IReadOnlyList<SoundingNote> _after;
    private readonly Fraction _start;
    private readonly Fraction _end;
    private readonly List<List<List<int>>> _lines;
    private readonly List<string> _found = [];

    private WrittenFaults(Score score, Score written, Alternative alternative)
    {
        (_score, _alternative, _start, _end) = (score, alternative, alternative.Rewriting.Start, alternative.Rewriting.End);
        var from = score.Measures[Math.Max(0, score.MeasureAt(_start).Index - MeasuresAround)].Start;
        var to = score.Measures[Math.Min(score.Measures.Count - 1, score.MeasureAt(_end).Index + MeasuresAround)].End;
        _before = SonorityFinder.JoinTies(score.Notes.Where(n => n.Onset >= from && n.Onset < to).Select(Cut));
        _after = SonorityFinder.JoinTies(written.Notes.Where(n => n.Onset >= from && n.Onset < to).Select(Cut));
        if (_before.Count != _after.Count) throw new InvalidOperationException("A tie inside the chord was made or broken.");
        _lines = [.. _before.Index().GroupBy(n => (n.Item.Part, n.Item.Staff, n.Item.Voice)).Select(l => l.GroupBy(n => n.Item.Onset)
            .OrderBy(g => g.Key).Select(g => g.OrderBy(n => n.Item.Pitch).Select(n => n.Index).ToList()).ToList())];
    }

    /// <summary>The kinds that are counted, in the order in which they are printed.</summary>
    public static IReadOnlyList<string> Kinds { get; } =
        [
            "parallels", "covered melody", "doubled leading tone", "doubled seventh", "out of range", "crossing", "bass leap",
            "unresolved seventh", "unresolved leading tone",
        ];

    /// <summary>The kinds that none of what is written should have; the others are told beside.</summary>
    public static IReadOnlyList<string> Grave { get; } = [.. Kinds.Take(5)];

    /// <summary>The kinds of fault, each once for every place of it.</summary>
    public static IReadOnlyList<string> Of(Score score, Score written, Alternative alternative)
    {
        var faults = new WrittenFaults(score, written, alternative);
        faults.Parallels(faults._start);
        faults.Parallels(faults._end);
        faults.Verticals();
        faults.Ranges();
        faults.BassLeaps();
        faults.Resolutions();
        return faults._found;
    }

    // Notes that are tied over a border of the chord may be struck anew there: both scores are compared with these ties cut.
    private Note Cut(Note note) => note with
    {
        Marks = note.Marks & ~(note.Onset == _start || note.Onset == _end ? NoteMarks.TieStop : NoteMarks.None)
            & ~(note.End == _start || note.End == _end ? NoteMarks.TieStart : NoteMarks.None),
    };

    private bool IsChanged(int note) => _before[note].Pitch != _after[note].Pitch;

    // Two notes of a line on either side of a place, without a rest between: of chords of one size by height, else the outer ones.
    private IEnumerable<(int From, int To)> Motions(List<List<int>> line, Fraction at)
    {
        for (var i = 1; i < line.Count; i++)
        {
            if (_before[line[i][0]].Onset != at) continue;
            var from = line[i - 1].Where(n => _before[n].End == at).ToArray();
            var to = line[i];
            if (from.Length == 0) yield break;
            if (from.Length == to.Count)
            {
                for (var n = 0; n < from.Length; n++) yield return (from[n], to[n]);
            }
            else
            {
                yield return (from[^1], to[^1]);
                if (from.Length > 1 && to.Count > 1) yield return (from[0], to[0]);
            }
        }
    }

    private void Parallels(Fraction at)
    {
        var motions = _lines.SelectMany(l => Motions(l, at)).ToArray();
        for (var i = 0; i < motions.Length; i++)
        {
            for (var j = i + 1; j < motions.Length; j++)
            {
                if (!IsParallel(_after, motions[i], motions[j]) || IsParallel(_before, motions[i], motions[j])) continue;
                int[] all = [motions[i].From, motions[i].To, motions[j].From, motions[j].To];
                if (all.Any(IsChanged)) _found.Add("parallels");
            }
        }
    }

    private static bool IsParallel(IReadOnlyList<SoundingNote> notes, (int From, int To) one, (int From, int To) other)
    {
        Pitch a = notes[one.From].Pitch, b = notes[one.To].Pitch, c = notes[other.From].Pitch, d = notes[other.To].Pitch;
        if (b.Midi == a.Midi || Math.Sign(b.Midi - a.Midi) != Math.Sign(d.Midi - c.Midi)) return false;
        var (first, second) = (Between(a, c), Between(b, d));
        return first == second && first is 0 or 1;
    }

    // 0 an octave or unison, 1 a perfect fifth, compound ones too; -1 anything else. By spelling: a diminished sixth is no fifth.
    private static int Between(Pitch a, Pitch b)
    {
        var (low, high) = a.Midi <= b.Midi ? (a, b) : (b, a);
        return (high.Tone - low.Tone) is var fifths && fifths is 0 or 1 ? fifths : -1;
    }

    private void Verticals()
    {
        var times = _before.Select(n => n.Onset).Where(t => t >= _start && t < _end).Append(_start).Distinct().ToArray();
        var sung = _score.Texts.Where(t => t.Kind == ScoreTextKind.Lyric).Select(t => t.Part).ToHashSet();
        var (leading, seventh) = Tendencies(_alternative.Key, _alternative.Numeral);
        var (covered, doubledLeading, doubledSeventh, crossed) = (false, false, false, false);
        foreach (var time in times)
        {
            var sounding = Enumerable.Range(0, _before.Count).Where(n => _before[n].Onset <= time && _before[n].End > time).ToArray();
            if (sounding.Length == 0) continue;
            var top = sounding.MaxBy(n => (_before[n].Pitch.Midi, IsChanged(n) ? 0 : 1));
            var melodies = sounding.Where(n => (n == top && !IsChanged(n)) || sung.Contains(_before[n].Part)).ToArray();
            covered |= melodies.Any(m => sounding.Any(n => IsChanged(n) && _before[n].Pitch.Midi <= _before[m].Pitch.Midi
                && _after[n].Pitch.Midi > _after[m].Pitch.Midi));
            doubledLeading |= leading is { } l && IsDoubled(sounding, l);
            doubledSeventh |= seventh is { } s && IsDoubled(sounding, s);
            crossed |= sounding.Any(a => IsChanged(a) && sounding.Any(b => _before[a].Pitch.Midi < _before[b].Pitch.Midi
                && _after[a].Pitch.Midi > _after[b].Pitch.Midi && Line(a) != Line(b)));
        }

        if (covered) _found.Add("covered melody");
        if (doubledLeading) _found.Add("doubled leading tone");
        if (doubledSeventh) _found.Add("doubled seventh");
        if (crossed) _found.Add("crossing");
    }

    // A seventh falls by step; a leading tone rises by semitone, falls by one in a chain, or by a third to the fifth of what follows; both
    // may be held.
    private void Resolutions()
    {
        var (leading, seventh) = Tendencies(_alternative.Key, _alternative.Numeral);
        foreach (var (from, to) in _lines.SelectMany(l => Motions(l, _end)).Where(m => IsChanged(m.From)))
        {
            var step = _after[to].Pitch.Midi - _after[from].Pitch.Midi;
            if (seventh?.IsEnharmonicWith(_after[from].Pitch.Tone) == true && step is not (0 or -1 or -2)) _found.Add("unresolved seventh");
            if (leading?.IsEnharmonicWith(_after[from].Pitch.Tone) == true && step is not (0 or 1 or -1 or -3 or -4))
                _found.Add("unresolved leading tone");
        }
    }

    private (int, int, string) Line(int note) => (_before[note].Part, _before[note].Staff, _before[note].Voice);

    // The leading tone of what a dominant leads to, the raised fourth degree of an augmented sixth; the seventh of a seventh chord.
    private static (Tone? Leading, Tone? Seventh) Tendencies(Key key, Numeral numeral)
    {
        var tones = numeral.Tones(key);
        if (numeral.Quality.IsAugmentedSixth()) return (key.Tonic + 6, null);
        Tone? seventh = tones.Count > 3 && numeral.Kind != NumeralKind.CommonToneDiminished ? tones[3] : null;
        Tone? leading = numeral.Kind != NumeralKind.Plain ? null
            : numeral.Degree == 5 && numeral.Quality is not (ChordQuality.Minor or ChordQuality.MinorSeventh) ? tones[1]
            : numeral.Degree == 7 && numeral.Alteration == 0
                && numeral.Quality is ChordQuality.Diminished or ChordQuality.DiminishedSeventh or ChordQuality.HalfDiminishedSeventh
                    ? tones[0] : null;
        return (leading, seventh);
    }

    // In two voices at once, one of them changed; parts that went in octaves or unisons before are one voice.
    private bool IsDoubled(int[] sounding, Tone tone)
    {
        var notes = sounding.Where(n => _after[n].Pitch.Tone.IsEnharmonicWith(tone)).ToArray();
        return notes.Any(a => IsChanged(a) && notes.Any(b => b != a && !WentTogether(a, b)));
    }

    private bool WentTogether(int a, int b)
    {
        if (!_before[a].Pitch.Tone.IsEnharmonicWith(_before[b].Pitch.Tone)) return false;
        var (lineA, lineB) = (_lines.First(l => l.Any(g => g.Contains(a))), _lines.First(l => l.Any(g => g.Contains(b))));
        // Octaves in one hand.
        if (lineA == lineB) return true;
        var neighbours = new[] { -1, 1 }.Select(step => (A: Neighbour(lineA, a, step), B: Neighbour(lineB, b, step))).ToArray();
        return neighbours.All(n => n.A is null || n.B is null
            || _before[n.A.Value].Pitch.Tone.IsEnharmonicWith(_before[n.B.Value].Pitch.Tone))
            && neighbours.Any(n => n.A is not null && n.B is not null);
    }

    private static int? Neighbour(List<List<int>> line, int note, int step)
    {
        var place = line.FindIndex(g => g.Contains(note));
        var other = place + step;
        if (other < 0 || other >= line.Count) return null;
        return line[other].Count == line[place].Count ? line[other][line[place].IndexOf(note)]
            : line[place][^1] == note ? line[other][^1] : line[other][0];
    }

    // Beyond the instrument's range and beyond what the part plays elsewhere; of an instrument that is not known, three semitones beyond.
    private void Ranges()
    {
        foreach (var part in Enumerable.Range(0, _before.Count).Where(IsChanged).GroupBy(n => _before[n].Part))
        {
            var own = _score.Notes.Where(n => n.Part == part.Key).Select(n => n.Pitch.Midi).ToArray();
            var range = InstrumentRange.Of(_score.Parts[part.Key].Name);
            var (low, high) = range is null ? (own.Min() - 3, own.Max() + 3)
                : (Math.Min(range.Lowest.Midi, own.Min()), Math.Max(range.Highest.Midi, own.Max()));
            if (part.Any(n => _after[n].Pitch.Midi < low || _after[n].Pitch.Midi > high)) _found.Add("out of range");
        }
    }

    // The lowest voice leaps by more than a fifth, octaves left aside, where it did not before.
    private void BassLeaps()
    {
        foreach (var at in (Fraction[])[_start, _end])
        {
            if (Leap(_after, at) is > 7 and not 12 && Leap(_before, at) <= 7) _found.Add("bass leap");
        }

        int Leap(IReadOnlyList<SoundingNote> notes, Fraction at)
        {
            var (left, right) = (notes.Where(n => n.Onset < at && n.End >= at).ToArray(), notes.Where(n => n.Onset <= at && n.End > at)
                .ToArray());
            return left.Length == 0 || right.Length == 0 ? 0 : Math.Abs(left.Min(n => n.Pitch.Midi) - right.Min(n => n.Pitch.Midi));
        }
    }
}
