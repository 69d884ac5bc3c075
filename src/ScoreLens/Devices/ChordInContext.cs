using ScoreLens.Reading;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Devices;

/// <summary>
/// A chord with its neighbours and with what sounds while it lasts: what a device rule looks at. The tones are the numeral's,
/// spelled as the score spells them; where the score plainly sounds another chord, they are that chord's.
/// </summary>
internal sealed class ChordInContext
{
    // How much of a span another chord has to explain, and how much better than the numeral, to be believed instead of it.
    private const double PlainFit = 0.97, BetterBy = 0.12;

    private ChordInContext(ChordReading reading, Numeral numeral, IReadOnlyList<Sonority> sonorities)
    {
        Reading = reading;
        Numeral = numeral;
        Sonorities = sonorities;
        Presence = SoundingChord.Presence(sonorities, reading.Onset, reading.End);
        var tones = numeral.Kind == NumeralKind.CommonToneDiminished ? DiminishedSevenths.SpelledAround(numeral.Root(Key)) : numeral.Tones(Key);
        (Root, Quality, Inversion) = (numeral.Root(Key), numeral.Quality, numeral.Inversion);
        if (sonorities.Count > 0 && Contradicting(tones) is { } heard)
        {
            (Root, Quality, Inversion, tones) = (heard.Root, heard.Quality, heard.Inversion, heard.Tones);
            IsRenamed = true;
        }

        Tones = [.. tones.Select(Spelled)];
        if (Quality.IsAugmentedSixth()) Root = Tones[^1];
        else if (Quality != ChordQuality.DiminishedSeventh) Root = Tones[0];
        AlteredFifth = FindAlteredFifth();
        if (AlteredFifth is { } altered) Tones = [.. Tones.Select((t, i) => i == 2 ? altered : t)];
    }

    public ChordReading Reading { get; }

    public Numeral Numeral { get; }

    public Key Key => Reading.Key;

    public Tone Root { get; }

    public ChordQuality Quality { get; }

    public int Inversion { get; }

    /// <summary>The members as the score spells them.</summary>
    public IReadOnlyList<Tone> Tones { get; }

    public Tone Bass => Tones[Math.Min(Inversion, Tones.Count - 1)];

    /// <summary>The raised or lowered fifth that sounds instead of the numeral's fifth, or null.</summary>
    public Tone? AlteredFifth { get; }

    /// <summary>Whether the score plainly sounds another chord than the numeral says.</summary>
    public bool IsRenamed { get; }

    /// <summary>How long each tone sounds.</summary>
    public IReadOnlyDictionary<Tone, double> Presence { get; }

    public IReadOnlyList<Sonority> Sonorities { get; }

    /// <summary>The chord before, silence left out; null at the start.</summary>
    public ChordInContext? Before { get; private set; }

    /// <summary>The chord after, silence left out; null at the end.</summary>
    public ChordInContext? After { get; private set; }

    /// <summary>Whether the numeral is applied to another degree and still names what sounds.</summary>
    public bool IsApplied => Numeral.IsApplied && !IsRenamed;

    /// <summary>Whether the chord is outside its key: not of its scale, or called applied or an augmented sixth by the reading.</summary>
    public bool IsOutside => IsApplied || !Diatonic.Contains(Key, Tones);

    public bool IsDominantSeventh => Quality == ChordQuality.DominantSeventh;

    public bool IsDiminished => Quality is ChordQuality.Diminished or ChordQuality.DiminishedSeventh or ChordQuality.HalfDiminishedSeventh;

    /// <summary>Quality of the triad without its seventh, where it is a plain major or minor one.</summary>
    public Mode? TriadMode => Quality switch
    {
        ChordQuality.Major or ChordQuality.MajorSeventh or ChordQuality.DominantSeventh => Mode.Major,
        ChordQuality.Minor or ChordQuality.MinorSeventh or ChordQuality.MinorMajorSeventh => Mode.Minor,
        _ => null,
    };

    /// <summary>Root above the tonic in semitones, 0..11.</summary>
    public int Above => Semitones(Key.Tonic, Root);

    /// <summary>Whether this is a cadential six-four: marked as one, or a tonic six-four that goes to V over the same bass.</summary>
    public bool IsCadential =>
        Numeral.Kind == NumeralKind.CadentialSixFour
        || (Inversion == 2 && Above == 0 && TriadMode is not null && !Quality.IsSeventh()
            && After is { } after && after.Bass.IsEnharmonicWith(Bass) && after.Root.IsEnharmonicWith(Bass));

    /// <summary>The chords of a reading in context, one for each chord that has a numeral; null for the others.</summary>
    public static ChordInContext?[] Of(HarmonicReading reading, IReadOnlyList<Sonority> sonorities)
    {
        var chords = new ChordInContext?[reading.Chords.Count];
        ChordInContext? before = null;
        for (var i = 0; i < chords.Length; i++)
        {
            if (reading.Chords[i].Numeral is not { } numeral) continue;
            var chord = new ChordInContext(reading.Chords[i], numeral, sonorities) { Before = before };
            if (before is not null) before.After = chord;
            chords[i] = before = chord;
        }

        return chords;
    }

    /// <summary>Semitones from one tone up to another, 0..11.</summary>
    public static int Semitones(Tone from, Tone to) => (to.PitchClass - from.PitchClass + 12) % 12;

    /// <summary>Whether the chord has a tone, by sound.</summary>
    public bool Has(Tone tone) => Tones.Any(t => t.IsEnharmonicWith(tone));

    /// <summary>
    /// The chords that follow, this harmony's own repetitions and inversions left out, as far as the key of the reading
    /// stays readable from here.
    /// </summary>
    public IEnumerable<ChordInContext> Following()
    {
        var chord = After;
        while (chord is not null && IsSameHarmony(chord)) chord = chord.After;
        for (; chord is not null; chord = chord.After) yield return chord;
    }

    /// <summary>Whether another chord is this one again, in another inversion or with a seventh more.</summary>
    public bool IsSameHarmony(ChordInContext other)
    {
        if (Quality == ChordQuality.DiminishedSeventh && other.Quality == ChordQuality.DiminishedSeventh) return Tones.All(other.Has);
        if (Quality.IsAugmentedSixth() && other.Quality.IsAugmentedSixth()) return Tones[0].IsEnharmonicWith(other.Tones[0]);
        return !IsCadential && !other.IsCadential && Root.IsEnharmonicWith(other.Root) && Tones.Take(3).All(other.Has);
    }

    /// <summary>Whether the chord stands on a tone: its root, or the bass of a cadential six-four.</summary>
    public bool StandsOn(Tone tone) =>
        IsCadential ? Bass.IsEnharmonicWith(tone) : Root.IsEnharmonicWith(tone) && !IsDiminished && !Quality.IsAugmentedSixth();

    // The chord that plainly sounds where the numeral's tones do not: complete, almost nothing besides, and either much
    // better than the numeral or without the numeral's tones from outside the key.
    private SoundingChord? Contradicting(IReadOnlyList<Tone> tones)
    {
        if (SoundingChord.Identify(Sonorities, Reading.Onset, Reading.End) is not { IsComplete: true, Fit: >= PlainFit } heard) return null;
        if (heard.Tones.All(t => tones.Any(t.IsEnharmonicWith)) && tones.All(t => heard.Tones.Any(t.IsEnharmonicWith))) return null;
        var total = Presence.Values.Sum();
        var covered = Presence.Where(p => tones.Any(p.Key.IsEnharmonicWith)).Sum(p => p.Value) / total;
        var addsColour = tones.All(t => heard.Tones.Any(t.IsEnharmonicWith)) && heard.Tones.Any(t => !Key.Contains(t)) && covered <= heard.Fit - BetterBy;
        var unheard = tones.Where(t => !Key.Contains(t)).ToArray();
        var isUnheard = unheard.Length > 0 && unheard.All(t => !Presence.Keys.Any(t.IsEnharmonicWith));
        return addsColour || covered <= heard.Fit - (2 * BetterBy) || isUnheard ? heard : null;
    }

    // A tone as the score writes it, where it writes it otherwise than the numeral.
    private Tone Spelled(Tone tone)
    {
        if (Presence.ContainsKey(tone)) return tone;
        var (found, longest) = (tone, 0.0);
        foreach (var (heard, time) in Presence)
            if (heard.IsEnharmonicWith(tone) && time > longest) (found, longest) = (heard, time);
        return found;
    }

    private Tone? FindAlteredFifth()
    {
        if (Presence.Count == 0 || Quality is not (ChordQuality.Major or ChordQuality.DominantSeventh)) return null;
        var span = Reading.Duration.ToDouble();
        if (Presence.GetValueOrDefault(Tones[2]) > 0.15 * span) return null;
        // Broken chords sound each tone for a part of the span only.
        var usual = Presence.GetValueOrDefault(Tones[1]);
        foreach (var (heard, time) in Presence)
        {
            if (time < 0.6 * usual || Key.Contains(heard) || usual <= 0) continue;
            var interval = Semitones(Tones[0], heard);
            if (interval is 6 or 8) return heard;
        }

        return null;
    }
}
