using ScoreLens.Marking.Facts;

namespace ScoreLens.Marking.PartWriting.Species;

/// <summary>How many notes the counterpoint has against one of the cantus firmus.</summary>
internal sealed class CounterpointRhythm : SpeciesRule
{
    /// <inheritdoc/>
    public override RemarkKind Kind => RemarkKind.CounterpointRhythm;

    /// <inheritdoc/>
    public override string Sentence =>
        "First species has one note against each of the cantus firmus, second two, third four, fourth one that is held over from the "
            + "middle.";

    /// <inheritdoc/>
    public override string Exceptions =>
        "A rest at the beginning; one note against the last; one against the last but one in second species; two in fourth, where no "
        + "suspension is possible.";

    internal override IEnumerable<Fault> Find(TwoVoices voices)
    {
        foreach (var (i, note) in voices.Cantus.Index())
        {
            var starting = voices.Line.Count(l => l.Onset >= note.Onset && l.Onset < note.End);
            var held = voices.Line.Any(l => l.Onset < note.Onset && l.End > note.Onset);
            var usual = voices.Species switch { 1 => 1, 2 => 2, 3 => 4, _ => 1 };
            var (isFirst, isLast, isLastButOne) = (i == 0, i == voices.Cantus.Count - 1, i == voices.Cantus.Count - 2);
            var isRight = isLast ? starting + (held ? 1 : 0) >= 1 && starting <= 1
                : starting == usual || (isFirst && starting == usual - 1 && usual > 1)
                    || (isLastButOne && voices.Species == 2 && starting == 1) || (voices.Species == 4 && starting == 2);
            if (!isRight) yield return At(note.Onset, new SpeciesCountFacts(note, starting, isLast ? 1 : usual), note);
        }
    }
}
