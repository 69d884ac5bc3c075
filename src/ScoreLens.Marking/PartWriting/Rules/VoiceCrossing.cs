using ScoreLens.Marking.Facts;

namespace ScoreLens.Marking.PartWriting.Rules;

/// <summary>A voice below the next lower one.</summary>
internal sealed class VoiceCrossing : PartWritingRule
{
    /// <inheritdoc/>
    public override RemarkKind Kind => RemarkKind.VoiceCrossing;

    /// <inheritdoc/>
    public override string Sentence => "A voice stays above the voice below it.";

    /// <inheritdoc/>
    public override string Exceptions =>
        "A crossing by a non-chord note alone; in keyboard style the voices are told apart by height, so that none cross.";

    /// <inheritdoc/>
    public override string Source => "Kostka and Payne, Tonal Harmony, ch. 5; Aldwell and Schachter, ch. 5 (from memory).";

    /// <inheritdoc/>
    public override double Weight => 0.5;

    internal override IEnumerable<Fault> Find(VoicedProgression progression)
    {
        for (var upper = 0; upper + 1 < progression.Voices.Count; upper++)
        {
            var isCrossed = false;
            foreach (var moment in progression.Moments)
            {
                var wasCrossed = isCrossed;
                isCrossed = moment.Notes[upper] is { } u && moment.Notes[upper + 1] is { } l && u.Pitch.Midi < l.Pitch.Midi
                    && (wasCrossed || (progression.IsChordNote(u, moment) && progression.IsChordNote(l, moment)));
                if (!isCrossed || wasCrossed) continue;
                var (high, low) = (moment.Notes[upper]!, moment.Notes[upper + 1]!);
                yield return At(moment.Onset, new PairFacts(high, low), high, low);
            }
        }
    }
}
