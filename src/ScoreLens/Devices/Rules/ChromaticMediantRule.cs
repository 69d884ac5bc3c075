namespace ScoreLens.Devices.Rules;

/// <summary>A triad whose root lies a third from the chord before or after, of the same quality: one tone in common.</summary>
internal sealed class ChromaticMediantRule : IDeviceRule
{
    public DeviceFinding? Examine(ChordInContext chord)
    {
        var other = Third.From(chord, chord.Before, isSameMode: true)
            ?? Third.From(chord, chord.Following().FirstOrDefault(), isSameMode: true);
        if (other is null) return null;
        var common = chord.Tones.Take(3).First(t => other.Tones.Take(3).Any(t.IsEnharmonicWith));
        var (first, second) = ReferenceEquals(other, chord.Before) ? (other, chord) : (chord, other);
        var held = VoiceLeading.Of(common, first, second) is { IsHeld: true };
        // A mediant is heard from the chord before it; the one after counts where that is no third away.
        var isHeard = ReferenceEquals(other, chord.Before) || Third.From(chord, chord.Before, isSameMode: false) is null;
        var tone = other.Sounded(common) is null ? null : chord.Sounded(common);
        return new DeviceFinding(Device.ChromaticMediant, isHeard, Resolution.None,
            Third.Reason(chord, other, tone, tone is not null && held));
    }
}
