using System.Numerics;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Reading.Model;

/// <summary>
/// What the notes themselves say for a numeral, beside the learned scores, in sentences of a teacher (common practice): "where the tones
/// of a whole chord sound and no others, it is that chord"; "the less sounds that is foreign to a chord, the likelier it is"; "a seventh that nobody
/// plays is no seventh"; "the lowest note tells the inversion". The first three are asked of the time from one likely change of chord
/// to the next, so that a broken chord counts as one and a short non-chord note for little.
/// </summary>
internal sealed class HeardTones
{
    // In nats; chosen on the validation works. A score may spell a chord more simply than it means it.
    private const double WholeAsSpelled = 2;
    private const double WholeAsSounding = 1.5;
    private const double AllForeign = 1;
    private const double SeventhMissing = 1;
    private const double LowestIsBass = 0.5;

    // A tone that sounds for less than this share of the longest one's time is no member of a whole chord; one that sounds for less
    // than this share of all tones' time does not count as heard.
    private const double LeastOfLongest = 0.2;
    private const double LeastOfAll = 0.02;

    // Tones are bits in the order of the line of fifths, of which twelve steps make the same sound.
    private const int Origin = 30;
    private const int Sounds = 12;
    private const int Seventh = 3;

    private readonly NumeralVocabulary _vocabulary;
    private readonly IReadOnlyList<Sonority> _sonorities;
    private readonly (ulong Tones, uint Sounds)[] _numerals;
    private readonly Stretch[] _stretches;

    /// <param name="vocabulary">The numerals to choose from.</param>
    /// <param name="sonorities">The verticals.</param>
    /// <param name="isNewChord">Whether a chord probably begins with a vertical.</param>
    public HeardTones(NumeralVocabulary vocabulary, IReadOnlyList<Sonority> sonorities, Func<int, bool> isNewChord)
    {
        (_vocabulary, _sonorities) = (vocabulary, sonorities);
        _numerals = [.. vocabulary.Classes.Select(TonesOf).Select(tones => (tones, SoundsOf(tones)))];
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
    /// <param name="Shares">The share that each of the twelve sounds has of all tones' time; all zero in silence.</param>
    private sealed record Stretch(ulong Whole, double[] Shares);

    /// <summary>What a numeral over a tonic gains at a vertical by what sounds there, in nats; negative where the notes speak against it.</summary>
    public double Gain(int t, int tonic, int entry)
    {
        if (_sonorities[t].Bass is not { } bass) return 0;
        var lowest = bass.Pitch.Tone.Fifths - tonic == _vocabulary.Classes[entry].Bass ? LowestIsBass : 0;
        return WholeGain(_stretches[t], tonic, entry) - Foreign(_stretches[t], tonic, _vocabulary.Classes[entry]) + lowest;
    }

    /// <summary>Adds the numerals of a mode over a tonic whose tones sound, learned or not.</summary>
    public void AddCandidates(int t, int tonic, int mode, List<int> entries)
    {
        var heard = SoundsOf(AboveTonic(_stretches[t].Whole, tonic));
        if (heard == 0) return;
        foreach (var list in (int[][])[_vocabulary.OfMode[mode], _vocabulary.UnlearnedOfMode[mode]])
            foreach (var entry in list)
                if (_numerals[entry].Sounds == heard && !entries.Contains(entry)) entries.Add(entry);
    }

    private double WholeGain(Stretch stretch, int tonic, int entry)
    {
        var heard = AboveTonic(stretch.Whole, tonic);
        if (heard == 0 || _numerals[entry].Sounds != SoundsOf(heard)) return 0;
        return _numerals[entry].Tones == heard ? WholeAsSpelled : WholeAsSounding;
    }

    private static double Foreign(Stretch stretch, int tonic, NumeralClass numeral)
    {
        double own = 0, last = 0;
        var members = numeral.Quality.Members();
        foreach (var member in members) own += last = stretch.Shares[SoundOf(tonic + numeral.Root + member)];
        return (AllForeign * (1 - own)) + (members.Length > Seventh && last < LeastOfAll ? SeventhMissing : 0);
    }

    private static ulong TonesOf(NumeralClass numeral)
    {
        ulong tones = 0;
        foreach (var member in numeral.Quality.Members()) tones |= Bit(numeral.Root + member);
        return tones;
    }

    private static Stretch Hear(IReadOnlyList<Sonority> sonorities, int start, int end)
    {
        var times = SoundingChord.Presence(sonorities, sonorities[start].Onset, sonorities[end - 1].End);
        var (all, longest) = (times.Values.Sum(), times.Values.DefaultIfEmpty().Max());
        ulong whole = 0;
        var shares = new double[Sounds];
        foreach (var (tone, time) in times)
        {
            shares[SoundOf(tone.Fifths)] += time / all;
            if (time >= LeastOfLongest * longest) whole |= Bit(tone.Fifths);
        }

        return new Stretch(BitOperations.PopCount(whole) >= 3 ? whole : 0, shares);
    }

    private static ulong Bit(int fifths) => 1UL << (fifths + Origin);

    // Fifths from -30 up, as few as any score spells, to one of twelve sounds.
    private static int SoundOf(int fifths) => (fifths + (6 * Sounds)) % Sounds;

    private static ulong AboveTonic(ulong tones, int tonic) => tonic >= 0 ? tones >> tonic : tones << -tonic;

    private static uint SoundsOf(ulong tones)
    {
        ulong sounds = 0;
        for (; tones != 0; tones >>= Sounds) sounds |= tones;
        return (uint)(sounds & ((1UL << Sounds) - 1));
    }
}
