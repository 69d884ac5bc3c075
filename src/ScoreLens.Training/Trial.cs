using ScoreLens.Grouping;
using ScoreLens.Keys;
using ScoreLens.Notation;
using ScoreLens.Notation.MusicXml;
using ScoreLens.Reading;
using ScoreLens.Reading.Model;
using ScoreLens.Reading.Refinement;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Training;

/// <summary>
/// Measures a model with its decoder on works that it has not learned from, in process, so that settings can be compared.
/// The figures are those of the corpus's own measure (key, numeral, calibration) within a few thousandths; the probabilities
/// are the model's own, before <see cref="StatedConfidence"/>.
/// </summary>
internal sealed class Trial(ReadingModel model, IReadOnlyList<Trial.Prepared> works)
{
    /// <summary>A work with the model's scores, which do not depend on the decoder's settings.</summary>
    /// <remarks>
    /// Times are those in which it is heard; the factor leads to them from those of the score, by which shares are weighed.
    /// </remarks>
    internal sealed record Prepared(
        CorpusWork Work, Score Score, IReadOnlyList<Sonority> Sonorities, IReadOnlyList<ReferenceLabel> Labels,
        GroupingEvidence Grouping, float[] Output, int[] Signatures, Fraction Factor);

    /// <summary>Prepares works of a corpus; another version of each score under the same labels where one is asked for.</summary>
    public static Trial Of(
        ReadingModel model, string corpus, Func<CorpusWork, bool> which, Func<CorpusWork, Score, Score>? clothe = null) => new(model,
        [.. CorpusWork.All(corpus).Where(which).AsParallel().AsOrdered().Select(work =>
        {
            var score = MusicXmlReader.Read(MusicXmlDocument.Load(work.ScorePath));
            if (clothe is not null) score = clothe(work, score);
            var factor = NoteValues.FactorOf(score);
            score = BrokenChords.Gathered(NoteValues.Times(score, factor));
            var sonorities = SonorityFinder.Find(score);
            var grouping = new GroupingEvidence(score, sonorities);
            var (rows, signatures) = SonorityFeatures.Of(score, sonorities, grouping);
            ReferenceLabel[] labels = [.. work.Labels().Select(l => l with { Onset = l.Onset * factor, Duration = l.Duration * factor })];
            return new Prepared(work, score, sonorities, labels, grouping, model.Run(rows, sonorities), signatures, factor);
        })]);

    /// <summary>Shares by duration of each repertoire for one setting of the decoder.</summary>
    public IReadOnlyDictionary<string, Shares> Run(ReadingSettings settings, KeyRule keys = KeyRule.Confirm) => works
        .AsParallel()
        .Select(w => (w.Work.Repertoire, Shares: Compare(w, Read(w, settings, keys))))
        .GroupBy(p => p.Repertoire)
        .ToDictionary(g => g.Key, g => g.Select(p => p.Shares).Aggregate((a, b) => a + b));

    /// <summary>Every stretch of time with what the confidence is stated by, whether the numeral is right, and how long it lasts.</summary>
    public IEnumerable<(double[] Evidence, bool Right, double Weight)> Judgements(ReadingSettings settings)
    {
        foreach (var work in works)
        {
            var reading = Read(work, settings, KeyRule.Confirm);
            var evidence = reading.Chords.Zip(StatedConfidence.Evidence(reading.Chords, work.Sonorities, settings))
                .ToDictionary(p => p.First, p => p.Second, (IEqualityComparer<ChordReading>)ReferenceEqualityComparer.Instance);
            foreach (var (label, chord, weight) in Stretches(work, reading))
                if (chord.Numeral is not null) yield return (evidence[chord], IsRight(label, chord), weight);
        }
    }

    private HarmonicReading Read(Prepared work, ReadingSettings settings, KeyRule keys) => CueAnalysis.Decide(
        CueAnalysis.Heard.Of(HarmonicReader.Hear(model, settings, work.Output, work.Signatures, work.Score, work.Sonorities),
            work.Score, work.Sonorities, work.Grouping), keys, settings, work.Score, work.Sonorities);

    private static Shares Compare(Prepared work, HarmonicReading reading)
    {
        var shares = new Shares();
        foreach (var (label, chord, weight) in Stretches(work, reading)) shares.Add(weight, label, chord);
        return shares;
    }

    private static bool IsRight(ReferenceLabel label, ChordReading chord) => label.Key == chord.Key
        && NumeralClass.Of(label.Numeral!, label.Key.Mode) == NumeralClass.Of(chord.Numeral!, chord.Key.Mode);

    // Each label with the chords that sound under it, and for how long.
    private static IEnumerable<(ReferenceLabel Label, ChordReading Chord, double Weight)> Stretches(Prepared work, HarmonicReading reading)
    {
        var chords = reading.Chords;
        var at = 0;
        foreach (var (i, label) in work.Labels.Index())
        {
            if (label.Numeral is null || chords.Count == 0) continue;
            var end = i + 1 < work.Labels.Count ? work.Labels[i + 1].Onset : label.Onset + label.Duration;
            while (at > 0 && (at >= chords.Count || chords[at].Onset > label.Onset)) at--;
            for (var from = label.Onset; from < end;)
            {
                while (at + 1 < chords.Count && chords[at + 1].Onset <= from) at++;
                var to = at + 1 < chords.Count && chords[at + 1].Onset > from ? Fraction.Min(end, chords[at + 1].Onset) : end;
                yield return (label, chords[at], ((to - from) / work.Factor).ToDouble());
                from = to;
            }
        }
    }

    /// <summary>Sums by duration.</summary>
    internal sealed class Shares
    {
        private readonly double[] _stated = new double[10];
        private readonly double[] _right = new double[10];
        private double _total, _key, _numeral;

        public double Key => _key / _total;

        public double Numeral => _numeral / _total;

        /// <summary>Mean distance of stated and observed probability over ten bins, in points.</summary>
        public double Calibration => 100 * _stated.Zip(_right, (s, r) => Math.Abs(s - r)).Sum() / _total;

        public static Shares operator +(Shares a, Shares b)
        {
            var sum = new Shares { _total = a._total + b._total, _key = a._key + b._key, _numeral = a._numeral + b._numeral };
            for (var i = 0; i < 10; i++) (sum._stated[i], sum._right[i]) = (a._stated[i] + b._stated[i], a._right[i] + b._right[i]);
            return sum;
        }

        public void Add(double weight, ReferenceLabel label, ChordReading chord)
        {
            _total += weight;
            if (chord.Numeral is null) return;
            var numeral = IsRight(label, chord);
            if (label.Key == chord.Key) _key += weight;
            if (numeral) _numeral += weight;
            var bin = Math.Min(9, (int)(chord.Confidence * 10));
            _stated[bin] += weight * chord.Confidence;
            if (numeral) _right[bin] += weight;
        }
    }
}
