using System.Text.RegularExpressions;
using ScoreLens.Phrases;
using ScoreLens.Reading;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Devices;

/// <summary>
/// A chord of a reading with its neighbours: what a device rule looks at. What it is, is what the reading says; nothing here names it
/// again.
/// </summary>
internal sealed partial class ChordInContext
{
    private readonly Evidence _evidence;

    private ChordInContext(ChordReading reading, Numeral numeral, Evidence evidence, bool isBlues) =>
        (Reading, Numeral, _evidence, IsBluesSeventh) = (reading, numeral, evidence, isBlues);

    public ChordReading Reading { get; }

    public Numeral Numeral { get; }

    public Key Key => Reading.Key;

    /// <summary>The root; for an augmented sixth the raised fourth degree.</summary>
    public Tone Root => Numeral.Root(Key);

    public ChordQuality Quality => Numeral.Quality;

    public int Inversion => Numeral.Inversion;

    /// <summary>
    /// The members, spelled as the numeral means them in the key: an enharmonic spelling in the score does not put a chord
    /// outside its key. <see cref="Written"/> has the score's spelling.
    /// </summary>
    public IReadOnlyList<Tone> Tones => Reading.Sound.Tones;

    public Tone Bass => Tones[Math.Min(Inversion, Tones.Count - 1)];

    /// <summary>The raised or lowered fifth that sounds instead of the numeral's fifth, or null.</summary>
    public Tone? AlteredFifth => Reading.Sound.AlteredFifth;

    /// <summary>How long each tone sounds.</summary>
    public IReadOnlyDictionary<Tone, double> Presence => Reading.Sound.Times;

    public IReadOnlyList<Sonority> Sonorities => _evidence.Sonorities;

    /// <summary>The chord before, silence left out; null at the start.</summary>
    public ChordInContext? Before { get; private set; }

    /// <summary>The chord after, silence left out; null at the end.</summary>
    public ChordInContext? After { get; private set; }

    /// <summary>Whether the numeral is applied to another degree.</summary>
    public bool IsApplied => Numeral.IsApplied;

    /// <summary>Whether the chord is outside its key: not of its scale, or called applied or an augmented sixth by the reading.</summary>
    public bool IsOutside => IsApplied || !Diatonic.Contains(Key, Tones);

    /// <summary>Whether this is I7 or IV7 of a blues, which is no dominant.</summary>
    public bool IsBluesSeventh { get; }

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
    public int Above => Tone.Semitones(Key.Tonic, Root);

    /// <summary>Whether this is a cadential six-four: marked as one, or a tonic six-four that goes to V over the same bass.</summary>
    public bool IsCadential =>
        Numeral.Kind == NumeralKind.CadentialSixFour
        || (Inversion == 2 && Above == 0 && TriadMode is not null && !Quality.IsSeventh()
            && After is { } after && after.Bass.IsEnharmonicWith(Bass) && after.Root.IsEnharmonicWith(Bass));

    /// <summary>The chords of a reading as neighbours of each other, one for each chord that has a numeral; null for the others.</summary>
    public static ChordInContext?[] Link(HarmonicReading reading, Evidence evidence)
    {
        var blues = BluesKeys.Of(reading.Chords);
        ChordInContext?[] linked = [.. reading.Chords.Select(c => c.Numeral is { } numeral
            ? new ChordInContext(c, numeral, evidence,
                blues.Contains(c.Key) && !numeral.IsApplied && BluesKeys.IsOne(c.Key, numeral.Root(c.Key), numeral.Quality))
            : null)];
        ChordInContext? before = null;
        foreach (var chord in linked.OfType<ChordInContext>())
        {
            chord.Before = before;
            if (before is not null) before.After = chord;
            before = chord;
        }

        return linked;
    }

    /// <summary>Whether the chord has a tone, by sound.</summary>
    public bool Has(Tone tone) => Tones.Any(tone.IsEnharmonicWith);

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

    /// <summary>The chord as its row in the table names it.</summary>
    public NamedChord Named => new(Key, Numeral);

    /// <summary>How many different pitch classes sound while the chord lasts or stand in its written symbol, 0..12.</summary>
    public int SoundingPitchClasses => Reading.Sound.PitchClasses;

    /// <summary>
    /// Whether the chord ends a phrase that has a cadence, or the piece. Where phrases are not known every chord may.
    /// </summary>
    public bool IsAtClose
    {
        get
        {
            if (After is null) return true;
            if (_evidence.Phrases.Count == 0) return After.Reading.Onset > Reading.End || !IsSameHarmony(After);
            var phrase = _evidence.Phrases.FirstOrDefault(p => p.Start <= Reading.Onset && Reading.Onset < p.End);
            return phrase is { Cadence: not Cadence.None } && After.Reading.Onset >= phrase.End;
        }
    }

    /// <summary>
    /// A member as a sentence may name it: as meant and as written; null where it neither sounds nor stands in the written symbol. Without
    /// verticals every member counts as written.
    /// </summary>
    public SoundedTone? Sounded(Tone tone) =>
        Reading.Sound.TimeOf(tone) > 0 ? new SoundedTone(tone, Written(tone))
            : Reading.Sound.IsInSymbol(tone) ? new SoundedTone(tone, Written(tone), WrittenIn)
            : Sonorities.Count == 0 ? new SoundedTone(tone, tone) : null;

    /// <summary>
    /// Members that a sentence names together: all as they sound, or, where one is known from the written symbol alone, all as that writes
    /// them. Those that are in neither are left out.
    /// </summary>
    public IReadOnlyList<SoundedTone> Sounded(IEnumerable<Tone> tones)
    {
        SoundedTone[] sounded = [.. tones.Select(Sounded).OfType<SoundedTone>()];
        return !sounded.Any(t => t.IsWrittenOnly) ? sounded
            : [.. sounded.Select(t => Reading.Sound.SpelledInSymbol(t.Meant) is { } written
            ? new SoundedTone(t.Meant, written, WrittenIn) : t)];
    }

    private ToneSource WrittenIn => Reading.Written?.Figures is null ? ToneSource.Symbol : ToneSource.Figures;

    /// <summary>
    /// The name of a part for a sentence; null where the score has one part, or the name would not tell it from the others.
    /// </summary>
    public string? PartName(int part)
    {
        var names = _evidence.Parts;
        if (names.Count < 2 || part >= names.Count || names[part].Length == 0 || names.Count(n => n == names[part]) > 1) return null;
        return ToneName().IsMatch(names[part]) ? null : names[part];
    }

    // A part called by a tone (Clarinet in A) would be read as one in a sentence about tones.
    [GeneratedRegex(@"\b[A-G][#b♯♭]*(?!\w)")]
    private static partial Regex ToneName();

    /// <summary>The chords between this one and a later one, each named once where it is repeated.</summary>
    public IReadOnlyList<NamedChord> RepetitionsBefore(ChordInContext later)
    {
        var between = new List<NamedChord>();
        for (var next = After; next is not null && next != later; next = next.After)
            if (between.Count == 0 || between[^1] != next.Named) between.Add(next.Named);
        return between;
    }

    /// <summary>Whether another chord is this one again, in another inversion or with a seventh more.</summary>
    public bool IsSameHarmony(ChordInContext other)
    {
        if (Quality == ChordQuality.DiminishedSeventh && other.Quality == ChordQuality.DiminishedSeventh) return Tones.All(other.Has);
        if (Quality.IsAugmentedSixth() && other.Quality.IsAugmentedSixth()) return Tones[0].IsEnharmonicWith(other.Tones[0]);
        // A fifth that is altered changes no harmony: the numerals' own tones count.
        var others = other.Numeral.Tones(other.Key);
        return !IsCadential && !other.IsCadential && Root.IsEnharmonicWith(other.Root)
            && Numeral.Tones(Key).Take(3).All(t => others.Any(t.IsEnharmonicWith));
    }

    /// <summary>Whether the chord stands on a tone: its root, or the bass of a cadential six-four.</summary>
    public bool StandsOn(Tone tone) =>
        IsCadential ? Bass.IsEnharmonicWith(tone) : Root.IsEnharmonicWith(tone) && !IsDiminished && !Quality.IsAugmentedSixth();

    /// <summary>A tone as the score writes it while the chord lasts, where it writes it otherwise than the numeral.</summary>
    public Tone Written(Tone tone) => Reading.Sound.Written(tone);
}
