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
    // How much of a span another chord has to explain, how evenly its tones have to sound, and how little of the span the
    // numeral may explain, for the other chord to be believed instead.
    private const double PlainFit = 0.97, LeastTime = 0.5, MostlyElsewhere = 0.6, VariantTime = 0.3;

    // In fifths from the tonic: the raised root of a diminished seventh of the sixth degree.
    private const int FarthestRoot = 7;

    private ChordInContext(ChordReading reading, Numeral numeral, IReadOnlyList<Sonority> sonorities)
    {
        Reading = reading;
        Numeral = numeral;
        Sonorities = sonorities;
        Presence = SoundingChord.Presence(sonorities, reading.Onset, reading.End);
        (Root, Quality, Inversion) = (numeral.Root(Key), numeral.Quality, numeral.Inversion);
        Tones = numeral.Kind == NumeralKind.CommonToneDiminished ? DiminishedSevenths.SpelledAround(Root) : numeral.Tones(Key);
        if (numeral is { Kind: NumeralKind.Plain, Target: null } && Math.Abs(Root - Key.Tonic) > FarthestRoot)
        {
            // A raised fifth degree is a lowered sixth that was written without its double flat.
            var shift = Root.NearestTo(Key.Tonic) - Root;
            if (Tones.All(t => t.Fifths + shift is >= Tone.MinFifths and <= Tone.MaxFifths)) (Root, Tones) = (Root + shift, [.. Tones.Select(t => t + shift)]);
        }

        AlteredFifth = FindAlteredFifth();
        if (AlteredFifth is { } altered)
        {
            Tones = [.. Tones.Select((t, i) => i == 2 ? altered : t)];
        }
        else if ((Contradicting() ?? Variant()) is { } heard)
        {
            // Respelled so that the root is near the key: a simplified spelling must not hide the degree.
            var shift = heard.Root.NearestTo(Key.Tonic) - heard.Root;
            Tones = [.. heard.Tones.Select(t => t.Fifths + shift is >= Tone.MinFifths and <= Tone.MaxFifths ? t + shift : t)];
            (Root, Quality, Inversion) = (heard.Quality.IsAugmentedSixth() ? Tones[^1] : Tones[0], heard.Quality, heard.Inversion);
            IsRenamed = true;
        }
    }

    public ChordReading Reading { get; }

    public Numeral Numeral { get; }

    public Key Key => Reading.Key;

    public Tone Root { get; private set; }

    public ChordQuality Quality { get; }

    public int Inversion { get; private set; }

    /// <summary>
    /// The members, spelled as the numeral means them in the key: an enharmonic spelling in the score does not put a chord
    /// outside its key. <see cref="Written"/> has the score's spelling.
    /// </summary>
    public IReadOnlyList<Tone> Tones { get; private set; }

    public Tone Bass => Tones[Math.Min(Inversion, Tones.Count - 1)];

    /// <summary>The raised or lowered fifth that sounds instead of the numeral's fifth, or null.</summary>
    public Tone? AlteredFifth { get; }

    /// <summary>Whether the score plainly sounds another chord than the numeral says.</summary>
    public bool IsRenamed { get; private set; }

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
            if (InKeyAround(reading.Chords, i) is not { Numeral: { } numeral } read) continue;
            var chord = new ChordInContext(read, numeral, sonorities) { Before = before };
            if (before is not null) before.After = chord;
            chords[i] = before = chord;
        }

        foreach (var chord in chords) chord?.RespellDiminished();
        return chords;
    }

    // A diminished seventh that the score writes from another of its tones, and that goes where that tone leads, is that one: D F Ab Cb to
    // Eb is no viio65 of C minor.
    private void RespellDiminished()
    {
        if (Quality != ChordQuality.DiminishedSeventh || Numeral.Kind != NumeralKind.Plain || Tones.Any(t => Time(t) <= 0)) return;
        Tone[] written = [.. Tones.Select(Written)];
        var root = written.Max();
        var bass = written[Inversion];
        Tone[] tones = [.. written.OrderByDescending(t => t)];
        if (tones[0] - tones[^1] != 9 || root.IsEnharmonicWith(Root) || After?.StandsOn(root + -5) != true || After.StandsOn(Root + -5)) return;
        (Root, Tones, Inversion, IsRenamed) = (root, tones, Array.IndexOf(tones, bass), true);
    }

    // One chord alone in another key is no modulation: it is judged in the key that holds before and after it.
    private static ChordReading InKeyAround(IReadOnlyList<ChordReading> chords, int i)
    {
        var chord = chords[i];
        if (i == 0 || i + 1 == chords.Count || chord.Numeral is not { Kind: NumeralKind.Plain, IsApplied: false } numeral) return chord;
        var around = chords[i - 1].Key;
        if (around == chord.Key || chords[i + 1].Key != around) return chord;
        var named = Numeral.For(around, numeral.Root(chord.Key).NearestTo(around.Tonic), numeral.Quality, numeral.Inversion, null, numeral.Extension);
        return named is null ? chord : chord with { Key = around, Numeral = named };
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

    /// <summary>A tone as the score writes it while the chord lasts, where it writes it otherwise than the numeral.</summary>
    public Tone Written(Tone tone)
    {
        if (Presence.ContainsKey(tone)) return tone;
        var (found, longest) = (tone, 0.0);
        foreach (var (heard, time) in Presence)
            if (heard.IsEnharmonicWith(tone) && time > longest) (found, longest) = (heard, time);
        return found;
    }

    // The chord that plainly sounds where the numeral's tones do not: complete, almost nothing besides, each of its tones
    // there for long, and either most of the numeral's time unexplained, or a tone from outside the key added or missing.
    private SoundingChord? Contradicting()
    {
        if (Sonorities.Count == 0) return null;
        if (SoundingChord.Identify(Sonorities, Reading.Onset, Reading.End) is not { IsComplete: true, Fit: >= PlainFit } heard) return null;
        if (heard.Tones.All(Has) && Tones.All(t => heard.Tones.Any(t.IsEnharmonicWith))) return null;
        var times = heard.Tones.Select(Time).ToArray();
        if (times.Min() < LeastTime * times.Max()) return null;
        var covered = Presence.Where(p => Has(p.Key)).Sum(p => p.Value) / Presence.Values.Sum();
        // A seventh on the numeral's own root, there as long as the rest: a passing note is not.
        var addsColour = heard.Tones[0].IsEnharmonicWith(Tones[0]) && Tones.All(t => heard.Tones.Any(t.IsEnharmonicWith))
            && heard.Tones.Any(t => !Key.Contains(t)) && times.Min() >= 0.8 * times.Max();
        var unheard = Tones.Where(t => !Key.Contains(t)).ToArray();
        var isUnheard = unheard.Length > 0 && unheard.All(t => Time(t) <= 0);
        // A member of the triad that never sounds for a beat and more, and another tone there instead: Ab Cb Eb is no bVI with its C left
        // out. But a dominant with a ninth may leave out its root.
        var isReplaced = Reading.Duration >= 1 && Tones.Take(3).Any(t => Time(t) <= 0) && heard.Tones.Any(t => !Has(t))
            && !(Quality.HasMajorThird() && heard.Tones[0].IsEnharmonicWith(Tones[1]));
        return addsColour || covered <= MostlyElsewhere || isUnheard || isReplaced ? heard : null;
    }

    // Of a tone and the same letter a semitone off, the chord's is the one that sounds twice as long: Ab Cb Eb is no bVI, however the chord
    // is broken and the melody decorated, and a C that hangs over at first changes nothing.
    private SoundingChord? Variant()
    {
        if (Sonorities.Count == 0 || Reading.Duration < 1 || Quality.IsAugmentedSixth()) return null;
        var longest = Tones.Max(Time);
        // A seventh beside its chord's own only passes.
        Tone[] heard = [.. Tones.Select((tone, member) => member < 3 ? Instead(tone, longest) : tone)];
        if (heard.SequenceEqual(Tones) || heard.Count(t => Time(t) > 0) < 3) return null;
        foreach (var root in heard)
            foreach (var quality in Enum.GetValues<ChordQuality>())
            {
                int[] members = [.. quality.Members()];
                if (quality.IsAugmentedSixth() || members.Length != heard.Length || !heard.All(t => members.Contains(t - root))) continue;
                return new SoundingChord(root, quality, Array.IndexOf(members, heard[Math.Min(Inversion, heard.Length - 1)] - root), 1, true, true);
            }

        return null;
    }

    // The semitone above or below on the same letter, where it and not the tone itself sounds; a double accidental may be written as a simple one,
    // which over a root of the key is more likely another degree.
    private Tone Instead(Tone tone, double longest)
    {
        var own = Time(tone);
        var isVague = !Key.Contains(Tones[0]);
        foreach (var fifths in (int[])[-7, 7])
        {
            if (tone.Fifths + fifths is < Tone.MinFifths or > Tone.MaxFifths) continue;
            var other = tone + fifths;
            var time = Presence.Where(p => p.Key == other || (isVague && IsDouble(other) && p.Key.IsEnharmonicWith(other))).Sum(p => p.Value);
            if (!Has(other) && time >= VariantTime * longest && time >= 2 * own) return other;
        }

        return tone;
    }

    private static bool IsDouble(Tone tone) => Math.Abs(tone.Alteration) > 1;

    private double Time(Tone tone) => Presence.Where(p => p.Key.IsEnharmonicWith(tone)).Sum(p => p.Value);

    private Tone? FindAlteredFifth()
    {
        if (Presence.Count == 0 || Quality is not (ChordQuality.Major or ChordQuality.DominantSeventh)) return null;
        // Broken chords sound each tone for a part of the span only: the member that sounds least is the measure. The third may be left out
        // where the seventh is there.
        var others = Tones.Where((_, member) => member != 2).Select(Time).Where(time => time > 0).ToArray();
        if (Time(Tones[0]) <= 0 || others.Length < 2) return null;
        var usual = others.Min();
        foreach (var (heard, time) in Presence)
        {
            if (time < 0.5 * usual || time < 2 * Time(Tones[2]) || Key.Contains(heard)) continue;
            var interval = Semitones(Tones[0], heard);
            if (interval is 6 or 8 && !Has(heard)) return Tones[2] + (interval == 6 ? -7 : 7);
        }

        return null;
    }
}
