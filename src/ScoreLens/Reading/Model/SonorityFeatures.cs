using ScoreLens.Grouping;
using ScoreLens.Notation;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Reading.Model;

/// <summary>
/// What the model sees of every vertical: planes of 35 places on the line of fifths, centred on the key signature, and a few
/// scalars. Most are zero, so a row is kept sparse. Training exports these very rows: there is one implementation.
/// </summary>
internal sealed class SonorityFeatures
{
    /// <summary>Places on the line of fifths a plane covers: the signature's major tonic in the middle.</summary>
    public const int Places = 35;

    /// <summary>Index of the middle place.</summary>
    public const int Middle = 17;

    private static readonly int OwnScalars = Enum.GetValues<FeatureScalar>().Length;

    /// <summary>Planes a row holds; see <see cref="Plane"/>.</summary>
    public static readonly int Planes = Enum.GetValues<Plane>().Length;

    /// <summary>Scalars a row holds, after the planes.</summary>
    public static readonly int Scalars = OwnScalars + GroupingEvidence.Cues + 1;

    /// <summary>Length of a row.</summary>
    public static readonly int Width = (Planes * Places) + Scalars;

    private const int Tones = Tone.MaxFifths - Tone.MinFifths + 1;
    private const double WideWindow = 8;
    private const double FarWindow = 24;

    // Where the bass of a broken chord is looked for, and what a height is measured by; an octave and a half counts as one.
    private const double BassWindow = 2;
    private const double RangeWindow = 4;
    private const float Range = 18;

    // Cues are told in so many steps.
    private const int CueSteps = 16;

    private readonly IReadOnlyList<Sonority> _sonorities;
    private readonly Score _score;
    private readonly double[] _onsets;
    private readonly double[] _durations;
    private readonly float[] _cumulative;
    private readonly float[] _bassCumulative;
    private readonly int[] _signatures;
    private readonly Dictionary<SoundingNote, NoteMotion> _motions;
    private readonly GroupingEvidence _grouping;
    private readonly Pedals _pedals;
    private readonly HashSet<(int Part, Pitch Pitch, Fraction End)> _underFermata;

    private SonorityFeatures(Score score, IReadOnlyList<Sonority> sonorities, GroupingEvidence grouping)
    {
        _score = score;
        _sonorities = sonorities;
        // From the start of the movement, so that what is reckoned in doubles is the same wherever in its file it stands.
        _onsets = [.. sonorities.Select(s => (s.Onset - score.Start).ToDouble())];
        _durations = [.. sonorities.Select(s => s.Duration.ToDouble())];
        _signatures = [.. sonorities.Select(s => score.Measures[s.Measure].Signature)];
        _motions = NoteMotion.Of(sonorities);
        (_cumulative, _bassCumulative) = Accumulate();
        _grouping = grouping;
        _pedals = new Pedals(sonorities);
        _underFermata = score.Notes.Where(n => n.IsHarmonic && n.Marks.HasFlag(NoteMarks.Fermata)).Select(n => (n.Part, n.Pitch, n.End))
            .ToHashSet();
    }

    /// <summary>The planes of a row, in order.</summary>
    public enum Plane
    {
        Sounding,
        Struck,
        Bass,
        Top,
        Signature,
        Lower,
        Beat,
        MeasureWide,
        Past,
        Future,
        BeatBass,
        MeasureBass,
        NextQuarter,
        LastQuarter,
        LeftByStep,
        ReachedByStep,
        Long,
        Accented,
        FarPast,
        FarFuture,
        MovingBass,
        LowestBefore,
        LowestAfter,
    }

    /// <summary>A sparse row: which entries are not zero, and their values.</summary>
    public readonly record struct Row(ushort[] Indices, float[] Values);

    /// <summary>The rows of all verticals of a score, and for each the signature that it is centred on.</summary>
    public static (Row[] Rows, int[] Signatures) Of(Score score, IReadOnlyList<Sonority> sonorities, GroupingEvidence grouping,
        CancellationToken cancellationToken = default)
    {
        if (sonorities.Count == 0) return ([], []);
        var features = new SonorityFeatures(score, sonorities, grouping);
        var rows = new Row[sonorities.Count];
        var dense = new float[Width];
        for (var t = 0; t < rows.Length; t++)
        {
            cancellationToken.ThrowIfCancellationRequested();
            Array.Clear(dense);
            features.Fill(t, dense);
            rows[t] = Sparse(dense);
        }

        return (rows, features._signatures);
    }

    /// <summary>The place of a tone in a plane centred on a signature; tones far off share the outermost places.</summary>
    public static int PlaceOf(Tone tone, int signature) => Math.Clamp(tone.Fifths - signature + Middle, 0, Places - 1);

    private static Row Sparse(ReadOnlySpan<float> dense)
    {
        var count = dense.Length - dense.Count(0f);
        var (indices, values) = (new ushort[count], new float[count]);
        var next = 0;
        for (var i = 0; i < dense.Length; i++)
        {
            if (dense[i] == 0) continue;
            indices[next] = (ushort)i;
            values[next++] = dense[i];
        }

        return new Row(indices, values);
    }

    private void Fill(int t, float[] row)
    {
        var sonority = _sonorities[t];
        var signature = _signatures[t];
        var measure = _score.Measures[sonority.Measure];
        row[At(Plane.Signature, Middle)] = 1;
        var notes = sonority.Notes;
        // Tones count from the lowest up, each once, so that a doubling in another octave changes nothing.
        int tones = 0, struck = 0;
        for (var i = 0; i < notes.Count; i++)
        {
            var note = notes[i];
            var place = PlaceOf(note.Pitch.Tone, signature);
            if (row[At(Plane.Sounding, place)] == 0) row[At(Plane.Lower, place)] = 1f / ++tones;
            row[At(Plane.Sounding, place)] = 1;
            if (sonority.IsStruck(note))
            {
                if (row[At(Plane.Struck, place)] == 0) struck++;
                row[At(Plane.Struck, place)] = 1;
            }

            var motion = _motions[note];
            if (motion.LeftByStep) row[At(Plane.LeftByStep, place)] = 1;
            if (motion.ReachedByStep) row[At(Plane.ReachedByStep, place)] = 1;
            Raise(row, Plane.Long, place, (float)Math.Min(1, (note.End - note.Onset).ToDouble() / 2));
            Raise(row, Plane.Accented, place, (float)motion.Weight);
        }

        if (sonority.Bass is { } bass) row[At(Plane.Bass, PlaceOf(bass.Pitch.Tone, signature))] = 1;
        if (_pedals.MovingBass(sonority) is { } moving) row[At(Plane.MovingBass, PlaceOf(moving.Pitch.Tone, signature))] = 1;
        if (sonority.Top is { } top) row[At(Plane.Top, PlaceOf(top.Pitch.Tone, signature))] = 1;

        var onset = _onsets[t];
        var pulse = measure.Time.PulseLength.ToDouble();
        var start = (measure.Start - _score.Start).ToDouble();
        var length = measure.Length.ToDouble();
        var inMeasure = onset - start + measure.PickupOffset.ToDouble();
        var beatStart = onset - (inMeasure % pulse);
        Window(row, Plane.Beat, _cumulative, beatStart, beatStart + pulse, signature);
        Window(row, Plane.MeasureWide, _cumulative, start, start + length, signature);
        Window(row, Plane.Past, _cumulative, onset - WideWindow, onset, signature);
        Window(row, Plane.Future, _cumulative, onset, onset + WideWindow, signature);
        Window(row, Plane.FarPast, _cumulative, onset - FarWindow, onset, signature);
        Window(row, Plane.FarFuture, _cumulative, onset, onset + FarWindow, signature);
        Window(row, Plane.MeasureBass, _bassCumulative, start, start + length, signature);
        Window(row, Plane.NextQuarter, _cumulative, onset, onset + 1, signature);
        Window(row, Plane.LastQuarter, _cumulative, onset - 1, onset, signature);
        if (LowestBetween(beatStart, beatStart + pulse, t) is { } lowest) row[At(Plane.BeatBass, PlaceOf(lowest.Pitch.Tone, signature))] =
            1;

        if (Lowest(t, BassWindow, 0) is { } before) row[At(Plane.LowestBefore, PlaceOf(before.Pitch.Tone, signature))] = 1;
        if (Lowest(t, 0, BassWindow) is { } after) row[At(Plane.LowestAfter, PlaceOf(after.Pitch.Tone, signature))] = 1;

        var scalars = row.AsSpan(Planes * Places, Scalars);
        var end = _onsets[^1] + _durations[^1];
        var (first, last) = SlicesOf(sonority.Measure, t);
        scalars[(int)FeatureScalar.MetricalWeight] = (float)sonority.MetricalWeight;
        scalars[(int)FeatureScalar.PlaceInMeasure] = length > 0 ? (float)Math.Clamp((onset - start) / length, 0, 1) : 0;
        scalars[(int)FeatureScalar.PlaceInBeat] = (float)(inMeasure % pulse / pulse);
        scalars[(int)FeatureScalar.LogDuration] = (float)Math.Log2(Math.Clamp(_durations[t], 1 / 32.0, 16)) / 4;
        scalars[(int)FeatureScalar.DurationInBeats] = (float)Math.Min(2, _durations[t] / pulse) / 2;
        scalars[(int)FeatureScalar.SoundingTones] = tones / 8f;
        scalars[(int)FeatureScalar.Silent] = notes.Count == 0 ? 1 : 0;
        scalars[(int)FeatureScalar.MeasureLength] = (float)Math.Min(length, 8) / 4;
        scalars[(int)FeatureScalar.CompoundMetre] = measure.Time.IsCompound ? 1 : 0;
        scalars[(int)FeatureScalar.TripleMetre] = measure.Time.Beats % 3 == 0 && !measure.Time.IsCompound ? 1 : 0;
        scalars[(int)FeatureScalar.VerticalsInMeasure] = Math.Min(last - first + 1, 24) / 12f;
        scalars[(int)FeatureScalar.NearStart] = (float)Math.Max(0, 1 - (onset / 16));
        scalars[(int)FeatureScalar.NearEnd] = (float)Math.Max(0, 1 - ((end - onset) / 16));
        scalars[(int)FeatureScalar.BarlineAfterMeasure] = measure.EndsWithBarline ? 1 : 0;
        scalars[(int)FeatureScalar.SilenceBefore] = t > 0 && _sonorities[t - 1].Notes.Count == 0 ? 1 : 0;
        scalars[(int)FeatureScalar.SilenceAfter] = t + 1 < _sonorities.Count && _sonorities[t + 1].Notes.Count == 0 ? 1 : 0;
        scalars[(int)FeatureScalar.StruckShare] = tones == 0 ? 0 : (float)struck / tones;
        scalars[(int)FeatureScalar.BassStruck] = sonority.Bass is { } b && sonority.IsStruck(b) ? 1 : 0;
        scalars[(int)FeatureScalar.Downbeat] = onset == start ? 1 : 0;
        scalars[(int)FeatureScalar.BeatLength] = (float)pulse / 2;
        scalars[(int)FeatureScalar.LogDurationBefore] = t > 0 ? (float)Math.Log2(Math.Clamp(_durations[t - 1], 1 / 32.0, 16)) / 4 : 0;
        scalars[(int)FeatureScalar.Constant] = 1;
        if (sonority.Bass is { } own && Lowest(t, RangeWindow, RangeWindow) is { } floor)
            scalars[(int)FeatureScalar.BassHeight] = Math.Min(2, (own.Pitch.Midi - floor.Pitch.Midi) / Range);
        if (sonority.Bass is { } here && _pedals.IsPedal(here)) scalars[(int)FeatureScalar.BassIsPedal] = 1;
        var cues = _grouping.At(t);
        for (var i = 0; i < cues.Length; i++) scalars[OwnScalars + i] = (float)Math.Round(cues[i] * CueSteps) / CueSteps;
        if (_underFermata.Count > 0 && notes.Any(n => _underFermata.Contains((n.Part, n.Pitch, n.End)))) scalars[^1] = 1;
    }

    private static int At(Plane plane, int place) => ((int)plane * Places) + place;

    private static void Raise(float[] row, Plane plane, int place, float value)
    {
        ref var cell = ref row[At(plane, place)];
        cell = Math.Max(cell, value);
    }

    // For every vertical and after the last, how long each tone has sounded until then, a row of tones each.
    private (float[] All, float[] Bass) Accumulate()
    {
        var count = _sonorities.Count;
        var (all, bass) = (new float[(count + 1) * Tones], new float[(count + 1) * Tones]);
        for (var t = 0; t < count; t++)
        {
            var (next, duration) = ((t + 1) * Tones, (float)_durations[t]);
            all.AsSpan(t * Tones, Tones).CopyTo(all.AsSpan(next));
            bass.AsSpan(t * Tones, Tones).CopyTo(bass.AsSpan(next));
            var notes = _sonorities[t].Notes;
            for (var i = 0; i < notes.Count; i++)
            {
                // A tone counts once, however often it is doubled.
                var tone = notes[i].Pitch.Tone;
                var isDoubled = false;
                for (var n = 0; n < i && !isDoubled; n++) isDoubled = notes[n].Pitch.Tone == tone;
                if (!isDoubled) all[next + tone.Fifths - Tone.MinFifths] += duration;
            }

            if (_sonorities[t].Bass is { } low) bass[next + low.Pitch.Tone.Fifths - Tone.MinFifths] += duration;
        }

        return (all, bass);
    }

    // How long each tone sounds inside a window of time, as a share of the window.
    private void Window(float[] row, Plane plane, float[] cumulative, double from, double to, int signature)
    {
        if (to <= from) return;
        var scale = (float)(1 / (to - from));
        Span<float> until = stackalloc float[Tones], since = stackalloc float[Tones];
        Sums(cumulative, to, until);
        Sums(cumulative, from, since);
        for (var i = 0; i < Tones; i++)
        {
            var sum = until[i] - since[i];
            if (sum > 1e-5f) row[At(plane, Math.Clamp(i + Tone.MinFifths - signature + Middle, 0, Places - 1))] += Math.Min(1, sum * scale);
        }
    }

    // How long each tone has sounded until a time.
    private void Sums(float[] cumulative, double time, Span<float> sums)
    {
        var (slice, share) = Locate(time);
        var before = cumulative.AsSpan(slice * Tones, Tones);
        if (share == 0)
        {
            before.CopyTo(sums);
            return;
        }

        var after = cumulative.AsSpan((slice + 1) * Tones, Tones);
        for (var i = 0; i < Tones; i++) sums[i] = before[i] + (share * (after[i] - before[i]));
    }

    private (int Slice, float Share) Locate(double time)
    {
        if (time <= 0) return (0, 0);
        var slice = Array.BinarySearch(_onsets, time);
        if (slice >= 0) return (slice, 0);
        slice = ~slice - 1;
        var share = (time - _onsets[slice]) / _durations[slice];
        return share >= 1 ? (slice + 1, 0) : (slice, (float)share);
    }

    private SoundingNote? LowestBetween(double from, double to, int t)
    {
        SoundingNote? lowest = null;
        for (var i = t; i >= 0 && _onsets[i] + _durations[i] > from + 1e-9; i--) Take(i);
        for (var i = t + 1; i < _onsets.Length && _onsets[i] < to - 1e-9; i++) Take(i);
        return lowest;

        void Take(int i)
        {
            if (_sonorities[i].Bass is { } bass && (lowest is null || bass.Pitch < lowest.Pitch)) lowest = bass;
        }
    }

    // The lowest note of the verticals that begin up to so many quarter notes before or after one, itself included.
    private SoundingNote? Lowest(int t, double before, double after)
    {
        var lowest = _sonorities[t].Bass;
        for (var i = t - 1; i >= 0 && _onsets[i] >= _onsets[t] - before; i--) Take(_sonorities[i].Bass);
        for (var i = t + 1; i < _onsets.Length && _onsets[i] <= _onsets[t] + after; i++) Take(_sonorities[i].Bass);
        return lowest;

        void Take(SoundingNote? bass)
        {
            if (bass is not null && (lowest is null || bass.Pitch.Midi < lowest.Pitch.Midi)) lowest = bass;
        }
    }

    private (int First, int Last) SlicesOf(int measure, int t)
    {
        int first = t, last = t;
        while (first > 0 && _sonorities[first - 1].Measure == measure) first--;
        while (last + 1 < _sonorities.Count && _sonorities[last + 1].Measure == measure) last++;
        return (first, last);
    }
}
