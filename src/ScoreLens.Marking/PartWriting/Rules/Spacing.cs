using ScoreLens.Marking.Facts;

namespace ScoreLens.Marking.PartWriting.Rules;

/// <summary>Upper voices more than an octave apart, or hands that cannot reach.</summary>
internal sealed class Spacing : PartWritingRule
{
    private const int Octave = 12, TwoOctaves = 24;

    /// <inheritdoc/>
    public override RemarkKind Kind => RemarkKind.Spacing;

    /// <inheritdoc/>
    public override string Sentence =>
        "Soprano and alto, and alto and tenor, stay within an octave of each other; at the keyboard the right hand's three voices do.";

    /// <inheritdoc/>
    public override string Exceptions => "Tenor and bass, up to two octaves; a gap that only a non-chord note makes.";

    /// <inheritdoc/>
    public override string Source => "Kostka and Payne, Tonal Harmony, ch. 5; Aldwell and Schachter, ch. 5, keyboard style (from memory).";

    /// <inheritdoc/>
    public override double Weight => 0.5;

    internal override IEnumerable<Fault> Find(VoicedProgression progression)
    {
        var pairs = progression.Options.Style == PartWritingStyle.Keyboard && progression.Bass > 1
            ? [(0, progression.Bass - 1, Octave)]
            : Enumerable.Range(0, progression.Bass).Select(v =>
                (Upper: v, Lower: v + 1, Most: v + 1 == progression.Bass ? TwoOctaves : Octave));
        foreach (var (upper, lower, most) in pairs)
        {
            var isWide = false;
            foreach (var moment in progression.Moments)
            {
                var wasWide = isWide;
                isWide = moment.Notes[upper] is { } u && moment.Notes[lower] is { } l && u.Pitch.Midi - l.Pitch.Midi > most
                    && (wasWide || (progression.IsChordNote(u, moment) && progression.IsChordNote(l, moment)));
                if (!isWide || wasWide) continue;
                var (high, low) = (moment.Notes[upper]!, moment.Notes[lower]!);
                yield return At(moment.Onset, new PairFacts(high, low, most / Octave), high, low);
            }
        }
    }
}
