namespace ScoreLens.Devices.Rules;

/// <summary>A chord outside the key that is none of the other devices.</summary>
internal sealed class OtherChromaticRule : IDeviceRule
{
    public DeviceFinding? Examine(ChordInContext chord)
    {
        if (chord is { IsApplied: true, Numeral.Target: { } target })
        {
            var tones = string.Join(", ", chord.Tones);
            return new DeviceFinding(
                Device.OtherChromatic, false, Resolution.None, $"{tones} are reckoned in {target.In(chord.Key)}, the key of {target}, which is touched here.", target);
        }

        var outside = chord.Tones.Where(t => !chord.Key.Contains(t)).ToArray();
        var tone = outside.Length > 0 ? outside[0] : chord.Tones[0];
        var next = chord.Following().FirstOrDefault();
        var motion = next is null ? null : VoiceLeading.Of(tone, chord, next);
        var end = next is null ? "and nothing follows" : $"as {next.Numeral} follows";
        return new DeviceFinding(
            Device.OtherChromatic, false, Resolution.None, Sentence.Of(chord.Key, tone, "outside the key", motion, end));
    }
}
