using ScoreLens.Theory;

namespace ScoreLens.Devices.Rules;

/// <summary>A chord outside the key that is none of the other devices.</summary>
internal sealed class OtherChromaticRule : IDeviceRule
{
    public DeviceFinding? Examine(ChordInContext chord)
    {
        if (chord is { IsApplied: true, Numeral.Target: { } target })
        {
            var tones = chord.Sounded(chord.Tones);
            return new DeviceFinding(
                Device.OtherChromatic, false, Resolution.None, tones.Count == 0 ? null : new TouchedKeyReason(chord.Key, tones, target),
                    target);
        }

        return OfTone(chord, chord.Tones.Where(t => !chord.Key.Contains(t)).DefaultIfEmpty(chord.Tones[0]), ToneRole.OutsideKey);
    }

    /// <summary>I7 or IV7 of a blues: its seventh is a colour and asks for no resolution.</summary>
    public static DeviceFinding OfBlues(ChordInContext chord) => OfTone(chord, chord.Tones.Skip(3), ToneRole.BluesSeventh);

    private static DeviceFinding OfTone(ChordInContext chord, IEnumerable<Tone> tones, ToneRole role)
    {
        // The first tone from outside the key that sounds.
        var tone = tones.Select(chord.Sounded).FirstOrDefault(t => t is not null);
        var next = chord.Following().FirstOrDefault();
        var motion = next is null || tone is null ? null : VoiceLeading.Of(tone.Meant, chord, next);
        var course = Course.To(chord, Expected.OwnChord, c => ReferenceEquals(c, next));
        return new DeviceFinding(
            Device.OtherChromatic, false, Resolution.None,
            tone is null ? null : new ToneReason(chord.Key, tone, role, null, null, motion, course));
    }
}
