using ScoreLens.Marking.Facts;
using ScoreLens.Theory;

namespace ScoreLens.Marking.PartWriting.Species;

/// <summary>A dissonance that the species does not allow.</summary>
internal sealed class CounterpointDissonance : SpeciesRule
{
    /// <inheritdoc/>
    public override RemarkKind Kind => RemarkKind.CounterpointDissonance;

    /// <inheritdoc/>
    public override string Sentence =>
        "Where the cantus firmus enters, the counterpoint is consonant; the fourth is a dissonance in two voices. First species has no "
            + "other "
        + "place.";

    /// <inheritdoc/>
    public override string Exceptions =>
        "Second species: a passing note on the weak half. Third: passing and neighbouring notes, and the cambiata. Fourth: a suspension "
            + "that "
        + "is prepared by a consonance and falls by step to one.";

    internal override IEnumerable<Fault> Find(TwoVoices voices) =>
        from s in voices.Soundings
        where !s.IsConsonant && !IsAllowed(voices, s)
        select At(s.Onset, new SpeciesPairFacts(s.Line, s.Cantus, voices.Species), s.Line, s.Cantus);

    private static bool IsAllowed(TwoVoices voices, Sounding sounding) => voices.Species switch
    {
        2 => !sounding.IsStrong && IsPassing(voices, sounding.Line),
        3 => !sounding.IsStrong && (IsPassing(voices, sounding.Line) || IsNeighbour(voices, sounding.Line)
            || IsCambiata(voices, sounding.Line)),
        4 => IsSuspension(voices, sounding) || (!sounding.IsStrong && IsPassing(voices, sounding.Line)),
        _ => false,
    };

    private static (Interval To, Interval From)? Around(TwoVoices voices, LineNote note) =>
        voices.Before(note) is { } before && voices.After(note) is { } after
            ? (Interval.Between(before.Pitch, note.Pitch), Interval.Between(note.Pitch, after.Pitch))
            : null;

    private static bool IsPassing(TwoVoices voices, LineNote note) =>
        Around(voices, note) is { To.IsStep: true, From.IsStep: true } a && a.To.Direction == a.From.Direction;

    private static bool IsNeighbour(TwoVoices voices, LineNote note) =>
        Around(voices, note) is { To.IsStep: true, From.IsStep: true } a && a.To.Direction != a.From.Direction;

    // Down by step to the dissonance, down a third, up by step.
    private static bool IsCambiata(TwoVoices voices, LineNote note) =>
        Around(voices, note) is { To: { IsStep: true, Direction: < 0 }, From.Steps: -2 }
        && voices.After(note) is { } third && voices.After(third) is { } fourth
        && Interval.Between(third.Pitch, fourth.Pitch) is { IsStep: true, Direction: > 0 };

    private static bool IsSuspension(TwoVoices voices, Sounding sounding) =>
        sounding.IsHeld
        && voices.Soundings.FirstOrDefault(s => s.Line == sounding.Line) is { IsConsonant: true }
        && voices.After(sounding.Line) is { } next
        && Interval.Between(sounding.Line.Pitch, next.Pitch) is { IsStep: true, Direction: < 0 }
        && new Sounding(next, sounding.Cantus) is { IsConsonant: true } && next.Onset < sounding.Cantus.End;
}
