using ScoreLens.Marking.Facts;
using ScoreLens.Marking.Wording;
using ScoreLens.Notation;
using ScoreLens.Reading;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Marking.Labels;

/// <summary>
/// Marks the labels of a student, chord by chord, against an expected reading: the model answer's, or the program's own where there
/// is none. A model answer is demanded label by label; the program's own reading leaves room where it may be finer or less
/// sure than a student.
/// </summary>
internal sealed class LabelCheck
{
    private const int PivotReach = 2;

    // Below the first the program's reading is a guess; from the second on a single beat needs a label; below the third another reading
    // that the notes bear counts too.
    private const double SureEnough = 0.5, Plain = 0.75, Certain = 0.85;

    private readonly Score _score;
    private readonly LabelMarking _options;
    private readonly bool _isModel;
    private readonly LabelRemarks _remarks;
    private readonly LabelEvidence _evidence;
    private readonly List<ChordReading> _expected;
    private readonly IReadOnlyList<StudentLabel> _labels;
    private readonly bool _writesKeys;
    private readonly int[] _labelOf;

    private LabelCheck(
        Score score, IReadOnlyList<Sonority> sonorities, StudentLabels labels, HarmonicReading expected, bool isModel, LabelMarking options)
    {
        (_score, _options, _isModel) = (score, options, isModel);
        _evidence = new LabelEvidence(sonorities);
        _expected = Merged(expected.Chords);
        _remarks = new LabelRemarks(score, sonorities, options.HidesAnswers) { Ends = _expected.ToDictionary(c => c.Onset, c => c.End) };
        _labels = labels.Labels;
        _writesKeys = labels.WritesKeys;
        _labelOf = Match();
    }

    /// <summary>Marks the labels.</summary>
    /// <param name="score">The student's score.</param>
    /// <param name="sonorities">Its verticals.</param>
    /// <param name="labels">The student's labels.</param>
    /// <param name="expected">What is expected.</param>
    /// <param name="isModel">Whether that is a teacher's model answer rather than a reading of the student's notes.</param>
    /// <param name="options">What each part is worth and how much room there is.</param>
    public static LabelMarks Run(
        Score score, IReadOnlyList<Sonority> sonorities, StudentLabels labels, HarmonicReading expected, bool isModel,
            LabelMarking options) =>
        new LabelCheck(score, sonorities, labels, expected, isModel, options).Run();

    private LabelMarks Run()
    {
        var marks = Enumerable.Range(0, _expected.Count).Select(MarkOf).OfType<LabelMark>().ToList();
        var demanded = marks.Count;
        marks.AddRange(Extras());
        marks.AddRange(MissingKey(marks));
        return new LabelMarks(LabelReckoning.Of([.. marks.OrderBy(m => m.Onset)], _options), demanded, _labels.Count);
    }

    // Where no key is written at all, the first label loses its key, once.
    private IEnumerable<LabelMark> MissingKey(List<LabelMark> marks)
    {
        if (_writesKeys || _options.KeyMayBeMissing || !_labels.Any(l => l.Written is not null)) yield break;
        if (marks.Find(m => m.Key is not null && m.Written.Length > 0) is not { } first
            || first.Remark?.Kind == RemarkKind.WrongKey) yield break;
        var chord = _expected.Find(c => c.Onset == first.Onset)!;
        yield return Mark(chord, first.Written, 1 - _options.WorthOf(LabelParts.Key), _remarks.KeyMissing(first.Onset, Meaning(chord)));
    }

    private LabelMark? MarkOf(int i)
    {
        var chord = _expected[i];
        var expected = Meaning(chord);
        if (_labelOf[i] < 0) return MarkUnlabelled(i, chord, expected);
        var label = _labels[_labelOf[i]];
        if (!label.IsReadable) return Mark(chord, label.Text, 0, _remarks.Unreadable(label, chord.Onset, expected));
        var meanings = label.Then.Count > 0 && !IsCadential(expected) ? [.. label.Meanings, .. label.Then] : label.Meanings;
        var (meaning, best) = Best(meanings, expected, label.Notation);
        if (best.Right == LabelParts.All)
        {
            return Mark(chord, label.Text, 1, best.Reason == Equivalence.None
                ? null : _remarks.AcceptedEquivalent(label, chord.Onset, meaning, expected, best.Reason));
        }

        if (Accepted(i, label, expected, meaning, best) is { } notice) return Mark(chord, label.Text, 1, notice);
        return Mark(chord, label.Text, Worth(best.Right), _remarks.Wrong(label, meaning, chord.Onset, expected, best.Right));
    }

    /// <summary>The remark with which an answer that was not expected is accepted, or null.</summary>
    private Remark? Accepted(int i, StudentLabel label, LabelMeaning expected, LabelMeaning meaning, LabelComparison best)
    {
        var chord = _expected[i];
        if (best.Right == (LabelParts.All ^ LabelParts.Key) && IsPivot(i, meaning, expected))
            return _remarks.AcceptedPivot(label, chord.Onset, meaning, expected);
        if (!_isModel && best.Right == (LabelParts.All ^ LabelParts.Key) && IsTonicisation(meaning, expected))
            return _remarks.AcceptedEquivalent(label, chord.Onset, meaning, expected, Equivalence.SameChordInOtherKey);
        foreach (var other in chord.RunnersUp.Where(r => r.Probability >= _options.RunnerUp * chord.Confidence && r.Probability > 0))
        {
            var (_, comparison) = Best(label.Meanings, new LabelMeaning(other.Key, other.Numeral), label.Notation);
            if (comparison.Right == LabelParts.All)
                return _remarks.AcceptedRunnerUp(label, chord.Onset, expected, other.Probability, chord.Confidence);
        }

        // The six-four and its dominant, read apart by the student and as one chord by the expected reading.
        if (label.Meanings.Any(m => IsCadential(m) && m.Key == expected.Key) && expected.Numeral is { Degree: 5, Inversion: 0 }
            && _labels.Any(l => l.Onset > label.Onset && l.Onset < chord.End && Best(l.Meanings, expected, l.Notation)
                .Comparison.Right == LabelParts.All))
            return _remarks.AcceptedEquivalent(label, chord.Onset, meaning, expected, Equivalence.SixFourAndDominant);
        // Of figures that were given a reading is certain: they say what the chord is.
        if (_isModel) return null;
        if (chord.Confidence < 1 && NotesBear(i, label, meaning, expected, best.Right) is { } borne)
            return _remarks.AcceptedEquivalent(label, chord.Onset, meaning, expected, borne);
        return label.Meanings.Any(m => chord.Confidence < SureEnough ? _evidence.Fits(m, chord) : _evidence.IsStruck(m, label.Onset))
            ? _remarks.AcceptedFitting(label, chord.Onset, expected) : null;
    }

    private LabelMark? MarkUnlabelled(int i, ChordReading chord, LabelMeaning expected)
    {
        var inForce = InForce(chord.Onset);
        if (i > 0 && _labelOf[i - 1] >= 0 && _labels[_labelOf[i - 1]] is { Then.Count: > 0 } before)
        {
            var (meaning, best) = Best(before.Then, expected);
            if (best.Right == LabelParts.All) return Mark(chord, before.Text, 1, null);
            if (IsCadential(Meaning(_expected[i - 1])))
                return Mark(chord, before.Text, Worth(best.Right), _remarks.Wrong(before, meaning, chord.Onset, expected, best.Right));
        }

        if (inForce is { IsReadable: true })
        {
            var held = Best(inForce.Meanings, expected, inForce.Notation).Comparison.Right;
            if (held == LabelParts.All) return Mark(chord, inForce.Text, 1, null);
            const LabelParts allButInversion = LabelParts.All ^ LabelParts.Inversion;
            if (!_isModel && (held & allButInversion) == allButInversion) return null;
        }

        var beat = _score.MeasureAt(chord.Onset).Time.PulseLength;
        // A chord of a single weak beat may be taken as passing, unless it is plain.
        var needed = chord.Duration > beat || chord.Onset == _score.MeasureAt(chord.Onset).Start ? SureEnough : Plain;
        if (!_isModel && (chord.Duration < beat || chord.Confidence < needed)) return null;
        return Mark(chord, "", 0, _remarks.Missing(chord.Onset, expected));
    }

    /// <summary>Labels where the expected reading has no new chord.</summary>
    private IEnumerable<LabelMark> Extras()
    {
        var used = _labelOf.Where(l => l >= 0).ToHashSet();
        for (var l = 0; l < _labels.Count; l++)
        {
            if (used.Contains(l)) continue;
            var label = _labels[l];
            var place = PlaceOf(label.Onset);
            var chord = _expected.FindLast(c => c.Onset <= label.Onset && label.Onset < c.End);
            if (!label.IsReadable)
            {
                yield return new LabelMark(label.Onset, place, "", label.Text, 0, _remarks.Unreadable(label, label.Onset, null));
                continue;
            }

            if (chord is not null && Best([.. label.Meanings, .. label.Then], Meaning(chord), label.Notation)
                .Comparison.Right == LabelParts.All) continue;
            if (chord is not null && !_isModel && AcceptedExtra(label, chord) is { } accepted)
            {
                yield return new LabelMark(label.Onset, place, Meaning(chord).Display(), label.Text, 0, accepted);
                continue;
            }

            var holding = chord is null ? null : Meaning(chord);
            yield return new LabelMark(label.Onset, place, holding?.Display() ?? "", label.Text, 1, _remarks.Extra(label, holding));
        }
    }

    // A label inside a chord that divides it as the notes do: another chord for a while, or another inversion of the same.
    private Remark? AcceptedExtra(StudentLabel label, ChordReading chord)
    {
        var expected = Meaning(chord);
        if (_evidence.FitsAt(label)) return _remarks.AcceptedFitting(label, label.Onset, expected);
        foreach (var meaning in label.Meanings)
        {
            if (IsSameRoot(meaning, expected) && _evidence.IsBassMoving(meaning, expected, label.Onset, chord))
                return _remarks.AcceptedEquivalent(label, label.Onset, meaning, expected, Equivalence.MovingBass);
            if (chord.Confidence < Certain
                && _evidence.AccountsAsWell(meaning, expected, label.Onset, Fraction.Min(LabelledUntil(label), chord.End)))
                return _remarks.AcceptedEquivalent(label, label.Onset, meaning, expected, Equivalence.AccountsAsWell);
        }

        return null;
    }

    private static bool IsSameRoot(LabelMeaning a, LabelMeaning b) => a.Key == b.Key && a.Numeral.Root(a.Key) == b.Numeral.Root(b.Key);

    // Each chord takes the label at its onset; a chord without one, the nearest free label within the tolerance.
    private int[] Match()
    {
        var labelOf = new int[_expected.Count];
        Array.Fill(labelOf, -1);
        var free = Enumerable.Range(0, _labels.Count).ToHashSet();
        for (var i = 0; i < _expected.Count; i++)
        {
            var at = free.FirstOrDefault(l => _labels[l].Onset == _expected[i].Onset, -1);
            if (at < 0) continue;
            labelOf[i] = at;
            free.Remove(at);
        }

        for (var i = 0; i < _expected.Count; i++)
        {
            if (labelOf[i] >= 0) continue;
            var onset = _expected[i].Onset;
            var near = free.Where(l => Distance(_labels[l].Onset, onset) <= _options.Tolerance && !IsPassed(l, i)).ToList();
            if (near.Count == 0) continue;
            labelOf[i] = near.MinBy(l => Distance(_labels[l].Onset, onset).ToDouble());
            free.Remove(labelOf[i]);
        }

        return labelOf;

        // Labels keep their order: one that stands beyond a neighbour's is not this chord's.
        bool IsPassed(int label, int chord) =>
            Enumerable.Range(0, chord).Any(j => labelOf[j] > label)
            || Enumerable.Range(chord + 1, _expected.Count - chord - 1).Any(j => labelOf[j] >= 0 && labelOf[j] < label);
    }

    private static Fraction Distance(Fraction a, Fraction b) => a > b ? a - b : b - a;

    private StudentLabel? InForce(Fraction onset) => _labels.LastOrDefault(l => l.Onset <= onset);

    // One chord, applied to a degree in one label and read in that degree's key in the other: whether a passage modulates or touches
    // another key is a matter of judgement.
    private static bool IsTonicisation(LabelMeaning written, LabelMeaning expected) =>
        LabelComparison.IsSameChord(written, expected)
        && (written.Numeral.Target?.In(written.Key) == expected.Key || expected.Numeral.Target?.In(expected.Key) == written.Key);

    private bool IsPivot(int i, LabelMeaning written, LabelMeaning expected)
    {
        // The same chord, read in another key; the same numeral in another key is another chord.
        if (!LabelComparison.IsSameChord(written, expected)) return false;
        if (!Diatonic.Contains(written.Key, written.Numeral) || !Diatonic.Contains(expected.Key, expected.Numeral)) return false;
        for (var j = Math.Max(0, i - PivotReach); j <= Math.Min(_expected.Count - 1, i + PivotReach); j++)
            if (_expected[j].Key == written.Key) return true;
        return false;
    }

    // What the notes bear as well as the expected label, where the program is not sure of its own.
    private Equivalence? NotesBear(int i, StudentLabel label, LabelMeaning meaning, LabelMeaning expected, LabelParts right)
    {
        var chord = _expected[i];
        var until = LabelledUntil(label);
        if (right == (LabelParts.All ^ LabelParts.Quality)
            && _evidence.IsSeventhInPart(meaning, expected, chord.Onset, Fraction.Max(chord.End, Fraction.Min(until, SameRootUntil(i)))))
            return Equivalence.SeventhInPart;
        if (right == (LabelParts.All ^ LabelParts.Inversion) && _evidence.IsBassMoving(meaning, expected, label.Onset, chord))
            return Equivalence.MovingBass;
        if (chord.Confidence >= Certain) return null;
        if (IsDelay(i, label, meaning, until)) return Equivalence.Delayed;
        return _evidence.AccountsAsWell(meaning, expected, Fraction.Max(label.Onset, chord.Onset), Fraction.Min(until, chord.End))
            ? Equivalence.AccountsAsWell : null;
    }

    // A chord of a beat at most that leads by step into the one that the label names, which has no label of its own.
    private bool IsDelay(int i, StudentLabel label, LabelMeaning meaning, Fraction until)
    {
        var chord = _expected[i];
        return i + 1 < _expected.Count && _expected[i + 1] is var next && next.Onset == chord.End && until > next.Onset
            && chord.Duration <= _score.MeasureAt(chord.Onset).Time.PulseLength
            && LabelComparison.Of(meaning, Meaning(next), label.Notation).Right == LabelParts.All
            && _evidence.IsDelayed(meaning, chord);
    }

    private Fraction LabelledUntil(StudentLabel label) =>
        _labels.FirstOrDefault(l => l.Onset > label.Onset)?.Onset ?? _expected[^1].End;

    // Until when the chords after a chord stand on its root.
    private Fraction SameRootUntil(int i)
    {
        var last = i;
        while (last + 1 < _expected.Count && _expected[last + 1].Onset == _expected[last].End
            && _expected[last + 1].Numeral!.Root(_expected[last + 1].Key) == _expected[i].Numeral!.Root(_expected[i].Key)) last++;
        return _expected[last].End;
    }

    private LabelMark Mark(ChordReading chord, string written, double share, Remark? remark) =>
        new(chord.Onset, PlaceOf(chord.Onset), Meaning(chord).Display(), written, 1 - share, remark) { Key = chord.Key };

    private string PlaceOf(Fraction onset) => Places.At(_score, onset);

    private double Worth(LabelParts right) => _options.WorthOf(right);

    private (LabelMeaning Meaning, LabelComparison Comparison) Best(
        IReadOnlyList<LabelMeaning> meanings, LabelMeaning expected, LabelNotations notation = LabelNotations.Numerals) =>
        meanings.Select(m => (m, LabelComparison.Of(m, expected, notation)))
            .DefaultIfEmpty((expected, new LabelComparison(LabelParts.None, Equivalence.None)))
            .MaxBy(p => Worth(p.Item2.Right) + (p.Item2.Right == LabelParts.All ? 1 : 0)
                + (p.Item2.Reason == Equivalence.None ? 0.001 : 0));

    private static bool IsCadential(LabelMeaning meaning) =>
        meaning.Numeral.Kind == NumeralKind.CadentialSixFour || meaning.Numeral is { Degree: 1, Alteration: 0, Inversion: 2 };

    private static LabelMeaning Meaning(ChordReading chord) => new(chord.Key, chord.Numeral!);

    private static List<ChordReading> Merged(IReadOnlyList<ChordReading> chords)
    {
        var merged = new List<ChordReading>();
        foreach (var chord in chords)
        {
            if (chord.Numeral is null) continue;
            if (merged.Count > 0 && merged[^1] is var last && last.End == chord.Onset && last.Key == chord.Key
                && last.Numeral == chord.Numeral)
                merged[^1] = last with { Duration = chord.End - last.Onset };
            else merged.Add(chord);
        }

        return merged;
    }
}
