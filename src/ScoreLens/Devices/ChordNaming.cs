using ScoreLens.Reading;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Devices;

/// <summary>
/// What every chord of a reading is taken to be, which is what its numeral says unless the score plainly says otherwise. The steps, in order: the key around
/// (<see cref="InKeyAround"/>); the numeral's own tones (<see cref="ByNumeral"/>), spelled near the key (<see cref="NearKey"/>); what sounds instead (<see cref="BySound"/>);
/// and, once the neighbours are known, where it goes (<see cref="ByContinuation"/>).
/// </summary>
internal sealed class ChordNaming
{
    // How much of a span another chord has to explain, how evenly its tones have to sound, and how little of the span the
    // numeral may explain, for the other chord to be believed instead.
    private const double PlainFit = 0.97, LeastTime = 0.5, MostlyElsewhere = 0.6, VariantTime = 0.3;

    // In fifths from the tonic: the raised root of a diminished seventh of the sixth degree.
    private const int FarthestRoot = 7;

    private readonly ChordReading _reading;
    private readonly Key _key;
    private readonly IReadOnlyList<Sonority> _sonorities;
    private readonly IReadOnlyDictionary<Tone, double> _presence;

    private ChordNaming(ChordReading reading, IReadOnlyList<Sonority> sonorities)
    {
        (_reading, _key, _sonorities) = (reading, reading.Key, sonorities);
        _presence = SoundingChord.Presence(sonorities, reading.Onset, reading.End);
    }

    /// <summary>The chords of a reading in context, one for each chord that has a numeral; null for the others.</summary>
    public static ChordInContext?[] Name(HarmonicReading reading, IReadOnlyList<Sonority> sonorities)
    {
        var alone = ChordInContext.Link(reading.Chords.Select((_, i) => Alone(reading.Chords, i, sonorities)));
        return ChordInContext.Link(alone.Select(c => c is null ? null : new ChordInContext(c, ByContinuation(c))));
    }

    // A chord by its own notes.
    private static ChordInContext? Alone(IReadOnlyList<ChordReading> chords, int i, IReadOnlyList<Sonority> sonorities)
    {
        if (InKeyAround(chords, i) is not { Numeral: { } numeral } reading) return null;
        var naming = new ChordNaming(reading, sonorities);
        return new ChordInContext(reading, numeral, sonorities, naming._presence, naming.BySound(NearKey(numeral, reading.Key, ByNumeral(numeral, reading.Key))));
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

    private static ChordIdentity ByNumeral(Numeral numeral, Key key)
    {
        var root = numeral.Root(key);
        var tones = numeral.Kind == NumeralKind.CommonToneDiminished ? DiminishedSevenths.SpelledAround(root) : numeral.Tones(key);
        return new ChordIdentity(root, numeral.Quality, numeral.Inversion, tones, null, false);
    }

    // A raised fifth degree is a lowered sixth that was written without its double flat.
    private static ChordIdentity NearKey(Numeral numeral, Key key, ChordIdentity own)
    {
        if (numeral is not { Kind: NumeralKind.Plain, Target: null } || Math.Abs(own.Root - key.Tonic) <= FarthestRoot) return own;
        var shift = own.Root.NearestTo(key.Tonic) - own.Root;
        return own.Tones.All(t => t.Fifths + shift is >= Tone.MinFifths and <= Tone.MaxFifths)
            ? own with { Root = own.Root + shift, Tones = [.. own.Tones.Select(t => t + shift)] }
            : own;
    }

    // A fifth that is altered changes no name; else a chord that contradicts the numeral, or differs from it by a semitone on the same letter, takes its place.
    private ChordIdentity BySound(ChordIdentity own)
    {
        if (AlteredFifth(own) is { } altered) return own with { Tones = [.. own.Tones.Select((t, i) => i == 2 ? altered : t)], AlteredFifth = altered };
        if ((Contradicting(own) ?? Variant(own)) is not { } heard) return own;
        // Respelled so that the root is near the key: a simplified spelling must not hide the degree.
        var shift = heard.Root.NearestTo(_key.Tonic) - heard.Root;
        Tone[] tones = [.. heard.Tones.Select(t => t.Fifths + shift is >= Tone.MinFifths and <= Tone.MaxFifths ? t + shift : t)];
        return new ChordIdentity(heard.Quality.IsAugmentedSixth() ? tones[^1] : tones[0], heard.Quality, heard.Inversion, tones, null, true);
    }

    // A diminished seventh that the score writes from another of its tones, and that goes where that tone leads, is that one: D F Ab Cb to
    // Eb is no viio65 of C minor.
    private static ChordIdentity ByContinuation(ChordInContext chord)
    {
        var own = chord.Identity;
        if (own.Quality != ChordQuality.DiminishedSeventh || chord.Numeral.Kind != NumeralKind.Plain || own.Tones.Any(t => Time(chord.Presence, t) <= 0)) return own;
        Tone[] written = [.. own.Tones.Select(chord.Written)];
        var root = written.Max();
        Tone[] tones = [.. written.OrderByDescending(t => t)];
        if (tones[0] - tones[^1] != 9 || root.IsEnharmonicWith(own.Root) || chord.After?.StandsOn(root + -5) != true || chord.After.StandsOn(own.Root + -5)) return own;
        return own with { Root = root, Tones = tones, Inversion = Array.IndexOf(tones, written[own.Inversion]), IsRenamed = true };
    }

    // The chord that plainly sounds where the numeral's tones do not: complete, almost nothing besides, each of its tones
    // there for long, and either most of the numeral's time unexplained, or a tone from outside the key added or missing.
    private SoundingChord? Contradicting(ChordIdentity own)
    {
        if (_sonorities.Count == 0) return null;
        if (SoundingChord.Identify(_sonorities, _reading.Onset, _reading.End) is not { IsComplete: true, Fit: >= PlainFit } heard) return null;
        if (heard.Tones.All(own.Has) && own.Tones.All(t => heard.Tones.Any(t.IsEnharmonicWith))) return null;
        var times = heard.Tones.Select(Time).ToArray();
        if (times.Min() < LeastTime * times.Max()) return null;
        var covered = _presence.Where(p => own.Has(p.Key)).Sum(p => p.Value) / _presence.Values.Sum();
        // A seventh on the numeral's own root, there as long as the rest: a passing note is not.
        var addsColour = heard.Tones[0].IsEnharmonicWith(own.Tones[0]) && own.Tones.All(t => heard.Tones.Any(t.IsEnharmonicWith))
            && heard.Tones.Any(t => !_key.Contains(t)) && times.Min() >= 0.8 * times.Max();
        var unheard = own.Tones.Where(t => !_key.Contains(t)).ToArray();
        var isUnheard = unheard.Length > 0 && unheard.All(t => Time(t) <= 0);
        // A member of the triad that never sounds for a beat and more, and another tone there instead: Ab Cb Eb is no bVI with its C left
        // out. But a dominant with a ninth may leave out its root.
        var isReplaced = _reading.Duration >= 1 && own.Tones.Take(3).Any(t => Time(t) <= 0) && heard.Tones.Any(t => !own.Has(t))
            && !(own.Quality.HasMajorThird() && heard.Tones[0].IsEnharmonicWith(own.Tones[1]));
        return addsColour || covered <= MostlyElsewhere || isUnheard || isReplaced ? heard : null;
    }

    // Of a tone and the same letter a semitone off, the chord's is the one that sounds twice as long: Ab Cb Eb is no bVI, however the chord
    // is broken and the melody decorated, and a C that hangs over at first changes nothing.
    private SoundingChord? Variant(ChordIdentity own)
    {
        if (_sonorities.Count == 0 || _reading.Duration < 1 || own.Quality.IsAugmentedSixth()) return null;
        var longest = own.Tones.Max(Time);
        // A seventh beside its chord's own only passes.
        Tone[] heard = [.. own.Tones.Select((tone, member) => member < 3 ? Instead(own, tone, longest) : tone)];
        if (heard.SequenceEqual(own.Tones) || heard.Count(t => Time(t) > 0) < 3) return null;
        foreach (var root in heard)
            foreach (var quality in Enum.GetValues<ChordQuality>())
            {
                int[] members = [.. quality.Members()];
                if (quality.IsAugmentedSixth() || members.Length != heard.Length || !heard.All(t => members.Contains(t - root))) continue;
                return new SoundingChord(root, quality, Array.IndexOf(members, heard[Math.Min(own.Inversion, heard.Length - 1)] - root), 1, true, true);
            }

        return null;
    }

    // The semitone above or below on the same letter, where it and not the tone itself sounds; a double accidental may be written as a simple one,
    // which over a root of the key is more likely another degree.
    private Tone Instead(ChordIdentity own, Tone tone, double longest)
    {
        var itself = Time(tone);
        var isVague = !_key.Contains(own.Tones[0]);
        foreach (var fifths in (int[])[-7, 7])
        {
            if (tone.Fifths + fifths is < Tone.MinFifths or > Tone.MaxFifths) continue;
            var other = tone + fifths;
            var time = _presence.Where(p => p.Key == other || (isVague && IsDouble(other) && p.Key.IsEnharmonicWith(other))).Sum(p => p.Value);
            if (!own.Has(other) && time >= VariantTime * longest && time >= 2 * itself) return other;
        }

        return tone;
    }

    private static bool IsDouble(Tone tone) => Math.Abs(tone.Alteration) > 1;

    private double Time(Tone tone) => Time(_presence, tone);

    private static double Time(IReadOnlyDictionary<Tone, double> presence, Tone tone) => presence.Where(p => p.Key.IsEnharmonicWith(tone)).Sum(p => p.Value);

    // The raised or lowered fifth that sounds instead of a dominant's own.
    private Tone? AlteredFifth(ChordIdentity own)
    {
        if (_presence.Count == 0 || own.Quality is not (ChordQuality.Major or ChordQuality.DominantSeventh)) return null;
        // Broken chords sound each tone for a part of the span only: the member that sounds least is the measure. The third may be left out
        // where the seventh is there.
        var others = own.Tones.Where((_, member) => member != 2).Select(Time).Where(time => time > 0).ToArray();
        if (Time(own.Tones[0]) <= 0 || others.Length < 2) return null;
        var usual = others.Min();
        foreach (var (heard, time) in _presence)
        {
            if (time < 0.5 * usual || time < 2 * Time(own.Tones[2]) || _key.Contains(heard)) continue;
            var interval = ChordInContext.Semitones(own.Tones[0], heard);
            if (interval is 6 or 8 && !own.Has(heard)) return own.Tones[2] + (interval == 6 ? -7 : 7);
        }

        return null;
    }
}

/// <summary>What a chord is taken to be.</summary>
/// <param name="Root">Its root.</param>
/// <param name="Quality">Its quality.</param>
/// <param name="Inversion">The member in the bass, from 0.</param>
/// <param name="Tones">Its members, spelled as they are meant in the key.</param>
/// <param name="AlteredFifth">The raised or lowered fifth that sounds instead of the numeral's, or null.</param>
/// <param name="IsRenamed">Whether the score plainly sounds another chord than the numeral says.</param>
internal sealed record ChordIdentity(Tone Root, ChordQuality Quality, int Inversion, IReadOnlyList<Tone> Tones, Tone? AlteredFifth, bool IsRenamed)
{
    /// <summary>Whether the chord has a tone, by sound.</summary>
    public bool Has(Tone tone) => Tones.Any(t => t.IsEnharmonicWith(tone));
}
