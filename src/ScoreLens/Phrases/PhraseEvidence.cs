using ScoreLens.Grouping;
using ScoreLens.Notation;
using ScoreLens.Reading;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Phrases;

/// <summary>A place at which a phrase may begin.</summary>
/// <param name="Onset">Where its first note begins.</param>
/// <param name="Downbeat">Its first downbeat: the onset itself, or where the measure after a pickup begins.</param>
/// <param name="Grouping">What in the notes and marks speaks for it and against it, by <see cref="GroupingCue"/>.</param>
/// <param name="Cues">What else does, by <see cref="PhraseCue"/>.</param>
internal sealed record PhraseStart(Fraction Onset, Fraction Downbeat, double[] Grouping, double[] Cues);

/// <summary>Gathers what speaks for and against a phrase at every place of a score where one may begin.</summary>
internal sealed class PhraseEvidence(
    Score score, IReadOnlyList<Sonority> sonorities, GroupingEvidence grouping, HarmonicReading reading, IReadOnlyList<Arrival> arrivals)
{
    private readonly IReadOnlyList<ChordReading> _chords = reading.Chords;

    /// <summary>Every place at which something is struck, after the first, in order.</summary>
    public IEnumerable<PhraseStart> Starts()
    {
        foreach (var place in grouping.Places)
        {
            var (onset, downbeat) = (sonorities[place].Onset, grouping.Downbeat(place));
            yield return new PhraseStart(onset, downbeat, grouping.At(place).ToArray(), At(sonorities[place], downbeat));
        }
    }

    private double[] At(Sonority sonority, Fraction downbeat)
    {
        var span = score.Measures[sonority.Measure].Time.Length;
        var cues = new double[Enum.GetValues<PhraseCue>().Length];
        void Set(PhraseCue cue, double value) => cues[(int)cue] = value;

        Set(PhraseCue.Pickup, ((downbeat - sonority.Onset) / span).ToDouble());
        Set(PhraseCue.OffBeat, sonority.MetricalWeight < 0.125 ? 1 : 0);
        Harmony(sonority.Onset, downbeat, span, Set);
        return cues;
    }

    private void Harmony(Fraction onset, Fraction downbeat, Fraction span, Action<PhraseCue, double> set)
    {
        for (var i = LastArrivalFrom(onset); i >= 0 && onset - arrivals[i].Onset <= span; i--)
        {
            var arrival = arrivals[i];
            var away = ((onset - arrival.Onset) / span).ToDouble();
            var still = (onset <= arrival.End ? 1 : 0.5) * (1 - (0.3 * away));
            switch (arrival.Kind)
            {
                case Cadence.PerfectAuthentic or Cadence.ImperfectAuthentic when arrival.Onset == onset:
                    set(PhraseCue.AtAuthentic,
                    arrival.Strength); break;
                case Cadence.PerfectAuthentic or Cadence.ImperfectAuthentic: set(PhraseCue.AfterAuthentic, arrival.Strength * still); break;
                case Cadence.Plagal when arrival.Onset < onset
                    && arrival.Strength > 0.5:
                    set(PhraseCue.AfterAuthentic, arrival.Strength * still); break;
                case Cadence.Half when arrival.Onset < onset: set(PhraseCue.AfterHalf, arrival.Strength * still); break;
            }

            if (arrival.Onset < onset) break;
        }

        var at = ChordAt(downbeat);
        if (at < 0) return;
        var chord = _chords[at];
        var before = at > 0 ? _chords[at - 1] : null;
        if (chord.Numeral is { Degree: 1, Inversion: 0, IsApplied: false }) set(PhraseCue.StartsOnTonic, 1);
        if (chord.Onset < onset && chord.End > downbeat) set(PhraseCue.NoChange, 1);
        var beforeOnset = ChordAt(onset - new Fraction(1, 64));
        if (before is not null && beforeOnset >= 0 && _chords[beforeOnset].Key != chord.Key) set(PhraseCue.NewKey, 1);
    }

    private int LastArrivalFrom(Fraction onset)
    {
        return Sorted.FirstWhere(arrivals.Count, i => arrivals[i].Onset > onset) - 1;
    }

    private int ChordAt(Fraction onset)
    {
        return Sorted.FirstWhere(_chords.Count, i => _chords[i].Onset > onset) - 1;
    }
}
