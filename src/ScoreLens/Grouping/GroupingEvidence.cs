using ScoreLens.Notation;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Grouping;

/// <summary>
/// Gathers what in the notes and marks of a score speaks for and against a group at every place where one may begin. The cues follow
/// the grouping preference rules of Lerdahl and Jackendoff (A Generative Theory of Tonal Music, 1983).
/// </summary>
internal sealed class GroupingEvidence
{
    private readonly Score _score;
    private readonly IReadOnlyList<Sonority> _sonorities;
    private readonly IReadOnlyList<MelodicLine> _lines;
    private readonly Words _words;
    private readonly double[] _parallel;
    private readonly double[]?[] _cues;

    /// <summary>Gathers the cues of all places, once for everything that asks for them.</summary>
    public GroupingEvidence(Score score, IReadOnlyList<Sonority> sonorities)
    {
        (_score, _sonorities) = (score, sonorities);
        _words = Words.Of(score);
        _lines = MelodicLine.Of(score, _words.SungStaves);
        _parallel = Parallels.Find(score.Measures, m => Leading(m.Start, m.End));
        _cues = new double[]?[sonorities.Count];
        Places = [.. Enumerable.Range(0, sonorities.Count).Where(i => sonorities[i].Notes.Any(sonorities[i].IsStruck)).Skip(1)];
        foreach (var place in Places) _cues[place] = Gather(place);
    }

    /// <summary>How many cues there are.</summary>
    public static int Cues { get; } = Enum.GetValues<GroupingCue>().Length;

    /// <summary>Every place at which something is struck, after the first, in order: its number among the verticals.</summary>
    public IReadOnlyList<int> Places { get; }

    /// <summary>The first downbeat of what begins at a place: the onset itself, or where the measure after a pickup begins.</summary>
    public Fraction Downbeat(int place) => IsDownbeat(place) ? MeasureOf(place).Start : MeasureOf(place).End;

    /// <summary>What speaks for and against a group at a vertical, by <see cref="GroupingCue"/>; none where it is no place.</summary>
    public ReadOnlySpan<double> At(int vertical) => _cues[vertical];

    private double[] Gather(int place)
    {
        var sonority = _sonorities[place];
        var onset = sonority.Onset;
        var measure = MeasureOf(place);
        var span = measure.Time.Length;
        var pulse = measure.Time.PulseLength;
        var first = IsDownbeat(place) || sonority.Measure + 1 == _score.Measures.Count ? sonority.Measure : sonority.Measure + 1;
        var cues = new double[Cues];
        void Set(GroupingCue cue, double value) => cues[(int)cue] = value;

        if (place > 0 && _sonorities[place - 1].Notes.Count == 0)
            Set(GroupingCue.Silence, Math.Min(1, (_sonorities[place - 1].Duration / pulse).ToDouble()));

        // Bar lines close the measure before, or the one before the pickup's own part-measure.
        if (onset == measure.Start && sonority.Measure > 0 && _score.Measures[sonority.Measure - 1]
            .EndsWithBarline) Set(GroupingCue.Barline, 1);

        Lines(onset, Downbeat(place), span, pulse, Set);
        Set(GroupingCue.Parallel, _parallel[first]);
        Set(GroupingCue.Texture, Texture(onset, Fraction.Min(span, 4)));
        return cues;
    }

    private Measure MeasureOf(int place) => _score.Measures[_sonorities[place].Measure];

    private bool IsDownbeat(int place) => MeasureOf(place) is var measure && _sonorities[place].Onset == measure.Start
        && measure.PickupOffset.Sign == 0;

    private void Lines(Fraction onset, Fraction downbeat, Fraction span, Fraction pulse, Action<GroupingCue, double> set)
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

        set(GroupingCue.Fermata, fermata);
        set(GroupingCue.Breath, breath);
        if (others == 0) return;
        set(GroupingCue.OtherGap, gaps / others);
        set(GroupingCue.Together, together / others);
    }

    private void Lead(MelodicLine line, int i, bool starts, Fraction onset, Fraction span, Fraction pulse, Action<GroupingCue, double> set)
    {
        var before = line.Events[i - 1];
        if (!starts)
        {
            if (before.End > onset) set(GroupingCue.Held, 1);
            return;
        }

        var here = line.Events[i];
        set(GroupingCue.LeadGap, Gap(line, i, span));
        set(GroupingCue.LeadRest, Math.Min(1, Math.Max(0, ((onset - before.End) / pulse).ToDouble())));
        set(GroupingCue.LeadLeap, Math.Min(1, Math.Max(0, Math.Abs(here.Pitch.Midi - before.Pitch.Midi) - 2) / 10.0));
        var ends = before.Marks.HasFlag(NoteMarks.SlurStop) && !before.Marks.HasFlag(NoteMarks.SlurStart);
        if (ends && here.Marks.HasFlag(NoteMarks.SlurStart)) set(GroupingCue.Slur, 1);
        else if (before.Marks.HasFlag(NoteMarks.SlurStart) || (here.Marks.HasFlag(NoteMarks.SlurStop)
            && !here.Marks.HasFlag(NoteMarks.SlurStart)))
            set(GroupingCue.UnderSlur, 1);

        switch (_words.At(line.Part, line.Staff, onset))
        {
            case Wording.NewSentence: set(GroupingCue.Sentence, 1); break;
            case Wording.NewLine: set(GroupingCue.VerseLine, 1); break;
            case Wording.Syllable or Wording.Melisma: set(GroupingCue.InsideText, 1); break;
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
            var (first, last) = (line.FirstFrom(start), line.FirstFrom(end));
            height += line.Height(first, last);
            struck += last - first;
            if (last > first || (first > 0 && line.Events[first - 1].End >= end)) lines++;
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
            var (first, last) = (line.FirstFrom(start), line.FirstFrom(end));
            if (last == first) continue;
            var height = ((double)line.Height(first, last) / (last - first)) + (line.IsSung ? 1000 : 0);
            if (height > highest) (lead, highest) = (line, height);
        }

        return lead;
    }
}
