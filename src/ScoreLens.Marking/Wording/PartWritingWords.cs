using ScoreLens.Marking.Facts;
using ScoreLens.Marking.PartWriting;
using ScoreLens.Theory;

namespace ScoreLens.Marking.Wording;

/// <summary>Sentences about voice leading, doubling, spacing and range, as a teacher would say them.</summary>
internal static class PartWritingWords
{
    public static string Text(Remark remark) => remark.Facts switch
    {
        MotionFacts facts => Motion(remark, facts.Motion),
        PairFacts facts when remark.Kind == RemarkKind.Spacing =>
            $"{Notes.Voices(remark)} are more than {Octaves(facts)} apart: {Notes.Pitch(facts.High.Pitch)} over "
                + $"{Notes.Pitch(facts.Low.Pitch)}.",
        PairFacts facts =>
            $"{Notes.Voices(remark)} cross: {Notes.Pitch(facts.Low.Pitch)} in the {remark.Voices[^1]} lies above "
            + $"{Notes.Pitch(facts.High.Pitch)} in the {remark.Voices[0]}.",
        OverlapFacts facts => Overlap(remark, facts),
        RangeFacts facts =>
            $"{Notes.Pitch(facts.Note.Pitch)} is too {(facts.Note.Pitch.Midi > facts.Range.Highest.Midi ? "high" : "low")} for the "
                + $"{remark.Voices[0]}.",
        DoubledFacts facts =>
            $"{Notes.Voices(remark)} both have the {(remark.Kind == RemarkKind.DoubledSeventh ? "seventh" : "leading tone")} "
                + $"{Notes.Tone(facts.Tone)}.",
        TendencyFacts facts => Tendency(remark, facts),
        StepFacts facts => Step(remark, facts),
        MissingToneFacts facts => $"The chord {facts.Numeral.ToDisplayString()} has no third, {Notes.Tone(facts.Tone)}.",
        SixFourFacts facts => SixFour(facts),
        DoublingFacts facts => $"{Notes.Voices(remark)} double {Member(facts.Member)}, {Notes.Tone(facts.Tone)}.",
        _ => "",
    };

    public static string Advice(Remark remark) => remark.Facts switch
    {
        MotionFacts facts => MotionAdvice(remark.Kind, facts.Motion),
        PairFacts facts when remark.Kind == RemarkKind.Spacing =>
            $"Bring the {remark.Voices[0]} and the {remark.Voices[^1]} within {Octaves(facts)}, for example by moving the "
                + $"{remark.Voices[^1]} up an octave.",
        PairFacts => "Exchange the two notes between the voices, or move one of them by an octave.",
        OverlapFacts => "Take the nearest chord note in each voice instead.",
        RangeFacts facts => $"Keep the {remark.Voices[0]} between {Notes.Pitch(facts.Range.Lowest)} and "
            + $"{Notes.Pitch(facts.Range.Highest)}.",
        DoubledFacts facts =>
            $"Keep it in one voice and double the {(facts.InsteadMember == 0 ? "root" : "third")}, {Notes.Tone(facts.Instead)}.",
        TendencyFacts facts => TendencyAdvice(remark.Kind, facts),
        StepFacts facts => StepAdvice(remark.Kind, facts),
        MissingToneFacts facts => $"Give {Notes.Tone(facts.Tone)} to one of the upper voices.",
        SixFourFacts facts => SixFourAdvice(facts),
        DoublingFacts facts => DoublingAdvice(facts),
        _ => "",
    };

    private static string Motion(Remark remark, PairMotion m)
    {
        var voices = Notes.Voices(remark);
        var notes = $"{Notes.Tone(m.UpperFrom)} over {Notes.Tone(m.LowerFrom)}, then {Notes.Tone(m.UpperTo)} over {Notes.Tone(m.LowerTo)}";
        return remark.Kind switch
        {
            RemarkKind.ParallelFifths => $"{voices} move in parallel fifths: {notes}.",
            RemarkKind.ParallelOctaves => $"{voices} move in parallel octaves: {notes}.",
            RemarkKind.ParallelUnisons => $"{voices} move in parallel unisons: {notes}.",
            RemarkKind.FifthsByContraryMotion => $"{voices} make fifths by contrary motion: {notes}.",
            RemarkKind.OctavesByContraryMotion => $"{voices} make octaves by contrary motion: {notes}.",
            RemarkKind.FifthsAroundNonChordNote =>
                $"Only a non-chord note stands between parallel fifths of {Amounts.List(remark.Voices)}: {notes}.",
            RemarkKind.OctavesAroundNonChordNote =>
                $"Only a non-chord note stands between parallel octaves of {Amounts.List(remark.Voices)}: {notes}.",
            RemarkKind.DirectFifths => $"Soprano and bass reach a fifth in the same direction, the soprano by leap: {notes}.",
            RemarkKind.DirectOctaves => $"Soprano and bass reach an octave in the same direction, the soprano by leap: {notes}.",
            _ => $"{voices} move from a diminished to a perfect fifth: {notes}.",
        };
    }

    private static string MotionAdvice(RemarkKind kind, PairMotion m) => kind switch
    {
        RemarkKind.FifthsByContraryMotion or RemarkKind.OctavesByContraryMotion =>
            "Contrary motion does not mend them: take another chord note in one of the two voices.",
        RemarkKind.FifthsAroundNonChordNote or RemarkKind.OctavesAroundNonChordNote =>
            "A non-chord note does not mend them: lead the chord notes themselves another way.",
        RemarkKind.DirectFifths or RemarkKind.DirectOctaves => "Move the soprano by step, or move the outer voices in opposite directions.",
        RemarkKind.DiminishedToPerfectFifth =>
            $"Resolve the diminished fifth inward: {Notes.Tone(m.UpperFrom)} falls by step while {Notes.Tone(m.LowerFrom)} rises.",
        _ => "Move one of the two voices the other way, or let it keep its note.",
    };

    private static string Octaves(PairFacts facts) => facts.Octaves == 1 ? "an octave" : "two octaves";

    private static string Overlap(Remark remark, OverlapFacts facts)
    {
        var isLowerMoved = facts.Moved.Voice > facts.Left.Voice;
        var (moved, left) = isLowerMoved ? (remark.Voices[^1], remark.Voices[0]) : (remark.Voices[0], remark.Voices[^1]);
        return $"{Notes.Voices(remark)} overlap: the {moved} goes to {Notes.Pitch(facts.Moved.Pitch)}, "
            + $"{(isLowerMoved ? "above" : "below")} the {Notes.Pitch(facts.Left.Pitch)} that the {left} has just left.";
    }

    private static string Tendency(Remark remark, TendencyFacts facts)
    {
        var (from, to, voice) = (Notes.Tone(facts.From), Notes.Tone(facts.To), remark.Voices[0]);
        var motion = Interval.Between(facts.From.Pitch, facts.To.Pitch);
        return remark.Kind switch
        {
            RemarkKind.LeadingToneUnresolved when motion.Direction == 0 =>
                $"The leading tone {from} in the {voice} stays instead of rising to {Notes.Tone(facts.Goal!.Value)}.",
            RemarkKind.LeadingToneUnresolved =>
                $"The leading tone {from} in the {voice} goes {Notes.Direction(motion)} {Notes.WithArticle(motion)} to {to} "
                + $"instead of rising to {Notes.Tone(facts.Goal!.Value)}.",
            RemarkKind.SeventhUnresolved => $"The seventh {from} in the {voice} goes {Notes.Direction(motion)} "
                + $"{Notes.WithArticle(motion)} to {to}.",
            RemarkKind.AugmentedSixthNotOutward =>
                $"{from} of the augmented sixth, in the {voice}, goes to {to} instead of {(IsFlatSixth(facts) ? "falling" : "rising")} "
                + $"to {Notes.Tone(facts.Goal!.Value)}.",
            _ => $"{from} of the Neapolitan, in the {voice}, goes {Notes.Direction(motion)} to {to} instead of falling.",
        };
    }

    private static string TendencyAdvice(RemarkKind kind, TendencyFacts facts)
    {
        var from = Notes.Tone(facts.From);
        return kind switch
        {
            RemarkKind.LeadingToneUnresolved => $"Lead {from} up by step to {Notes.Tone(facts.Goal!.Value)}.",
            RemarkKind.SeventhUnresolved => $"Lead {from} down by step.",
            RemarkKind.AugmentedSixthNotOutward =>
                $"Open the augmented sixth outward: {from} moves by semitone {(IsFlatSixth(facts) ? "down" : "up")} to "
                    + $"{Notes.Tone(facts.Goal!.Value)}.",
            _ => $"Lead {from} down by step to {Notes.Tone(facts.Through!.Value)}, or down to the leading tone "
                + $"{Notes.Tone(facts.Goal!.Value)}.",
        };
    }

    // The flat sixth lies five fifths below the fifth degree, the raised fourth five above.
    private static bool IsFlatSixth(TendencyFacts facts) => facts.Goal!.Value - facts.From.Pitch.Tone > 0;

    private static string Step(Remark remark, StepFacts facts)
    {
        var (voice, direction) = (remark.Voices[0], Notes.Direction(facts.Interval));
        var notes = $"{Notes.Tone(facts.From)} to {Notes.Tone(facts.To)}";
        return remark.Kind switch
        {
            RemarkKind.MelodicAugmentedSecond => $"The {voice} moves {direction} an augmented second, {notes}.",
            RemarkKind.MelodicTritone when IsAugmentedFourth(facts) => $"The {voice} leaps {direction} an augmented fourth, {notes}.",
            RemarkKind.MelodicTritone => $"The {voice} leaps {direction} a diminished fifth, {notes}, and does not turn back by step.",
            _ => $"The {voice} leaps {direction} {Notes.WithArticle(facts.Interval)}, {notes}, and does not turn back"
                + (facts.IsDissonant ? " by step." : "."),
        };
    }

    private static string StepAdvice(RemarkKind kind, StepFacts facts) => kind switch
    {
        RemarkKind.MelodicAugmentedSecond => "Approach the raised note from below or by a smaller step, or give the two notes to "
            + "different voices.",
        RemarkKind.MelodicTritone when IsAugmentedFourth(facts) =>
            "Leap a diminished fifth the other way and turn back by step, or fill the fourth with steps.",
        RemarkKind.MelodicTritone => "After the leap move one step back the other way.",
        _ when facts.IsDissonant => "Avoid the leap, or move one step back after it.",
        _ => "After the leap move back the other way, best by step.",
    };

    private static bool IsAugmentedFourth(StepFacts facts) => facts.Interval.Size.Steps == 3;

    private static string SixFour(SixFourFacts facts) => facts.Fault switch
    {
        SixFourFault.WeakBeat => $"The cadential six-four {facts.Numeral.ToDisplayString()} stands on a weaker beat than the V that it "
            + $"delays.",
        SixFourFault.EndsPhrase => $"The phrase ends on the six-four chord {facts.Numeral.ToDisplayString()}, over "
            + $"{Notes.Tone(facts.Bass)}.",
        _ => $"The six-four chord {facts.Numeral.ToDisplayString()} over {Notes.Tone(facts.Bass)} is neither cadential, passing, pedal "
            + $"nor arpeggiated.",
    };

    private static string SixFourAdvice(SixFourFacts facts) => facts.Fault switch
    {
        SixFourFault.WeakBeat => "Put the six-four on the stronger beat and V after it, or go to V at once.",
        SixFourFault.EndsPhrase => "End the phrase on a chord in root position: put the root in the bass, or go on to V.",
        _ when facts.Numeral.Degree == 1 => "Take V after it over the same bass, or lead the bass into and out of it by step.",
        _ => "Take root position or a six-three, or lead the bass into and out of it by step.",
    };

    private static string Member(DoubledMember member) => member switch
    {
        DoubledMember.FlatSixth => "the flat sixth of the augmented sixth",
        DoubledMember.RaisedFourth => "the raised fourth of the augmented sixth",
        DoubledMember.FifthThreeTimes => "the fifth three times",
        DoubledMember.ThirdThreeTimes => "the third three times",
        DoubledMember.RootOfSixFour => "the root of a six-four",
        DoubledMember.ThirdOfSixFour => "the third of a six-four",
        _ => "the third of a major triad",
    };

    private static string DoublingAdvice(DoublingFacts facts)
    {
        var instead = Notes.Tone(facts.Instead);
        return facts.Member switch
        {
            DoubledMember.FlatSixth or DoubledMember.RaisedFourth => $"Keep it in one voice and double {instead}.",
            DoubledMember.FifthThreeTimes => $"Take the root {instead} or the third in one of the voices.",
            DoubledMember.ThirdThreeTimes => $"Take the root {instead} in one of the voices.",
            DoubledMember.RootOfSixFour or DoubledMember.ThirdOfSixFour => $"Double the bass, {instead}.",
            _ => $"Double the root, {instead}.",
        };
    }
}
