using ScoreLens.Marking.Facts;

namespace ScoreLens.Marking.PartWriting.Rules;

/// <summary>A note that the voice cannot sing.</summary>
internal sealed class VoiceRangeLeft : PartWritingRule
{
    /// <inheritdoc/>
    public override RemarkKind Kind => RemarkKind.Range;

    /// <inheritdoc/>
    public override string Sentence => "Each voice stays inside its range.";

    /// <inheritdoc/>
    public override string Exceptions => "Keyboard style, unless ranges are given.";

    /// <inheritdoc/>
    public override string Source =>
        "Kostka and Payne, Tonal Harmony, ch. 5; Laitz, The Complete Musician (from memory); the assignment's own ranges.";

    /// <inheritdoc/>
    public override double Weight => 0.5;

    internal override IEnumerable<Fault> Find(VoicedProgression progression)
    {
        var ranges = progression.Options.RangesInForce;
        if (ranges.Count != progression.Voices.Count) yield break;
        foreach (var note in progression.Voices.SelectMany(v => v))
        {
            var range = ranges[note.Voice];
            if (note.Pitch.Midi <= range.Highest.Midi && note.Pitch.Midi >= range.Lowest.Midi) continue;
            yield return At(note.Onset, new RangeFacts(note, range), note);
        }
    }
}
