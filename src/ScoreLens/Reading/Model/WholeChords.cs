using System.Numerics;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Reading.Model;

/// <summary>
/// What the notes themselves say for a numeral, beside the learned scores: "where the tones of a whole chord sound and no others, it is
/// that chord" (common practice). Asked of the time from one likely change of chord to the next, so that a broken chord counts as one and
/// a short non-chord note for nothing.
/// </summary>
internal sealed class WholeChords
{
    // In nats; chosen on the validation works. A score may spell a chord more simply than it means it.
    private const double SpelledGain = 2;
    private const double SoundingGain = 1.5;

    // A tone that sounds for less than this share of the longest one's time is no member of the chord.
    private const double LeastShare = 0.2;

    // Tones are bits in the order of the line of fifths, of which twelve steps make the same sound.
    private const int Origin = 30;
    private const int Sounds = 12;

    private readonly NumeralVocabulary _vocabulary;
    private readonly (ulong Tones, uint Sounds)[] _numerals;
    private readonly ulong[] _heard;

    /// <param name="vocabulary">The numerals to choose from.</param>
    /// <param name="sonorities">The verticals.</param>
    /// <param name="isNewChord">Whether a chord probably begins with a vertical.</param>
    public WholeChords(NumeralVocabulary vocabulary, IReadOnlyList<Sonority> sonorities, Func<int, bool> isNewChord)
    {
        _vocabulary = vocabulary;
        _numerals = [.. vocabulary.Classes.Select(TonesOf).Select(tones => (tones, SoundsOf(tones)))];
        _heard = new ulong[sonorities.Count];
        for (int start = 0, end; start < sonorities.Count; start = end)
        {
            end = start + 1;
            while (end < sonorities.Count && !isNewChord(end)) end++;
            Array.Fill(_heard, Heard(sonorities, start, end), start, end - start);
        }
    }

    /// <summary>What a numeral over a tonic gains at a vertical, in nats; zero where other tones than its own sound, or not all of them.</summary>
    public double Gain(int t, int tonic, int entry)
    {
        var heard = AboveTonic(_heard[t], tonic);
        if (heard == 0 || _numerals[entry].Sounds != SoundsOf(heard)) return 0;
        return _numerals[entry].Tones == heard ? SpelledGain : SoundingGain;
    }

    /// <summary>Adds the numerals of a mode over a tonic whose tones sound, learned or not.</summary>
    public void AddCandidates(int t, int tonic, int mode, List<int> entries)
    {
        var heard = SoundsOf(AboveTonic(_heard[t], tonic));
        if (heard == 0) return;
        foreach (var list in (int[][])[_vocabulary.OfMode[mode], _vocabulary.UnlearnedOfMode[mode]])
            foreach (var entry in list)
                if (_numerals[entry].Sounds == heard && !entries.Contains(entry)) entries.Add(entry);
    }

    private static ulong TonesOf(NumeralClass numeral)
    {
        ulong tones = 0;
        foreach (var member in numeral.Quality.Members()) tones |= Bit(numeral.Root + member);
        return tones;
    }

    // Nothing where fewer than three tones sound: an interval is no whole chord.
    private static ulong Heard(IReadOnlyList<Sonority> sonorities, int start, int end)
    {
        Span<double> times = stackalloc double[64];
        for (var t = start; t < end; t++)
        {
            ulong here = 0;
            foreach (var note in sonorities[t].Notes) here |= Bit(note.Pitch.Tone.Fifths);
            var duration = sonorities[t].Duration.ToDouble();
            for (; here != 0; here &= here - 1) times[BitOperations.TrailingZeroCount(here)] += duration;
        }

        var least = LeastShare * System.Numerics.Tensors.TensorPrimitives.Max<double>(times);
        ulong heard = 0;
        for (var i = 0; i < times.Length; i++)
            if (times[i] > 0 && times[i] >= least) heard |= 1UL << i;
        return BitOperations.PopCount(heard) >= 3 ? heard : 0;
    }

    private static ulong Bit(int fifths) => 1UL << (fifths + Origin);

    private static ulong AboveTonic(ulong tones, int tonic) => tonic >= 0 ? tones >> tonic : tones << -tonic;

    private static uint SoundsOf(ulong tones)
    {
        ulong sounds = 0;
        for (; tones != 0; tones >>= Sounds) sounds |= tones;
        return (uint)(sounds & ((1UL << Sounds) - 1));
    }
}
