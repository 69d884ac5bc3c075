using ScoreLens.Theory;

namespace ScoreLens.Devices.Rules;

/// <summary>
/// viio, viio7 or viiø7 of a degree other than the tonic: its root is the target's leading tone and rises a semitone to
/// it. A diminished seventh sounds alike from each of its tones, so that where the spelling is vague the chord that
/// follows says which one leads.
/// </summary>
internal sealed class SecondaryLeadingToneRule : IDeviceRule
{
    public DeviceFinding? Examine(ChordInContext chord)
    {
        if (!chord.IsDiminished || chord.Numeral.Kind == NumeralKind.CommonToneDiminished) return null;
        var next = chord.Following().FirstOrDefault();
        // A half-diminished seventh a fifth above a dominant seventh is the second degree of what that dominant leads to.
        if (chord.Quality == ChordQuality.HalfDiminishedSeventh && next is { IsDominantSeventh: true }
            && Tone.Semitones(chord.Root, next.Root) == 5) return null;
        var leading = LeadingTone(chord, next);
        if (leading is not { } root) return null;
        var targetTone = root + -5;
        var labelled = chord.IsApplied && chord.Numeral.Degree == 7;
        if (targetTone.IsEnharmonicWith(chord.Key.Tonic)) return null;
        if (chord.IsApplied && !labelled && next?.StandsOn(targetTone) != true) return null;
        if (!labelled && !OwnDegrees.Has(chord.Key, targetTone) && next?.StandsOn(targetTone) != true) return null;
        var target = labelled && chord.Numeral.Target!.In(chord.Key).Tonic.IsEnharmonicWith(targetTone)
            ? chord.Numeral.Target
            : OwnDegrees.Target(chord.Key, targetTone, next?.TriadMode);
        if (target is null) return null;
        // Eb diminished that goes down to D minor passes; it leads to E only where it is written D#, or goes there.
        if (!labelled && target.In(chord.Key).Tonic != targetTone && next?.StandsOn(targetTone) != true) return null;
        var course = Course.To(
            chord,
            Expected.On(target, targetTone),
            c => c.StandsOn(targetTone),
            c => Tone.Semitones(targetTone, c.Root) == 7 && c.TriadMode == Mode.Major);
        // The chord whose root it holds is the one that it decorates.
        var confirmed = !CommonToneDiminishedRule.IsDecoration(chord, next) && (course.Resolution != Resolution.Unresolved || labelled);
        var goal = course.GoalInContext ?? next;
        var motion = goal is null ? null : VoiceLeading.Of(root, chord, goal, 1);
        var reason = chord.Sounded(root) is { } tone ? new ToneReason(chord.Key, tone, ToneRole.LeadingTone, target, null, motion, course)
            : null;
        return new DeviceFinding(Device.SecondaryLeadingTone, confirmed, course.Resolution, reason, target);
    }

    private static Tone? LeadingTone(ChordInContext chord, ChordInContext? next)
    {
        if (chord.Quality == ChordQuality.DiminishedSeventh && next is not null)
        {
            var spelled = chord.Tones[0] + -5;
            if (!next.StandsOn(spelled) && !spelled.IsEnharmonicWith(chord.Key.Tonic) || !chord.IsApplied)
            {
                foreach (var tone in chord.Tones)
                {
                    if (Tone.Semitones(tone, next.IsCadential ? next.Bass : next.Root) != 1 || next.IsDiminished) continue;
                    // Respelled as the leading tone of what follows.
                    var goal = next.IsCadential ? next.Bass : next.Root;
                    return goal + 5;
                }
            }
        }

        return chord.Tones[0];
    }
}
