using ScoreLens.Theory;

namespace ScoreLens.Devices.Rules;

/// <summary>
/// V, V7 or V9 of a degree other than the tonic. Its third is the target's leading tone. Goes to its target, to a
/// dominant on the target's root (a chain), to that dominant's tritone substitute, or to the target's deceptive sixth.
/// </summary>
internal sealed class SecondaryDominantRule : IDeviceRule
{
    public DeviceFinding? Examine(ChordInContext chord)
    {
        if (chord is { IsApplied: true, Numeral.Kind: NumeralKind.CadentialSixFour }) return SixFour(chord);
        if (!IsDominantShape(chord)) return null;
        var root = chord.Quality == ChordQuality.FrenchSixth ? chord.Tones[2] : chord.Tones[0];
        var targetTone = chord.IsApplied && chord.Numeral.Degree == 5 ? chord.Numeral.Target!.In(chord.Key).Tonic : root + -1;
        var labelled = chord.IsApplied && chord.Numeral.Degree == 5 && root.IsEnharmonicWith(targetTone + 1);
        if (!labelled) targetTone = root + -1;
        if (targetTone.IsEnharmonicWith(chord.Key.Tonic)) return null;
        // An applied chord of another degree (iv of vi) is a dominant only where it goes on as one.
        var calledOtherwise = chord.IsApplied && !labelled;
        var isOwn = OwnDegrees.Has(chord.Key, targetTone);
        var next = chord.Following().FirstOrDefault();
        var hasSeventh = chord.Quality.IsSeventh() || chord.Quality.IsAugmentedSixth();
        if (calledOtherwise && next?.StandsOn(targetTone) != true) return null;
        // A tonic, or a chord of the parallel key, is a dominant only where it goes on as one.
        var isMajorTonic = !hasSeventh && Tone.Semitones(chord.Key.Tonic, root) == 0;
        if (isMajorTonic && !labelled && next?.StandsOn(targetTone) != true) return null;
        if (!isOwn && !labelled && !(hasSeventh && next?.StandsOn(targetTone) == true)) return null;
        // A semitone down to another dominant or to a degree: that is a tritone substitute's way, unless its own target is near.
        if (!isOwn && next is not null && Tone.Semitones(root, next.Root) == 11) return null;

        var target = labelled ? chord.Numeral.Target! : OwnDegrees.Target(chord.Key, targetTone, next?.TriadMode);
        if (target is null) return null;
        var course = Course.To(
            chord, Expected.On(target, targetTone), c => c.StandsOn(targetTone) || IsSubstitute(c, targetTone), c =>
                IsSameFunction(c, targetTone));
        if (course.Resolution != Resolution.Resolved && next is not null && IsDeceptiveSixth(next, root, targetTone))
            course = course.Reaching(chord, next, isDeceptive: true);
        var resolution = course.Resolution;
        // A delay proves a chord only where the target is the key's own, and no triad that stands between thirds.
        var confirmed = resolution == Resolution.Resolved
            || (resolution == Resolution.Delayed && isOwn && (hasSeventh || !StandsBetweenThirds(chord)))
            || (labelled && (hasSeventh
                ? !IsUsedAsSubstitute(chord, root)
                : !StandsBetweenThirds(chord) && !(resolution == Resolution.Unresolved && IsThird(chord, chord.Before))));
        return new DeviceFinding(Device.SecondaryDominant, confirmed, resolution, ReasonOf(chord, target, course), target);
    }

    // The cadential six-four of a degree only delays that degree's dominant.
    private static DeviceFinding SixFour(ChordInContext chord)
    {
        var target = chord.Numeral.Target!;
        var targetTone = target.In(chord.Key).Tonic;
        var course = Course.To(
            chord, Expected.On(target, targetTone), c => c.StandsOn(targetTone), c => c.StandsOn(targetTone + 1)
                || IsSameFunction(c, targetTone));
        var delaying = chord.Sounded(chord.Tones.Take(2));
        return new DeviceFinding(
            Device.SecondaryDominant, true, course.Resolution, delaying.Count < 2 ? null
                : new SixFourReason(chord.Key, delaying, target, course), target);
    }

    private static bool IsDominantShape(ChordInContext chord) => chord.Quality
        is ChordQuality.Major or ChordQuality.DominantSeventh or ChordQuality.Augmented or ChordQuality.AugmentedSeventh
        || (chord.Quality == ChordQuality.FrenchSixth && chord.Inversion == 2)
        || (chord.Quality == ChordQuality.GermanSixth && chord.After?.StandsOn(chord.Tones[0] + -1) == true);

    private static bool IsSubstitute(ChordInContext chord, Tone target) =>
        chord.IsDominantSeventh && Tone.Semitones(target, chord.Root) == 6;

    // A diminished seventh of the same target, or the substitute of this very dominant, only continues it.
    private static bool IsSameFunction(ChordInContext chord, Tone target) =>
        (chord.IsDiminished && Tone.Semitones(chord.Root, target) == 1)
        || (chord.IsDominantSeventh && Tone.Semitones(target, chord.Root) == 1);

    // The sixth above the target's root: a minor triad a whole tone above the dominant, or a major one a semitone above.
    private static bool IsDeceptiveSixth(ChordInContext next, Tone root, Tone target) =>
        (Tone.Semitones(root, next.Root), next.TriadMode) is (2, Mode.Minor) or (1, Mode.Major) && !next.StandsOn(target)
            && !next.IsDominantSeventh;

    private static bool IsUsedAsSubstitute(ChordInContext chord, Tone root) =>
        chord.Following().FirstOrDefault() is { } next && Tone.Semitones(root, next.Root) == 11 && !next.IsDominantSeventh;

    // C–E–C or C–A–F, and A minor–C#–A minor: a triad that nothing binds to its target and third relations on both sides.
    private static bool StandsBetweenThirds(ChordInContext chord) =>
        IsThird(chord, chord.Before) && IsThird(chord, chord.Following().FirstOrDefault());

    private static bool IsThird(ChordInContext chord, ChordInContext? other) =>
        Third.From(chord, other, isSameMode: true) is not null || Third.From(chord, other, isSameMode: false) is not null;

    // Named is the leading tone; where that is the key's own or does not sound, the seventh.
    private static ToneReason? ReasonOf(ChordInContext chord, AppliedTarget target, Course course)
    {
        var isFrench = chord.Quality == ChordQuality.FrenchSixth;
        var leading = isFrench ? chord.Tones[3] : chord.Tones[1];
        Tone? seventh = isFrench ? chord.Tones[0] : chord.Tones.Count == 4 ? chord.Tones[3] : null;
        var chromaticSeventh = seventh is { } s && !chord.Key.Contains(s) ? chord.Sounded(s) : null;
        var isSeventh = chromaticSeventh is not null && (chord.Key.Contains(leading) || chord.Sounded(leading) is null);
        if ((isSeventh ? chromaticSeventh : chord.Sounded(leading)) is not { } tone) return null;
        var goal = course.GoalInContext ?? chord.Following().FirstOrDefault();
        var motion = goal is null ? null : VoiceLeading.Of(tone.Meant, chord, goal, isSeventh ? -1 : 1);
        return new ToneReason(chord.Key, tone, isSeventh ? ToneRole.Seventh : ToneRole.LeadingTone, target, null, motion, course);
    }
}
