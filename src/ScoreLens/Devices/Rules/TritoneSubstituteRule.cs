using ScoreLens.Theory;

namespace ScoreLens.Devices.Rules;

/// <summary>
/// A dominant seventh a tritone from the dominant, or applied dominant, that it stands for: both share third and
/// seventh. Its root goes down a semitone where the dominant's would fall a fifth.
/// </summary>
internal sealed class TritoneSubstituteRule : IDeviceRule
{
    public DeviceFinding? Examine(ChordInContext chord)
    {
        if (Root(chord) is not { } root) return null;
        var next = chord.Following().FirstOrDefault();
        var ofTonic = Tone.Semitones(chord.Key.Tonic, root) == 1;
        var goalTone = (root + 5).NearestTo(chord.Key.Tonic);
        var follows = chord.Before is { IsDominantSeventh: true } before && Tone.Semitones(before.Tones[0], root) == 6;
        var direct = next?.StandsOn(goalTone) == true;
        if (!ofTonic && !follows && !direct) return null;
        var stood = (goalTone + 1).NearestTo(chord.Key.Tonic);
        var target = ofTonic ? null : OwnDegrees.Target(chord.Key, goalTone, next?.TriadMode);
        var course = Course.To(
            chord, ofTonic ? Expected.TonicOf(chord.Key) : Expected.On(target, goalTone), c => c.StandsOn(goalTone), c => ofTonic
                && IsDominant(c));
        var motion = next is null ? null : VoiceLeading.Of(root, chord, course.GoalInContext ?? next, -1);
        var reason = chord.Sounded(root) is { } tone ? new ToneReason(chord.Key, tone, ToneRole.SubstituteRoot, null, stood, motion,
            course) : null;
        return new DeviceFinding(Device.TritoneSubstitute, true, course.Resolution, reason, target);
    }

    private static Tone? Root(ChordInContext chord) => chord.Quality switch
    {
        ChordQuality.DominantSeventh => chord.Tones[0],
        ChordQuality.GermanSixth or ChordQuality.ItalianSixth => chord.Tones[0],
        ChordQuality.FrenchSixth when chord.Inversion == 0 => chord.Tones[0],
        _ => null,
    };

    private static bool IsDominant(ChordInContext chord) => chord.Above == 7 && chord.TriadMode == Mode.Major;
}
