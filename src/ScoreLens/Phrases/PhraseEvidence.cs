using ScoreLens.Notation;
using ScoreLens.Reading;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Phrases;

/// <summary>A place at which a phrase may begin.</summary>
/// <param name="Onset">Where its first note begins.</param>
/// <param name="Downbeat">Its first downbeat: the onset itself, or where the measure after a pickup begins.</param>
/// <param name="Cues">What speaks for it and against it, by <see cref="PhraseCue"/>.</param>
internal sealed record PhraseStart(Fraction Onset, Fraction Downbeat, double[] Cues);

/// <summary>Gathers what speaks for and against a phrase at every place of a score where one may begin.</summary>
internal sealed class PhraseEvidence
{
    private readonly Score _score;
    private readonly IReadOnlyList<Sonority> _sonorities;
    private readonly IReadOnlyList<ChordReading> _chords;
    private readonly IReadOnlyList<MelodicLine> _lines;
    private readonly IReadOnlyList<Arrival> _arrivals;
    private readonly Words _words;
    private readonly double[] _parallel;

    public PhraseEvidence(Score score, IReadOnlyList<Sonority> sonorities, HarmonicReading reading, IReadOnlyList<Arrival> arrivals)
    {
        (_score, _sonorities, _chords, _arrivals) = (score, sonorities, reading.Chords, arrivals);
        _words = Words.Of(score);
        _lines = MelodicLine.Of(score, _words.SungStaves);
        _parallel = Parallels.Find(score.Measures, m => Leading(m.Start, m.End));
    }

    /// <summary>Every place at which something is struck, after the first, in order.</summary>
    public IEnumerable<PhraseStart> Starts()
    {
        var begun = false;
        for (var i = 0; i < _sonorities.Count; i++)
        {
            var sonority = _sonorities[i];
            if (!sonority.Notes.Any(sonority.IsStruck)) continue;
            if (begun) yield return At(i);
            begun = true;
        }
    }

    private PhraseStart At(int place)
    {
        var sonority = _sonorities[place];
        var onset = sonority.Onset;
        var measure = _score.Measures[sonority.Measure];
        var span = measure.Time.Length;
        var pulse = measure.Time.PulseLength;
        var next = sonority.Measure + 1 < _score.Measures.Count ? _score.Measures[sonority.Measure + 1] : null;
        var isDownbeat = onset == measure.Start && measure.PickupOffset.Sign == 0;
        var downbeat = isDownbeat ? measure.Start : measure.End;
        var first = isDownbeat ? measure : next ?? measure;
        var cues = new double[Enum.GetValues<PhraseCue>().Length];
        void Set(PhraseCue cue, double value) => cues[(int)cue] = value;

        Set(PhraseCue.Pickup, ((downbeat - onset) / span).ToDouble());
        Set(PhraseCue.OffBeat, sonority.MetricalWeight < 0.125 ? 1 : 0);
        if (place > 0 && _sonorities[place - 1].Notes.Count == 0)
            Set(PhraseCue.Silence, Math.Min(1, (_sonorities[place - 1].Duration / pulse).ToDouble()));

        // Bar lines close the measure before, or the one before the pickup's own part-measure.
        if ((onset == measure.Start && sonority.Measure > 0 && _score.Measures[sonority.Measure - 1].EndsWithBarline)) Set(PhraseCue.Barline, 1);

        Lines(onset, downbeat, span, pulse, Set);
        Harmony(onset, downbeat, span, Set);
        Set(PhraseCue.Parallel, _parallel[first.Index]);
        Set(PhraseCue.Texture, Texture(onset, Fraction.Min(span, 4)));
        return new PhraseStart(onset, downbeat, cues);
    }

    private void Lines(Fraction onset, Fraction downbeat, Fraction span, Fraction pulse, Action<PhraseCue, double> set)
    {
        var lead = Leading(onset - span, onset + span);
        double others = 0, gaps = 0, together = 0, fermata = 0, breath = 0;
        foreach (var line in _lines)
        {
            var i = line.IndexAt(onset);
            var starts = i >= 0;
            if (!starts) i = ~i;
            if (i == 0) continue;
            var before = line.Events[i - 1];
            if (onset - before.End < span)
            {
                if (before.Marks.HasFlag(NoteMarks.Fermata) && (starts || before.End <= onset)) fermata = 1;
                if (before.Marks.HasFlag(NoteMarks.BreathAfter) && starts) breath = 1;
            }

            if (line == lead) Lead(line, i, starts, onset, span, pulse, set);
            else if (before.End > onset - span)
            {
                // Under a pickup the other lines may wait for the downbeat.
                var waits = !starts && i < line.Events.Count && line.Events[i].Onset == downbeat;
                others++;
                if (starts || waits || before.End <= onset) together++;
                if (starts || waits) gaps += Gap(line, i, span);
            }
        }

        set(PhraseCue.Fermata, fermata);
        set(PhraseCue.Breath, breath);
        if (others == 0) return;
        set(PhraseCue.OtherGap, gaps / others);
        set(PhraseCue.Together, together / others);
    }

    private void Lead(MelodicLine line, int i, bool starts, Fraction onset, Fraction span, Fraction pulse, Action<PhraseCue, double> set)
    {
        var before = line.Events[i - 1];
        if (!starts)
        {
            if (before.End > onset) set(PhraseCue.Held, 1);
            return;
        }

        var here = line.Events[i];
        set(PhraseCue.LeadGap, Gap(line, i, span));
        set(PhraseCue.LeadRest, Math.Min(1, Math.Max(0, ((onset - before.End) / pulse).ToDouble())));
        set(PhraseCue.LeadLeap, Math.Min(1, Math.Max(0, Math.Abs(here.Pitch.Midi - before.Pitch.Midi) - 2) / 10.0));
        var ends = before.Marks.HasFlag(NoteMarks.SlurStop) && !before.Marks.HasFlag(NoteMarks.SlurStart);
        if (ends && here.Marks.HasFlag(NoteMarks.SlurStart)) set(PhraseCue.Slur, 1);
        else if (before.Marks.HasFlag(NoteMarks.SlurStart) || (here.Marks.HasFlag(NoteMarks.SlurStop) && !here.Marks.HasFlag(NoteMarks.SlurStart)))
            set(PhraseCue.UnderSlur, 1);

        switch (_words.At(line.Part, line.Staff, onset))
        {
            case Wording.NewSentence: set(PhraseCue.Sentence, 1); break;
            case Wording.NewLine: set(PhraseCue.VerseLine, 1); break;
            case Wording.Syllable or Wording.Melisma: set(PhraseCue.InsideText, 1); break;
        }
    }

    // The local boundary detection model of Cambouropoulos (ICMC 2001): a time between onsets counts as far as it is longer
    // than its neighbours, here the mean of a few on either side, and by its own length against half a measure.
    private static double Gap(MelodicLine line, int i, Fraction span)
    {
        var events = line.Events;
        var wait = (events[i].Onset - events[i - 1].Onset).ToDouble();
        var earlier = Math.Max(0, i - 4);
        var later = Math.Min(events.Count - 1, i + 3);
        var change = 0.0;
        if (i - 1 > earlier) change += Change(wait, (events[i - 1].Onset - events[earlier].Onset).ToDouble() / (i - 1 - earlier));
        else change += 0.3;
        change += later > i ? Change(wait, (events[later].Onset - events[i].Onset).ToDouble() / (later - i)) : 0.3;
        return Math.Min(1, change / 1.2) * Math.Min(1, wait / (span.ToDouble() / 2));

        static double Change(double a, double b) => Math.Max(0, (a - b) / (a + b));
    }

    private void Harmony(Fraction onset, Fraction downbeat, Fraction span, Action<PhraseCue, double> set)
    {
        for (var i = LastArrivalFrom(onset); i >= 0 && onset - _arrivals[i].Onset <= span; i--)
        {
            var arrival = _arrivals[i];
            var away = ((onset - arrival.Onset) / span).ToDouble();
            var still = (onset <= arrival.End ? 1 : 0.5) * (1 - (0.3 * away));
            switch (arrival.Kind)
            {
                case Cadence.PerfectAuthentic or Cadence.ImperfectAuthentic when arrival.Onset == onset: set(PhraseCue.AtAuthentic, arrival.Strength); break;
                case Cadence.PerfectAuthentic or Cadence.ImperfectAuthentic: set(PhraseCue.AfterAuthentic, arrival.Strength * still); break;
                case Cadence.Plagal when arrival.Onset < onset && arrival.Strength > 0.5: set(PhraseCue.AfterAuthentic, arrival.Strength * still); break;
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

    private double Texture(Fraction onset, Fraction window)
    {
        var before = Look(onset - window, onset);
        var after = Look(onset, onset + window);
        if (before.Struck == 0 || after.Struck == 0) return 0;
        var lines = Math.Abs(before.Lines - after.Lines) / Math.Max(before.Lines, after.Lines);
        var height = Math.Min(1, Math.Abs(before.Height - after.Height) / 12);
        var pace = Math.Min(1, Math.Abs(Math.Log2(before.Struck / after.Struck)) / 2);
        return Math.Min(1, (lines + height + pace) / 1.5);
    }

    private (double Lines, double Height, double Struck) Look(Fraction start, Fraction end)
    {
        double lines = 0, height = 0, struck = 0;
        foreach (var line in _lines)
        {
            var first = line.FirstFrom(start);
            var i = first;
            for (; i < line.Events.Count && line.Events[i].Onset < end; i++) height += line.Events[i].Pitch.Midi;
            struck += i - first;
            if (i > first || (first > 0 && line.Events[first - 1].End >= end)) lines++;
        }

        return (lines, struck > 0 ? height / struck : 0, struck);
    }

    // The line that leads in a stretch: the one that is sung, else the highest one.
    private MelodicLine? Leading(Fraction start, Fraction end)
    {
        MelodicLine? lead = null;
        var highest = 0.0;
        foreach (var line in _lines)
        {
            double height = 0;
            var first = line.FirstFrom(start);
            var i = first;
            for (; i < line.Events.Count && line.Events[i].Onset < end; i++) height += line.Events[i].Pitch.Midi;
            if (i == first) continue;
            height = (height / (i - first)) + (line.IsSung ? 1000 : 0);
            if (height > highest) (lead, highest) = (line, height);
        }

        return lead;
    }

    private int LastArrivalFrom(Fraction onset)
    {
        int low = 0, high = _arrivals.Count;
        while (low < high)
        {
            var middle = (low + high) / 2;
            if (_arrivals[middle].Onset <= onset) low = middle + 1;
            else high = middle;
        }

        return low - 1;
    }

    private int ChordAt(Fraction onset)
    {
        int low = 0, high = _chords.Count;
        while (low < high)
        {
            var middle = (low + high) / 2;
            if (_chords[middle].Onset <= onset) low = middle + 1;
            else high = middle;
        }

        return low - 1;
    }
}
