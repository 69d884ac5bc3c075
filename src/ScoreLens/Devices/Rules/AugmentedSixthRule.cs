using ScoreLens.Theory;

namespace ScoreLens.Devices.Rules;

/// <summary>
/// Italian, French and German sixths: the flat sixth in the bass with the raised fourth above, an augmented sixth that
/// opens outward to the octave on 5; the German one often through Cad64. Applied to another degree, the octave is that
/// degree's. Spelling decides first. A chord spelled as a dominant seventh is one where its seventh rises; a chord spelled
/// as a German sixth is none where it goes to the root a fifth below as a dominant seventh does.
/// </summary>
internal sealed class AugmentedSixthRule : IDeviceRule
{
    public DeviceFinding? Examine(ChordInContext chord)
    {
        if (Outer(chord) is not { } outer) return null;
        var (low, high, kind) = outer;
        // A semitone below the lower tone, which is a semitone above the upper one.
        var goalTone = (low + 5).NearestTo(chord.Key.Tonic);
        var toDominant = Tone.Semitones(chord.Key.Tonic, goalTone) == 7;
        var labelled = chord.Numeral.Kind == NumeralKind.AugmentedSixth;
        var next = chord.Following().FirstOrDefault();
        var spelling = SpellingOf(chord, low, high, goalTone);
        var opens = next?.StandsOn(goalTone) == true;
        // A chord symbol writes a dominant seventh; only where it goes on as a sixth is it one.
        if (chord.Reading.Written is not null && !labelled && !opens) return null;
        var target = toDominant ? null : OwnDegrees.Target(chord.Key, goalTone, next?.TriadMode);
        var course = Course.To(
            chord, toDominant ? Expected.Dominant : Expected.On(target, goalTone), c => c.StandsOn(goalTone) && !c.IsCadential, c =>
                c.IsCadential && c.StandsOn(goalTone));
        if (course.Goal is null && opens) course = course.Reaching(chord, next!);
        if (!toDominant && !labelled && (spelling != Spelling.Sixth || !opens
            || (kind == ChordQuality.FrenchSixth && chord.Inversion != 0))) return null;
        if (kind == ChordQuality.ItalianSixth && !toDominant && !labelled) return null;
        var confirmed = spelling switch
        {
            Spelling.Sixth => true,
            Spelling.Seventh => toDominant && opens && RisesFromSeventh(high, chord, next!),
            // The spelling proves nothing; a German sixth is one where the octave opens.
            _ when labelled && kind != ChordQuality.GermanSixth => !goalTone.IsEnharmonicWith(chord.Key.Tonic),
            _ when toDominant && opens => RisesFromSeventh(high, chord, next!),
            // Over the tonic the substitute is by far the more frequent.
            _ => labelled && !goalTone.IsEnharmonicWith(chord.Key.Tonic),
        };
        // As a dominant seventh it would fall a fifth; in another inversion a French sixth is an altered dominant.
        if (!opens && next?.StandsOn(low + -1) == true) confirmed = false;
        if (kind == ChordQuality.FrenchSixth && chord.Inversion == 2 && !labelled) confirmed = false;

        // After the dominant that it substitutes it goes on as that substitute would, however its seventh is written.
        if (!toDominant && !labelled && chord.Before is { IsDominantSeventh: true } before
            && Tone.Semitones(before.Tones[0], low) == 6) confirmed = false;

        return new DeviceFinding(Device.AugmentedSixth, confirmed, course.Resolution,
            ReasonOf(chord, low, high, kind, spelling, next, course), target);
    }

    // Both outer tones have to sound; each moves where a voice takes it outward.
    private static SixthReason? ReasonOf(
        ChordInContext chord, Tone low, Tone high, ChordQuality kind, Spelling spelling, ChordInContext? next, Course course)
    {
        if (chord.Sounded([low, high]) is not [var lower, var upper]) return null;
        var goal = course.GoalInContext is null ? null : next;
        return new SixthReason(
            chord.Key, lower, upper, kind, spelling == Spelling.Seventh,
            goal is null ? null : VoiceLeading.Of(low, chord, goal, -1), goal is null ? null : VoiceLeading.Of(high, chord, goal, 1),
                course);
    }

    private enum Spelling
    {
        /// <summary>An augmented sixth is written.</summary>
        Sixth,

        /// <summary>A minor seventh is written.</summary>
        Seventh,

        /// <summary>Neither: a tone was respelled to avoid a double accidental.</summary>
        Vague,
    }

    private static Spelling SpellingOf(ChordInContext chord, Tone low, Tone high, Tone goal)
    {
        // Where the other spelling needs a double accidental, which many people write as a simple one, what is written
        // proves nothing.
        var (bottom, top) = (chord.Written(low), chord.Written(high));
        if (top - bottom == 10 && IsSimple(goal.Fifths - 7)) return Spelling.Sixth;
        if (top - bottom == -2 && IsSimple(goal.Fifths + 5) && IsSimple(goal.Fifths - 5)) return Spelling.Seventh;
        return Spelling.Vague;
    }

    // Whether the tone at a place on the line of fifths is written with one accidental at most.
    private static bool IsSimple(int fifths) => fifths is >= -8 and <= 12;

    // The lower and the upper tone of the sixth and the kind, where the chord has the shape.
    private static (Tone Low, Tone High, ChordQuality Kind)? Outer(ChordInContext chord)
    {
        if (chord.Quality.IsAugmentedSixth()) return (chord.Tones[0], chord.Tones[^1], chord.Quality);
        if (chord is { IsDominantSeventh: true, AlteredFifth: null }) return (chord.Tones[0], chord.Tones[3], ChordQuality.GermanSixth);
        return null;
    }

    private static bool RisesFromSeventh(Tone seventh, ChordInContext chord, ChordInContext next)
    {
        if (next.IsCadential) return true;
        // A dominant with its own seventh takes the substitute's seventh down to it: no octave opens.
        return !next.Quality.IsSeventh() && VoiceLeading.Of(seventh, chord, next, -1) is not { Falls: true };
    }
}
