using ScoreLens.Theory;

namespace ScoreLens.Devices.Rules;

/// <summary>
/// The diminished seventh that keeps the root of the chord that it decorates while its other notes move by step. A
/// leading-tone diminished seventh never holds the root of the chord that it leads to, so that what follows tells the two
/// apart, however the chord is spelled.
/// </summary>
internal sealed class CommonToneDiminishedRule : IDeviceRule
{
    public DeviceFinding? Examine(ChordInContext chord)
    {
        var next = chord.Following().FirstOrDefault();
        if (chord.Quality != ChordQuality.DiminishedSeventh && !IsTriadBetween(chord, next)) return null;
        var labelled = chord.Numeral.Kind == NumeralKind.CommonToneDiminished;
        var decorated = Decorates(chord, next) || IsTriadBetween(chord, next) ? next : labelled || Decorates(chord, chord.Before)
            ? chord.Before : null;
        if (decorated is null) return labelled ? Undecorating(chord) : null;
        var kept = decorated.Root;
        var comesBack = ReferenceEquals(decorated, next);
        var moving = comesBack ? chord.Tones.Where(t => !decorated.Has(t) && VoiceLeading.Of(t, chord, decorated) is { IsHeld: false })
            : [];
        var between = comesBack ? chord.RepetitionsBefore(decorated) : [];
        var reason = chord.Sounded(kept) is { } tone
            ? new KeptToneReason(chord.Key, tone, decorated.Named, [.. moving.Select(chord.Sounded).OfType<SoundedTone>()], comesBack,
                between)
            : null;
        return new DeviceFinding(
            Device.CommonToneDiminished, labelled || IsDecoration(chord, next), comesBack ? Resolution.Resolved : Resolution.Unresolved,
                reason,
            decorated.Above == 0 ? null : OwnDegrees.Target(chord.Key, kept, decorated.TriadMode));
    }

    private static DeviceFinding Undecorating(ChordInContext chord)
    {
        var reason = chord.Sounded(chord.Numeral.Root(chord.Key)) is { } kept ? new KeptToneReason(chord.Key, kept, null, [], false, [])
            : null;
        return new DeviceFinding(Device.CommonToneDiminished, true, Resolution.Unresolved, reason);
    }

    /// <summary>
    /// Whether a diminished seventh plainly decorates what follows: it holds that chord's root, and either came from the same
    /// root, or is written with the raised second degree above it, which rises, or is not called anything else by the reading.
    /// </summary>
    public static bool IsDecoration(ChordInContext chord, ChordInContext? next) =>
        IsTriadBetween(chord, next)
        || (Decorates(chord, next)
            && (chord.Numeral.Kind == NumeralKind.CommonToneDiminished
                || chord.Before?.Root.IsEnharmonicWith(next!.Root) == true
                || chord.Written(next!.Root + 9) == next.Root + 9
                || !chord.IsApplied));

    /// <summary>
    /// Whether a diminished triad between one and the same chord is written with the raised second degree above that chord's root.
    /// </summary>
    public static bool IsSpelledTriad(ChordInContext chord, ChordInContext? next) =>
        IsTriadBetween(chord, next) && chord.Tones.Any(t => chord.Written(t) == next!.Root + 9);

    /// <summary>Whether a diminished seventh holds the root of another chord.</summary>
    private static bool Decorates(ChordInContext chord, ChordInContext? other) => chord.Quality == ChordQuality.DiminishedSeventh
        && HoldsRoot(chord, other);

    /// <summary>Whether a diminished triad, the seventh left out, holds the root of one and the same chord before and after it.</summary>
    private static bool IsTriadBetween(ChordInContext chord, ChordInContext? next) =>
        chord.Quality == ChordQuality.Diminished && HoldsRoot(chord, next) && !chord.Root.IsEnharmonicWith(next!.Root)
        && chord.Before?.Root.IsEnharmonicWith(next.Root) == true;

    /// <summary>A tonic six-four stands on its bass and not on its root.</summary>
    private static bool HoldsRoot(ChordInContext chord, ChordInContext? other) =>
        other is { TriadMode: not null } && !(other.Above == 0 && other.Inversion == 2) && chord.Has(other.Root);
}
