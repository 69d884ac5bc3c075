using ScoreLens.Reading;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Devices;

/// <summary>
/// A chord with its neighbours and with what sounds while it lasts: what a device rule looks at. The tones are the numeral's;
/// where the score plainly sounds another chord, they are that chord's.
/// </summary>
internal sealed class ChordInContext
{
    /// <summary>A chord that nothing is known of but itself.</summary>
    public ChordInContext(
        ChordReading reading, Numeral numeral, IReadOnlyList<Sonority> sonorities, IReadOnlyDictionary<Tone, double> presence, ChordIdentity identity) =>
        (Reading, Numeral, Sonorities, Presence, Identity) = (reading, numeral, sonorities, presence, identity);

    /// <summary>The same chord taken to be another.</summary>
    public ChordInContext(ChordInContext chord, ChordIdentity identity)
        : this(chord.Reading, chord.Numeral, chord.Sonorities, chord.Presence, identity)
    {
    }

    public ChordReading Reading { get; }

    public Numeral Numeral { get; }

    public Key Key => Reading.Key;

    /// <summary>What the chord is taken to be; how that comes about is in <see cref="ChordNaming"/>.</summary>
    public ChordIdentity Identity { get; }

    public Tone Root => Identity.Root;

    public ChordQuality Quality => Identity.Quality;

    public int Inversion => Identity.Inversion;

    /// <summary>
    /// The members, spelled as the numeral means them in the key: an enharmonic spelling in the score does not put a chord
    /// outside its key. <see cref="Written"/> has the score's spelling.
    /// </summary>
    public IReadOnlyList<Tone> Tones => Identity.Tones;

    public Tone Bass => Tones[Math.Min(Inversion, Tones.Count - 1)];

    /// <summary>The raised or lowered fifth that sounds instead of the numeral's fifth, or null.</summary>
    public Tone? AlteredFifth => Identity.AlteredFifth;

    /// <summary>Whether the score plainly sounds another chord than the numeral says.</summary>
    public bool IsRenamed => Identity.IsRenamed;

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

    /// <summary>Chords as neighbours of each other, in order; places without a chord are passed over.</summary>
    public static ChordInContext?[] Link(IEnumerable<ChordInContext?> chords)
    {
        ChordInContext?[] linked = [.. chords];
        ChordInContext? before = null;
        foreach (var chord in linked.OfType<ChordInContext>())
        {
            chord.Before = before;
            if (before is not null) before.After = chord;
            before = chord;
        }

        return linked;
    }

    /// <summary>Semitones from one tone up to another, 0..11.</summary>
    public static int Semitones(Tone from, Tone to) => (to.PitchClass - from.PitchClass + 12) % 12;

    /// <summary>Whether the chord has a tone, by sound.</summary>
    public bool Has(Tone tone) => Identity.Has(tone);

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

    /// <summary>A tone as the score writes it while the chord lasts, where it writes it otherwise than the numeral.</summary>
    public Tone Written(Tone tone)
    {
        if (Presence.ContainsKey(tone)) return tone;
        var (found, longest) = (tone, 0.0);
        foreach (var (heard, time) in Presence)
            if (heard.IsEnharmonicWith(tone) && time > longest) (found, longest) = (heard, time);
        return found;
    }
}
