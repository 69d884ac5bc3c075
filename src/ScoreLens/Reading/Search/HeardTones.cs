using System.Numerics;
using System.Runtime.CompilerServices;
using ScoreLens.Reading.Model;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Reading.Search;

/// <summary>
/// What the notes themselves say for a numeral, beside the learned scores, in sentences of a teacher (common practice): "where the tones of
/// a whole chord sound and no others, it is that chord"; "the less sounds that is foreign to a chord, the likelier it is"; "a seventh that
/// nobody plays is no seventh"; "the lowest tone tells the inversion"; "a pedal is no part of the chords over it". All are asked of the
/// time from one likely change of chord to the next, so that a broken chord counts as one, with the bass that it begins on, and a short
/// non-chord note for little.
/// </summary>
internal sealed class HeardTones
{
    private const int Sounds = NumeralTones.Sounds;
    private const int Seventh = 3;

    private readonly NumeralVocabulary _vocabulary;
    private readonly IReadOnlyList<Sonority> _sonorities;
    private readonly ReadingSettings _settings;
    private readonly Pedals _pedals;
    private readonly Stretch[] _stretches;

    /// <param name="vocabulary">The numerals to choose from.</param>
    /// <param name="sonorities">The verticals.</param>
    /// <param name="settings">What the notes weigh.</param>
    /// <param name="isNewChord">Whether a chord probably begins with a vertical.</param>
    public HeardTones(NumeralVocabulary vocabulary, IReadOnlyList<Sonority> sonorities, ReadingSettings settings, Func<int,
        bool> isNewChord)
    {
        (_vocabulary, _sonorities, _settings, _pedals) = (vocabulary, sonorities, settings, new Pedals(sonorities));
        _stretches = new Stretch[sonorities.Count];
        for (int start = 0, end; start < sonorities.Count; start = end)
        {
            end = start + 1;
            while (end < sonorities.Count && !isNewChord(end)) end++;
            Array.Fill(_stretches, Hear(sonorities, start, end), start, end - start);
        }
    }

    /// <summary>What is heard from one likely change of chord to the next.</summary>
    /// <param name="Whole">The tones that last, as bits; none where fewer than three do: an interval is no whole chord.</param>
    /// <param name="Shares">
    /// The share that each of the twelve sounds has of all tones' time, twice over, so that the sound of a tonic and that of a member above
    /// it need only be added; all zero in silence.
    /// </param>
    /// <param name="Lowest">The lowest tone that is no pedal.</param>
    /// <param name="Bass">The lowest tone of all: a chord over a pedal may have its root or another tone in it.</param>
    private sealed record Stretch(ulong Whole, double[] Shares, int Lowest, int Bass);

    /// <summary>
    /// What numerals over a tonic gain at a vertical by what sounds there, in nats; negative where the notes speak against one.
    /// </summary>
    /// <param name="t">Number of the vertical.</param>
    /// <param name="tonic">Place of the tonic on the line of fifths.</param>
    /// <param name="entries">The numerals.</param>
    /// <param name="scores">Takes what each of them gains, added to what stands there.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void AddGains(int t, int tonic, ReadOnlySpan<int> entries, Span<double> scores)
    {
        if (_sonorities[t].Bass is null) return;
        var (lowest, pedal) = (_stretches[t].Lowest - tonic, _stretches[t].Bass - tonic);
        var whole = NumeralTones.AboveTonic(_stretches[t].Whole, tonic);
        var sounds = NumeralTones.SoundsOf(whole);
        var shares = _stretches[t].Shares.AsSpan(NumeralTones.SoundOf(tonic), Sounds);
        for (var i = 0; i < entries.Length; i++)
        {
            var tones = _vocabulary.Tones.Of(entries[i]);
            var gain = whole == 0 || NumeralTones.SoundsOf(tones) != sounds ? 0 : tones == whole ? _settings.WholeAsSpelled
                : _settings.WholeAsSounding;
            gain -= Foreign(_vocabulary.Tones.MembersOf(entries[i]), shares);
            var bass = _vocabulary.BassOf(entries[i]);
            scores[i] += gain + (lowest == bass || pedal == bass ? _settings.LowestIsBass : 0);
        }
    }

    /// <summary>Adds the numerals of a mode over a tonic whose tones sound, learned or not.</summary>
    public void AddCandidates(int t, int tonic, int mode, List<int> entries)
    {
        var heard = NumeralTones.SoundsOf(NumeralTones.AboveTonic(_stretches[t].Whole, tonic));
        if (heard == 0) return;
        foreach (var entry in _vocabulary.Tones.With(heard, mode))
            if (!entries.Contains(entry)) entries.Add(entry);
    }

    private double Foreign(ReadOnlySpan<int> members, ReadOnlySpan<double> shares)
    {
        double own = 0, last = 0;
        foreach (var member in members) own += last = shares[member];
        return (_settings.AllForeign * (1 - own)) + (members.Length > Seventh && last < _settings.LeastOfAll ? _settings.SeventhMissing
            : 0);
    }

    private Stretch Hear(IReadOnlyList<Sonority> sonorities, int start, int end)
    {
        // How long each tone sounds, from the lowest on the line of fifths up, octaves taken together.
        Span<double> times = stackalloc double[Tone.MaxFifths - Tone.MinFifths + 1];
        times.Clear();
        for (var t = start; t < end; t++) AddTimes(sonorities[t], times, withPedals: false);
        if (!times.ContainsAnyExcept(0.0))
            for (var t = start; t < end; t++) AddTimes(sonorities[t], times, withPedals: true);
        double all = 0, longest = 0;
        foreach (var time in times) (all, longest) = (all + time, Math.Max(longest, time));

        ulong whole = 0;
        var shares = new double[2 * Sounds];
        for (var i = 0; i < times.Length; i++)
        {
            if (times[i] == 0) continue;
            shares[NumeralTones.SoundOf(i + Tone.MinFifths)] += times[i] / all;
            if (times[i] >= _settings.LeastOfLongest * longest) whole |= NumeralTones.Bit(i + Tone.MinFifths);
        }

        shares.AsSpan(0, Sounds).CopyTo(shares.AsSpan(Sounds));
        SoundingNote? low = null, bass = null;
        for (var t = start; t < end; t++)
        {
            if (_pedals.MovingBass(sonorities[t]) is { } note && (low is null || note.Pitch < low.Pitch)) low = note;
            if (sonorities[t].Bass is { } lowest && (bass is null || lowest.Pitch < bass.Pitch)) bass = lowest;
        }

        return new Stretch(
            BitOperations.PopCount(whole) >= 3 ? whole : 0, shares, low?.Pitch.Tone.Fifths ?? 0, bass?.Pitch.Tone.Fifths ?? 0);
    }

    private void AddTimes(Sonority sonority, Span<double> times, bool withPedals)
    {
        ulong counted = 0;
        var duration = sonority.Duration.ToDouble();
        for (var n = 0; n < sonority.Notes.Count; n++)
        {
            if (!withPedals && _pedals.IsPedal(sonority.Notes[n])) continue;
            var place = sonority.Notes[n].Pitch.Tone.Fifths - Tone.MinFifths;
            if ((counted & (1UL << place)) == 0) times[place] += duration;
            counted |= 1UL << place;
        }
    }
}
