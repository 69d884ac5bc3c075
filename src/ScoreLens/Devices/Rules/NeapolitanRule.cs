using ScoreLens.Theory;

namespace ScoreLens.Devices.Rules;

/// <summary>
/// The major triad on the lowered second degree, most often in first inversion. Goes to V, directly or through Cad64
/// or an applied chord of V; the lowered second degree falls to the leading tone or to the tonic.
/// </summary>
internal sealed class NeapolitanRule : IDeviceRule
{
    public DeviceFinding? Examine(ChordInContext chord)
    {
        if (chord.Above != 1 || chord.Quality is not (ChordQuality.Major or ChordQuality.MajorSeventh)) return null;
        var fifth = chord.Key.Tonic + 1;
        var course = Course.To(chord, Expected.Dominant, c => IsDominant(c, fifth), c => Leads(c, fifth));
        var goal = course.GoalInContext ?? chord.Following().FirstOrDefault();
        var root = chord.Tones[0];
        var motion = goal is null ? null : VoiceLeading.Of(root, chord, goal, -1);
        var reason = chord.Sounded(root) is { } tone ? new ToneReason(chord.Key, tone, ToneRole.NeapolitanRoot, null, null, motion, course)
            : null;
        return new DeviceFinding(Device.Neapolitan, !chord.IsApplied, course.Resolution, reason);
    }

    private static bool IsDominant(ChordInContext chord, Tone fifth) =>
        (chord.StandsOn(fifth) && !chord.IsCadential && chord.TriadMode == Mode.Major)
        || (chord.IsDiminished && Tone.Semitones(fifth, chord.Root) == 4);

    private static bool Leads(ChordInContext chord, Tone fifth) =>
        chord.IsCadential
        || (chord.IsDiminished && Tone.Semitones(chord.Root, fifth) == 1)
        || (chord.TriadMode == Mode.Major && Tone.Semitones(fifth, chord.Root) == 7
            && (chord.IsOutside || chord.Key.Tonic.IsEnharmonicWith(fifth)))
        || chord.Quality.IsAugmentedSixth();
}
