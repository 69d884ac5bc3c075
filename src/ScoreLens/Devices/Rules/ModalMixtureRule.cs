using ScoreLens.Theory;

namespace ScoreLens.Devices.Rules;

/// <summary>
/// A chord of the parallel key. In major the chords of the parallel minor; in minor those of the parallel major, the
/// major tonic most often as a Picardy third at a close. It goes back to a chord of the key's own.
/// </summary>
internal sealed class ModalMixtureRule : IDeviceRule
{
    public DeviceFinding? Examine(ChordInContext chord)
    {
        var inParallel = Diatonic.Contains(chord.Key.Parallel, chord.Tones);
        var onFlatSixth = !chord.Key.IsMinor && chord.IsDominantSeventh && chord.Above == 8;
        var ownMinor = chord.Key.IsMinor && IsRaisedSixthFalling(chord) is not null;
        if (!inParallel && !onFlatSixth && !ownMinor) return null;
        if (!chord.Key.IsMinor && chord.Quality is ChordQuality.Augmented or ChordQuality.AugmentedSeventh) return null;
        if (chord.Tones.All(t => IsOwn(chord.Key, t))) return null;
        Tone[] colours = [.. chord.Tones.Where(t => !IsOwn(chord.Key, t))];
        // Of several borrowed tones the first that sounds is named.
        var tone = colours.Select(chord.Sounded).FirstOrDefault(t => t is not null);
        if (IsPicardy(chord))
            return new DeviceFinding(Device.ModalMixture, true, Resolution.Resolved, tone is null ? null
                : new PicardyReason(chord.Key, tone));

        // I7 and IV7 are at home in a blues.
        var course = Course.To(chord, Expected.OwnChord, c => !c.IsOutside || c.IsBluesSeventh, c => c.IsOutside && Diatonic.Contains(c.Key.Parallel, c.Tones));
        var next = chord.Following().FirstOrDefault();
        var goal = course.GoalInContext ?? next;
        var motion = tone is null || goal is null ? null : VoiceLeading.Of(tone.Meant, chord, goal, chord.Key.IsMinor ? 1 : -1);
        var isOne = (!onFlatSixth && !chord.IsApplied && !CommonToneDiminishedRule.IsSpelledTriad(chord, next)) || IsBackDoor(chord);
        return new DeviceFinding(
            Device.ModalMixture, isOne, course.Resolution, tone is null ? null
                : new ToneReason(chord.Key, tone, ToneRole.Borrowed, null, null, motion, course));
    }

    /// <summary>
    /// In minor a ii or IV is the melodic scale's where its raised sixth degree rises to the raised seventh or comes from it; the
    /// motion of a raised sixth that does neither and falls, else null.
    /// </summary>
    public static ToneMotion? IsRaisedSixthFalling(ChordInContext chord)
    {
        if (!chord.Key.IsMinor || chord.After is not { } after || chord.Before is not { } before) return null;
        var isSubdominant = (chord.Above, chord.TriadMode) is (5, Mode.Major) or (2, Mode.Minor);
        if (!isSubdominant || chord.Key != after.Key) return null;
        var raised = chord.Key.Tonic + 3;
        if (!chord.Has(raised) || before.Has(raised + 2) || after.Has(raised + 2)) return null;
        return VoiceLeading.Of(raised, chord, after, -1) is { Falls: true } motion ? motion : null;
    }

    private static bool IsOwn(Key key, Tone tone) => tone - key.Tonic is var above
        && (key.IsMinor ? above is >= -4 and <= 2 or 5 : above is >= -1 and <= 5);

    // The tonic of a minor key with a major third, in root position, at the end of a phrase that has a cadence or of the piece, that
    // nothing of the key follows as its own subdominant.
    private static bool IsPicardy(ChordInContext chord) =>
        chord.Key.IsMinor && chord.Above == 0 && chord is { Quality: ChordQuality.Major, Inversion: 0 }
        && chord.Before is { } before && (before.Above is 7 or 11 or 5 or 2 or 1)
        && (chord.Following().FirstOrDefault() is not { } next || next.Above != 5 || next.Reading.Onset > chord.Reading.End)
        && chord.IsAtClose;

    // bVII7 to I, most often after iv.
    private static bool IsBackDoor(ChordInContext chord) =>
        !chord.Key.IsMinor && chord.Above == 10 && chord.TriadMode == Mode.Major && chord.Following().FirstOrDefault()?.Above == 0;
}
