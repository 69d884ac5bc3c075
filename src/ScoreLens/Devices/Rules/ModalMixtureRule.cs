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
        var colour = chord.Tones.First(t => !IsOwn(chord.Key, t));
        if (IsPicardy(chord))
        {
            return new DeviceFinding(
                Device.ModalMixture, true, Resolution.Resolved,
                $"{colour} is the raised third degree, the major third of a minor key's tonic at a close: a Picardy third.");
        }

        var way = Continuation.To(chord, c => !c.IsOutside, c => c.IsOutside && Diatonic.Contains(c.Key.Parallel, c.Tones));
        var goal = chord.Following().FirstOrDefault();
        var motion = goal is null ? null : VoiceLeading.Of(colour, chord, goal);
        var role = $"borrowed from {chord.Key.Parallel}";
        var end = way.Goal is null ? way.Says("a chord of the key", chord) : way.Says(way.Goal.Numeral.ToString(), chord);
        return new DeviceFinding(Device.ModalMixture, (!onFlatSixth && !chord.IsApplied && !CommonToneDiminishedRule.IsSpelledTriad(chord, goal)) || IsBackDoor(chord), way.Resolution, Sentence.Of(chord.Key, colour, role, motion, end));
    }

    /// <summary>
    /// In minor a ii or IV is the melodic scale's where its raised sixth degree rises to the raised seventh or comes from it; the
    /// motion of a raised sixth that does neither and falls, else null.
    /// </summary>
    public static Motion? IsRaisedSixthFalling(ChordInContext chord)
    {
        if (!chord.Key.IsMinor || chord.After is not { } after || chord.Before is not { } before) return null;
        var isSubdominant = (chord.Above, chord.TriadMode) is (5, Mode.Major) or (2, Mode.Minor);
        if (!isSubdominant || chord.Key != after.Key) return null;
        var raised = chord.Key.Tonic + 3;
        if (!chord.Has(raised) || before.Has(raised + 2) || after.Has(raised + 2)) return null;
        return VoiceLeading.Of(raised, chord, after) is { Falls: true } motion ? motion : null;
    }

    private static bool IsOwn(Key key, Tone tone) => tone - key.Tonic is var above && (key.IsMinor ? above is >= -4 and <= 2 or 5 : above is >= -1 and <= 5);

    // The tonic of a minor key with a major third, in root position, that nothing of the key follows as its own subdominant.
    private static bool IsPicardy(ChordInContext chord) =>
        chord.Key.IsMinor && chord.Above == 0 && chord is { Quality: ChordQuality.Major, Inversion: 0 }
        && chord.Before is { } before && (before.Above is 7 or 11 or 5 or 2 or 1)
        && (chord.Following().FirstOrDefault() is not { } next || next.Above != 5 || next.Reading.Onset > chord.Reading.End);

    // bVII7 to I, most often after iv.
    private static bool IsBackDoor(ChordInContext chord) =>
        !chord.Key.IsMinor && chord.Above == 10 && chord.TriadMode == Mode.Major && chord.Following().FirstOrDefault()?.Above == 0;
}
