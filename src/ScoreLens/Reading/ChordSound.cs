using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Reading;

/// <summary>What sounds while a chord lasts, and which of it belongs to the chord. Immutable, safe to share between threads.</summary>
internal sealed class ChordSound
{
    private readonly WrittenChord? _symbol;

    private ChordSound(IReadOnlyDictionary<Tone, double> times, IReadOnlyList<Tone> tones, Tone? alteredFifth,
        WrittenChord? symbol = null) =>
        (Times, Tones, AlteredFifth, _symbol) = (times, tones, alteredFifth, symbol);

    /// <summary>Nothing is known of what sounds.</summary>
    public static ChordSound Unknown { get; } = new(new Dictionary<Tone, double>(), [], null);

    /// <summary>How long each spelled tone sounds, in quarter notes, octaves taken together; all tones, members or not.</summary>
    public IReadOnlyDictionary<Tone, double> Times { get; }

    /// <summary>
    /// The chord's members as its numeral means them in its key, in the order root, third, fifth, seventh (an augmented sixth from its flat
    /// sixth up); an altered fifth stands in place of the numeral's. Empty where no chord is named.
    /// </summary>
    public IReadOnlyList<Tone> Tones { get; }

    /// <summary>The raised or lowered fifth that sounds instead of a dominant's own, for which numerals have no sign; or null.</summary>
    public Tone? AlteredFifth { get; }

    /// <summary>How long a tone sounds, however it is spelled, in quarter notes.</summary>
    public double TimeOf(Tone tone)
    {
        var time = 0.0;
        foreach (var (heard, length) in Times)
            if (heard.IsEnharmonicWith(tone)) time += length;
        return time;
    }

    /// <summary>Whether the score's own chord symbol, where it names the chord, stands for a tone, however it is spelled.</summary>
    public bool IsInSymbol(Tone tone) => SpelledInSymbol(tone) is not null;

    /// <summary>A tone as the score's own chord symbol spells it; null where no symbol that names the chord stands for it.</summary>
    public Tone? SpelledInSymbol(Tone tone) => _symbol is not { } symbol ? null
        : symbol.Tones.Contains(tone) ? tone : symbol.Tones.Where(tone.IsEnharmonicWith).Select(t => (Tone?)t).FirstOrDefault();

    /// <summary>How many different pitch classes sound or stand in the written symbol, 0 to 12.</summary>
    public int PitchClasses => Times.Keys.Concat(_symbol?.Tones ?? []).Select(t => t.PitchClass).Distinct().Count();

    /// <summary>
    /// A tone as the score writes it while the chord lasts: in its notes, else in its symbol; the tone itself where it is in neither.
    /// </summary>
    public Tone Written(Tone tone)
    {
        if (Times.ContainsKey(tone)) return tone;
        if (TimeOf(tone) <= 0) return SpelledInSymbol(tone) ?? tone;
        var (found, longest) = (tone, 0.0);
        foreach (var (heard, time) in Times)
            if (heard.IsEnharmonicWith(tone) && time > longest) (found, longest) = (heard, time);
        return found;
    }

    /// <summary>Chords with what sounds of each, from the verticals; without verticals the numerals alone speak.</summary>
    internal static IReadOnlyList<ChordReading> Hear(IReadOnlyList<ChordReading> chords, IReadOnlyList<Sonority> sonorities,
        ReadingSettings? settings = null) =>
        [.. chords.Select(c => c with { Sound = Of(c, sonorities, settings ?? ReadingSettings.Default) })];

    private static ChordSound Of(ChordReading chord, IReadOnlyList<Sonority> sonorities, ReadingSettings settings)
    {
        var times = TonesInTime.Of(sonorities, chord.Onset, chord.End);
        if (chord.Numeral is not { } numeral) return new ChordSound(times, [], null);
        var tones = numeral.Tones(chord.Key);
        if (chord.Written is { } symbol)
        {
            // The symbol says its fifth itself.
            var lowered = symbol.LoweredFifth is null || numeral.Quality.IsAugmentedSixth() || tones.Count < 3 ? (Tone?)null
                : tones[2] + -7;
            return new ChordSound(times, [.. tones.Select((t, i) => i == 2 ? lowered ?? t : t)], lowered, symbol);
        }

        if (AlteredFifthOf(tones, numeral.Quality, chord.Key, times, settings) is not { } altered) return new ChordSound(times,
            tones, null);
        return new ChordSound(times, [.. tones.Select((t, i) => i == 2 ? altered : t)], altered);
    }

    /// <summary>The raised or lowered fifth that sounds instead of a dominant's own, or null.</summary>
    internal static Tone? AlteredFifthOf(
        IReadOnlyList<Tone> tones, ChordQuality quality, Key key, IReadOnlyDictionary<Tone, double> times, ReadingSettings settings)
    {
        if (times.Count == 0 || quality is not (ChordQuality.Major or ChordQuality.DominantSeventh)) return null;
        // Broken chords sound each tone for a part of the span only: the member that sounds least is the measure. The third may be left out
        // where the seventh is there.
        double Time(Tone tone) => times.Where(p => p.Key.IsEnharmonicWith(tone)).Sum(p => p.Value);
        var others = tones.Where((_, member) => member != 2).Select(Time).Where(time => time > 0).ToArray();
        if (Time(tones[0]) <= 0 || others.Length < 2) return null;
        var usual = others.Min();
        foreach (var (heard, time) in times)
        {
            if (time < settings.AlteredFifthOfMember * usual || time < settings.AlteredFifthOfFifth * Time(tones[2]) || key.Contains(heard))
                continue;
            var interval = Tone.Semitones(tones[0], heard);
            if (interval is 6 or 8 && !tones.Any(heard.IsEnharmonicWith)) return tones[2] + (interval == 6 ? -7 : 7);
        }

        return null;
    }
}
