using ScoreLens.Notation;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Marking.Alignment;

/// <summary>
/// Where a submission has what was set: measure by measure, in another key or other note values if need be. Found by content,
/// so that an added pickup or a missing measure does not make the rest another piece.
/// </summary>
internal sealed class ScoreAlignment
{
    // With so much of the notes kept as it stands nothing else is tried; another key has to keep clearly more to be believed.
    private const double Enough = 0.6, ClearlyMore = 0.15, SamePiece = 0.3, SameMovedPiece = 0.5;

    private static readonly Fraction[] Factors = [1, 2, new(1, 2), 4, new(1, 4)];

    private readonly IReadOnlyList<MeasureContent> _given;
    private readonly IReadOnlyList<MeasureContent> _written;
    private readonly IReadOnlyList<AlignedPair> _pairs;
    private readonly IReadOnlyList<AlignedPair> _repeats;

    private ScoreAlignment(IReadOnlyList<MeasureContent> given, IReadOnlyList<MeasureContent> written, Fraction factor, int semitones)
    {
        (_given, _written, Factor, Semitones) = (given, written, factor, semitones);
        (_pairs, _repeats) = MeasureAlignment.Of(given, written, factor, semitones);
        var notes = given.Sum(m => m.Notes.Count);
        Kept = notes == 0 ? 0 : (double)_pairs.Sum(p => p.Kept) / notes;
    }

    /// <summary>How much longer a note of the submission is.</summary>
    public Fraction Factor { get; }

    /// <summary>How much higher the submission sounds, in semitones.</summary>
    public int Semitones { get; }

    /// <summary>The share of the notes that were set which are there, 0..1.</summary>
    public double Kept { get; }

    /// <summary>
    /// Whether this is the piece that was set; in another key or other note values more of it has to be there to be believed.
    /// </summary>
    public bool IsSamePiece => Kept >= (IsAsWritten ? SamePiece : SameMovedPiece);

    private bool IsAsWritten => Semitones == 0 && Factor == 1;

    /// <summary>Aligns a submission with the notes that were set.</summary>
    /// <param name="score">The submission.</param>
    /// <param name="given">The score that was set.</param>
    /// <param name="notes">Those of its notes that have to be kept.</param>
    public static ScoreAlignment Of(Score score, Score given, IReadOnlyCollection<SoundingNote> notes)
    {
        var written = SonorityFinder.JoinTies(score.Notes);
        var measures = MeasureContent.Of(given.Measures.Select(m => (m.Number, m.Start, m.Length)), notes);
        var asWritten = MeasureContent.Of(score.Measures.Select(m => (m.Number, m.Start, m.Length)), written);
        var best = new ScoreAlignment(measures, asWritten, 1, 0);
        if (best.Kept >= Enough) return best;
        foreach (var factor in Factors)
        {
            var stretches = MeasureContent.Of(Stretches(score, given, factor), written);
            for (var semitones = -12; semitones <= 12; semitones++)
            {
                var other = new ScoreAlignment(measures, stretches, factor, semitones);
                if (other.Kept >= SameMovedPiece && other.Kept > best.Kept + (best.IsAsWritten ? ClearlyMore : 0)) best = other;
            }
        }

        return best;
    }

    /// <summary>How the submission differs as a whole.</summary>
    public IReadOnlyList<Difference> Differences()
    {
        var differences = new List<Difference>();
        if (Semitones != 0) differences.Add(new Transposed(Semitones));
        if (Factor != 1) differences.Add(new OtherNoteValues(Factor));
        var used = _pairs.Select(p => p.Given).ToHashSet();
        var missing = Enumerable.Range(0, _given.Count).Where(i => !used.Contains(i)).Select(i => _given[i]).ToList();
        if (missing.Count > 0)
        {
            var all = _given.Aggregate(Fraction.Zero, (sum, m) => sum + m.Length);
            var share = missing.Aggregate(Fraction.Zero, (sum, m) => sum + m.Length) / all;
            differences.Add(new MissingMeasures([.. missing.Select(m => m.Number)], share.ToDouble()));
        }

        if (_repeats.Count > 0) differences.Add(new RepeatedSection([.. _repeats.Select(p => _written[p.Written].Number)]));
        var paired = _pairs.Concat(_repeats).Select(p => p.Written).ToHashSet();
        var added = Enumerable.Range(0, _written.Count).Where(j => !paired.Contains(j)).ToList();
        var pickup = added.Where(j => j < _pairs.Select(p => p.Written).DefaultIfEmpty(0).First()).ToList();
        if (pickup.Count > 0) differences.Add(new AddedMeasures([.. pickup.Select(j => _written[j].Number)], true));
        if (added.Count > pickup.Count) differences.Add(new AddedMeasures([.. added.Except(pickup).Select(j => _written[j].Number)],
            false));
        return differences;
    }

    /// <summary>
    /// The times at which what stands at a time of the score that was set stands in the submission; none in a missing measure.
    /// </summary>
    public IEnumerable<Fraction> TimesOf(Fraction time)
    {
        var place = PlaceOf(time);
        return _pairs.Concat(_repeats).Where(p => p.Given == place)
            .Select(p => _written[p.Written].Start + ((time - _given[place].Start) * Factor) + p.Shift);
    }

    /// <summary>The stretches of time from one bar line of the score that was set to the next, inside a stretch of it.</summary>
    public IEnumerable<(Fraction Start, Fraction End)> ByMeasure(Fraction start, Fraction end)
    {
        foreach (var measure in _given)
        {
            var (from, to) = (Fraction.Max(start, measure.Start), Fraction.Min(end, measure.Start + measure.Length));
            if (from < to) yield return (from, to);
        }
    }

    private int PlaceOf(Fraction time)
    {
        var place = 0;
        while (place + 1 < _given.Count && _given[place + 1].Start <= time) place++;
        return place;
    }

    // The submission's own measures where their lengths fit the factor, else stretches as long as the measures that were set.
    private static IEnumerable<(string, Fraction, Fraction)> Stretches(Score score, Score given, Fraction factor)
    {
        var own = score.Measures.Select(m => (m.Number, m.Start, m.Length));
        if (given.Measures.Count == 0 || score.Measures.Count == 0) return own;
        var (usual, wanted) = (Usual(score), Usual(given) * factor);
        if (usual == wanted || wanted.Sign <= 0) return own;
        return Enumerable.Range(0, (int)Math.Ceiling((score.End / wanted).ToDouble()))
            .Select(i => (score.MeasureAt(wanted * i).Number, wanted * i, wanted));
    }

    private static Fraction Usual(Score score) => score.Measures.GroupBy(m => m.Length).MaxBy(g => g.Count())!.Key;
}
