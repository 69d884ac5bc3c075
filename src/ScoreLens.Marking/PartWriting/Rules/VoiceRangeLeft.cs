namespace ScoreLens.Marking.PartWriting.Rules;

/// <summary>A note that the voice cannot sing.</summary>
public sealed class VoiceRangeLeft : PartWritingRule
{
    /// <inheritdoc/>
    public override string Name => "range";

    /// <inheritdoc/>
    public override string Sentence => "Each voice stays inside its range.";

    /// <inheritdoc/>
    public override string Exceptions => "Keyboard style, unless ranges are given.";

    /// <inheritdoc/>
    public override string Source => "Kostka and Payne, Tonal Harmony, ch. 5; Laitz, The Complete Musician (from memory); the assignment's own ranges.";

    /// <inheritdoc/>
    public override double Weight => 0.5;

    internal override IEnumerable<Fault> Find(VoicedProgression progression)
    {
        var ranges = progression.Options.RangesInForce;
        if (ranges.Count != progression.Voices.Count) yield break;
        foreach (var note in progression.Voices.SelectMany(v => v))
        {
            var range = ranges[note.Voice];
            var tooHigh = note.Pitch.Midi > range.Highest.Midi;
            if (!tooHigh && note.Pitch.Midi >= range.Lowest.Midi) continue;
            yield return At(
                note.Onset,
                $"{Say.Pitch(note.Pitch)} is too {(tooHigh ? "high" : "low")} for the {progression.Name(note.Voice)}.",
                $"Keep the {progression.Name(note.Voice)} between {Say.Pitch(range.Lowest)} and {Say.Pitch(range.Highest)}.",
                note);
        }
    }
}
