namespace ScoreLens.Devices.Rules;

/// <summary>A chord outside the key that is none of the other devices.</summary>
internal sealed class OtherChromaticRule : IDeviceRule
{
    public DeviceFinding? Examine(ChordInContext chord)
    {
        if (chord is { IsApplied: true, Numeral.Target: { } target })
        {
            SoundedTone[] tones = [.. chord.Tones.Select(chord.Sounded).OfType<SoundedTone>()];
            return new DeviceFinding(
                Device.OtherChromatic, false, Resolution.None, tones.Length == 0 ? null : new TouchedKeyReason(chord.Key, tones, target),
                    target);
        }

        // The first tone from outside the key that sounds.
        var tone = chord.Tones.Where(t => !chord.Key.Contains(t)).DefaultIfEmpty(chord.Tones[0]).Select(chord.Sounded)
            .FirstOrDefault(t => t is not null);
        var next = chord.Following().FirstOrDefault();
        var motion = next is null || tone is null ? null : VoiceLeading.Of(tone.Meant, chord, next);
        var course = Course.To(chord, Expected.OwnChord, c => ReferenceEquals(c, next));
        return new DeviceFinding(
            Device.OtherChromatic, false, Resolution.None,
            tone is null ? null : new ToneReason(chord.Key, tone, ToneRole.OutsideKey, null, null, motion, course));
    }
}
