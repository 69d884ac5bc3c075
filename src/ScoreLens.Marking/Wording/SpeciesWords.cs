using ScoreLens.Marking.Facts;
using ScoreLens.Theory;

namespace ScoreLens.Marking.Wording;

/// <summary>Sentences about two-part counterpoint, as a teacher would say them.</summary>
internal static class SpeciesWords
{
    public static string Text(RemarkKind kind, SpeciesFacts facts) => facts switch
    {
        SpeciesCountFacts f => $"{Amounts.Capital(Amounts.Count(f.Found, "note"))} against {Notes.Tone(f.Cantus)} of the cantus firmus; "
            + $"the species has {f.Usual}.",
        SpeciesStepFacts f => Step(kind, f),
        SpeciesPairFacts f => Pair(kind, f),
        _ => throw new ArgumentOutOfRangeException(nameof(facts), facts, "Unknown facts."),
    };

    public static string Advice(RemarkKind kind, SpeciesFacts facts) => kind switch
    {
        RemarkKind.CounterpointRhythm => "Write as many notes as the species has; a rest may stand at the beginning only.",
        RemarkKind.CounterpointDissonance => facts is SpeciesPairFacts { Species: 4 }
            ? "Prepare the suspension by a consonance and let it fall by step to another."
            : facts is SpeciesPairFacts { Species: > 1 } ? "Take a consonance, or lead the weak note through by step."
            : "Take a third, fifth, sixth or octave.",
        RemarkKind.CounterpointOpening => "Begin with a unison or octave, or with a fifth above the cantus firmus.",
        RemarkKind.CounterpointCadence => "Close with the leading tone and the second degree going to the octave or unison from both "
            + "sides.",
        RemarkKind.CounterpointUnison => "Keep the unison for the beginning and the end.",
        RemarkKind.CounterpointDirectMotion => "Approach fifths and octaves in contrary motion.",
        RemarkKind.CounterpointStrongBeats => "Take another consonance on one of the two strong beats.",
        RemarkKind.CounterpointLeap => "Take a step, or a leap that is easy to sing.",
        RemarkKind.CounterpointRepetition => "Move to another consonance.",
        RemarkKind.CounterpointClimax => "Let one note stand above all others, once.",
        RemarkKind.CounterpointRun => "Break the row with a perfect consonance or the other imperfect one.",
        _ => "",
    };

    private static string Step(RemarkKind kind, SpeciesStepFacts facts)
    {
        var motion = Interval.Between(facts.From.Pitch, facts.To.Pitch);
        return kind switch
        {
            RemarkKind.CounterpointClimax => $"The highest note, {Notes.Pitch(facts.From.Pitch)}, comes more than once.",
            RemarkKind.CounterpointRepetition => $"{Notes.Tone(facts.From)} is repeated at once.",
            _ => $"{Notes.Tone(facts.From)} goes {Notes.Direction(motion)} {Notes.WithArticle(motion)} to {Notes.Tone(facts.To)}.",
        };
    }

    private static string Pair(RemarkKind kind, SpeciesPairFacts facts)
    {
        var interval = Interval.Between(facts.Cantus.Pitch, facts.Line.Pitch).Size;
        var notes = $"{Notes.Tone(facts.Line)} against {Notes.Tone(facts.Cantus)}";
        return kind switch
        {
            RemarkKind.CounterpointDissonance => $"{notes} is {Notes.WithArticle(interval)}, a dissonance that has no place here.",
            RemarkKind.CounterpointOpening => $"The counterpoint begins with {Notes.WithArticle(interval)}, {notes}.",
            RemarkKind.CounterpointCadence => interval.IsOctave
                ? $"The close, {notes}, is not reached by step in contrary motion."
                : $"The counterpoint closes with {Notes.WithArticle(interval)}, {notes}.",
            RemarkKind.CounterpointUnison => $"{notes} is a unison inside the exercise.",
            RemarkKind.CounterpointDirectMotion => $"Both voices go in the same direction to {Notes.WithArticle(interval)}, {notes}.",
            RemarkKind.CounterpointStrongBeats => $"Two strong beats in a row have {Plural(interval)}, the second {notes}.",
            _ => $"{notes} is the fourth {(interval.Steps % 7 == 2 ? "third" : "sixth")} in a row.",
        };
    }

    private static string Plural(Interval interval) => interval.IsFifth ? "fifths" : "octaves";
}
