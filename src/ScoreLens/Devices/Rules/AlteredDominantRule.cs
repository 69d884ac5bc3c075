using ScoreLens.Theory;

namespace ScoreLens.Devices.Rules;

/// <summary>
/// A dominant whose fifth is raised or lowered by a semitone; the altered tone goes on in the same direction. An
/// augmented triad sounds alike from each tone, so that one with the leading tone counts from the fifth degree.
/// </summary>
internal sealed class AlteredDominantRule : IDeviceRule
{
    public DeviceFinding? Examine(ChordInContext chord)
    {
        if (Altered(chord) is not { } found) return null;
        var (root, altered) = found;
        var goalTone = root + -1;
        var ofTonic = goalTone.IsEnharmonicWith(chord.Key.Tonic);
        var next = chord.Following().FirstOrDefault();
        var target = ofTonic ? null : OwnDegrees.Target(chord.Key, goalTone, next?.TriadMode);
        if (!ofTonic && next?.StandsOn(goalTone) != true) return null;
        var course = Course.To(
            chord, ofTonic ? Expected.TonicOf(chord.Key) : Expected.On(target, goalTone), c => c.StandsOn(goalTone) && !c.IsCadential,
            c => c.StandsOn(root));
        var role = Tone.Semitones(root, altered) == 8 ? ToneRole.RaisedFifth : ToneRole.LoweredFifth;
        var motion = next is null ? null : VoiceLeading.Of(altered, chord, course.GoalInContext ?? next, role == ToneRole.RaisedFifth ? 1
            : -1);
        var reason = chord.Sounded(altered) is { } tone && chord.Sounded(root) is not null
            ? new ToneReason(chord.Key, tone, role, null, root, motion, course) : null;
        return new DeviceFinding(Device.AlteredDominant, true, course.Resolution, reason, target);
    }

    private static (Tone Root, Tone Altered)? Altered(ChordInContext chord)
    {
        if (chord.AlteredFifth is { } fifth) return (chord.Tones[0], fifth);
        if (chord.Quality == ChordQuality.FrenchSixth) return (chord.Tones[2], chord.Tones[0]);
        if (chord.Quality is not (ChordQuality.Augmented or ChordQuality.AugmentedSeventh)) return null;
        if (chord.Quality == ChordQuality.AugmentedSeventh) return (chord.Tones[0], chord.Tones[2]);
        // Which tone is the root: the fifth degree where it is there, else the spelled root.
        var dominant = chord.Key.Tonic + 1;
        if (!chord.Has(dominant)) return (chord.Tones[0], chord.Tones[2]);
        return (dominant, chord.Tones.First(t => Tone.Semitones(dominant, t) == 8));
    }
}
