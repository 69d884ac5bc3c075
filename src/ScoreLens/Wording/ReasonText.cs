using ScoreLens.Density;
using ScoreLens.Devices;
using ScoreLens.Theory;

namespace ScoreLens.Wording;

/// <summary>The sentence that a teacher would say of a device, from its facts.</summary>
public static class ReasonText
{
    /// <summary>The sentence on the device of a row, and one on each pedal that does not belong to its chord; empty without a reason.
    /// </summary>
    public static string Of(ChordRow row)
    {
        ArgumentNullException.ThrowIfNull(row);
        return row.Chord.Reason switch
        {
            null => "",
            QuotedReason quoted => quoted.Text,
            var reason => Of(reason) + PedalText.Beside(row),
        };
    }

    /// <summary>The sentence; empty where there is no reason.</summary>
    public static string Of(DeviceReason? reason) => reason switch
    {
        null => "",
        QuotedReason quoted => quoted.Text,
        ToneReason tone => Of(tone),
        SixthReason sixth => Of(sixth),
        SixFourReason sixFour => Of(sixFour),
        ThirdReason third => Of(third),
        KeptToneReason kept => Of(kept),
        PicardyReason picardy =>
            $"{ToneText(picardy.Third)} is {DegreeWords.Of(picardy.Key, picardy.Third.Meant)}, the major third of a minor key's tonic at "
                + $"a close: a Picardy third.",
        TouchedKeyReason touched =>
            $"{Joined(touched.Tones)} {(touched.Tones.Count == 1 ? "is" : "are")} reckoned in {touched.Target.In(touched.Key)}, the key "
                + $"of {touched.Target}, which is touched here.",
        UnprovenReason unproven => Of(unproven),
        _ => throw new ArgumentOutOfRangeException(nameof(reason), reason, "Unknown kind of reason."),
    };

    private static string Of(ToneReason reason)
    {
        var degree = DegreeWords.Of(reason.Key, reason.Tone.Meant);
        var role = Role(reason);
        var what = $"{ToneText(reason.Tone)} is {(degree == role ? degree : $"{degree}, {role}")}";
        var course = CourseText(reason.Course, reason.Key, reason.Motion is not null);
        return reason.Motion is { } motion
            ? $"{what}; {(motion.Part is null ? "" : $"in {motion.Part} ")}it {MotionText(motion)}{course}."
            : $"{what}{course}.";
    }

    private static string Role(ToneReason reason) => reason.Role switch
    {
        ToneRole.LeadingTone => $"the leading tone of {reason.Target}",
        ToneRole.Seventh => $"the seventh of a dominant of {reason.Target}",
        ToneRole.NeapolitanRoot => "the root of the Neapolitan",
        ToneRole.SubstituteRoot => $"the root of a dominant seventh that stands for {reason.Root}7 a tritone away",
        ToneRole.Borrowed => $"borrowed from {reason.Key.Parallel}",
        ToneRole.RaisedFifth => $"the raised fifth of the dominant on {reason.Root}",
        ToneRole.BluesSeventh => "the seventh of a blues chord",
        ToneRole.LoweredFifth => $"the lowered fifth of the dominant on {reason.Root}",
        _ => "outside the key",
    };

    private static string Of(SixthReason reason)
    {
        var name = reason.Kind switch
        {
            ChordQuality.ItalianSixth => "an Italian",
            ChordQuality.FrenchSixth => "a French",
            _ =>
            "a German"
        };
        var (low, high) = (reason.Low.Written, reason.High.Written);
        var what = reason.IsWrittenAsSeventh
            ? $"{low} and {high}{Where(reason.Low)} are written as a minor seventh but stand for the augmented sixth of {name} sixth"
            : $"{Joined([reason.Low, reason.High])} are an augmented sixth, {DegreeWords.Of(reason.Key, reason.Low.Meant)} and "
                + $"{DegreeWords.Of(reason.Key, reason.High.Meant)} of {name} sixth";
        return (reason.LowMotion, reason.HighMotion) is ({ Falls: true } fall, { Rises: true } rise)
            ? $"{what}; {low} {MotionText(fall)} and {high} {MotionText(rise)}{CourseText(reason.Course, reason.Key, afterMotion: true)}."
            : $"{what}{CourseText(reason.Course, reason.Key, afterMotion: false)}.";
    }

    private static string Of(SixFourReason reason) =>
        $"{Joined(reason.Delaying)} delay the fifth and third of the dominant of "
            + $"{reason.Target}{CourseText(reason.Course, reason.Key, afterMotion: false)}.";

    private static string Of(ThirdReason reason)
    {
        var interval = reason.Semitones switch
        {
            3 => "a minor third above",
            4 => "a major third above",
            8 => "a major third below",
            _ => "a minor third below",
        };
        var neighbour = $"{Chord(reason.Other, reason.Chord.Key)}, the chord {(reason.IsBefore ? "before" : "after")} it";
        var tones = reason.Common is { } common ? $"{ToneText(common)} is common to both{(reason.IsHeld ? " and is held" : "")}"
            : "no tone is common to both";
        return $"{reason.Chord.Numeral} stands {interval} {neighbour}; {tones}.";
    }

    private static string Of(KeptToneReason reason)
    {
        var kept = ToneText(reason.Kept);
        if (reason.Decorated is not { } decorated) return $"{kept} is the tone that the chord keeps, but the chord on it does not follow.";
        var chord = Chord(decorated, reason.Key);
        if (!reason.ComesBack) return $"{kept} is kept from {chord}, but the diminished seventh does not go back to it.";
        var moving = reason.Moving.Count switch
        {
            0 => "",
            1 => $"; {ToneText(reason.Moving[0])} moves to that chord by step",
            _ => $"; {Joined(reason.Moving)} move to that chord by step",
        };
        if (reason.Between.Count == 0) return $"{kept} is kept from the diminished seventh as the root of {chord}{moving}.";
        return $"{kept} is kept from the diminished seventh; the chord moves through "
            + $"{string.Join(", ", reason.Between.Select(c => Chord(c, reason.Key)))} to {chord}.";
    }

    private static string Of(UnprovenReason reason)
    {
        var what = $"{reason.Chord.Numeral} is a reading here and not counted as a device ({reason.Device.Name()})";
        return reason.Doubt switch
        {
            Doubt.TooFewTones => $"{what}: fewer than three different tones sound, and no chord beside it proves it.",
            Doubt.ToneMissing => $"{what}: the tone that would make it one does not sound.",
            _ => $"{what}: its confidence is below the requested one.",
        };
    }

    /// <summary>A chord as a sentence in a key names it: <c>V7</c>, or <c>i of A minor</c> where its row has another key.</summary>
    private static string Chord(NamedChord chord, Key key) => chord.Key == key ? chord.Numeral.ToString()
        : $"{chord.Numeral} of {chord.Key}";

    // How the chord goes on, as the end of a sentence: after what a voice does, or after what the chord is.
    private static string CourseText(Course course, Key key, bool afterMotion)
    {
        var (when, but, and) = afterMotion ? (" as the chord", " but", " and") : ("; the chord", ", but", ", and");
        var between = string.Join(", ", course.Between.Select(c => Chord(c, key)));
        var through = between.Length == 0 ? "" : $"through {between} ";
        var expected = ExpectedText(course.Expected);
        return course switch
        {
            { Goal: null, Instead: null } => $"{but} nothing follows where {expected} is expected",
            { Goal: null, Instead: { } instead } => $"{but} {(between.Length == 0 ? "" : $"after {between} ")}{Chord(instead, key)} "
                + $"follows instead of {expected}",
            { Goal: { } goal, Resolution: Resolution.Delayed } => $"{and} {Chord(goal, key)} comes late, after {between}",
            { Goal: { } goal, IsDeceptive: true } => $"{when} goes deceptively {through}to {Chord(goal, key)} instead of {expected}",
            { Goal: { } goal } => $"{when} moves {through}to {Chord(goal, key)}",
        };
    }

    private static string ExpectedText(Expected expected) => expected switch
    {
        { Target: { } target } => target.ToString(),
        { Tone: { } tone } => $"a chord on {tone}",
        { Tonic: { } mode } => mode == Mode.Minor ? "i" : "I",
        _ => "a chord of the key",
    };

    private static string MotionText(ToneMotion motion) => motion.IsHeld ? "is held"
        : $"{(motion.Rises ? "rises" : "falls")} to {motion.To}";

    // A tone that does not sound is known from the symbol or the figures alone, and the sentence says so.
    private static string Where(SoundedTone tone) => tone.Source switch
    {
        ToneSource.Symbol => " in the written symbol",
        ToneSource.Figures => " in the figures",
        _ => "",
    };

    private static string ToneText(SoundedTone tone) => ToneName(tone) + Where(tone);

    private static string ToneName(SoundedTone tone) => tone.Meant == tone.Written ? tone.Written.ToString()
        : $"{tone.Meant} (written {tone.Written})";

    private static string Joined(IReadOnlyList<SoundedTone> tones)
    {
        if (tones.Count <= 1) return string.Concat(tones.Select(ToneText));
        // Of tones that are named together all sound, or all are said of the symbol.
        return $"{string.Join(", ", tones.SkipLast(1).Select(ToneName))} and {ToneName(tones[^1])}{Where(tones[0])}";
    }
}
