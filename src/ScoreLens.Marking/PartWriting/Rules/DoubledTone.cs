using ScoreLens.Theory;

namespace ScoreLens.Marking.PartWriting.Rules;

/// <summary>A note that wants to move, in two voices at once.</summary>
public abstract class DoubledTone : PartWritingRule
{
    private protected abstract string What { get; }

    internal sealed override IEnumerable<Fault> Find(VoicedProgression progression)
    {
        LineNote[] said = [];
        foreach (var chord in progression.Chords)
        {
            if (ToneOf(chord) is not { } tone) continue;
            foreach (var moment in chord.Moments)
            {
                var doubled = moment.Notes.OfType<LineNote>().Where(n => n.Pitch.Tone == tone && !Resolutions.IsPassing(progression, n)).ToArray();
                if (doubled.Length < 2) continue;
                // The same notes held on into the next chord are one fault.
                if (doubled.All(said.Contains)) break;
                said = doubled;
                yield return At(
                    moment.Onset,
                    $"{Say.Voices(progression, doubled)} both have the {What} {tone.ToDisplayString()}.",
                    $"Keep it in one voice and double {Instead(chord)}.",
                    doubled);
                break;
            }
        }
    }

    private protected abstract Tone? ToneOf(VoicedChord chord);

    private static string Instead(VoicedChord chord) =>
        chord.Numeral is { Degree: 7 } ? $"the third, {chord.Tones[1].ToDisplayString()}" : $"the root, {chord.Tones[0].ToDisplayString()}";
}

/// <summary>The leading tone in two voices.</summary>
public sealed class DoubledLeadingTone : DoubledTone
{
    /// <inheritdoc/>
    public override string Name => "doubled-leading-tone";

    /// <inheritdoc/>
    public override string Sentence => "The leading tone is not doubled: both voices would have to rise to the tonic.";

    /// <inheritdoc/>
    public override string Exceptions => "The seventh degree where it does not lead (in iii, or as root of VII in minor); a passing note shorter than a beat.";

    /// <inheritdoc/>
    public override string Source => "Aldwell and Schachter, Harmony and Voice Leading, ch. 6; Kostka and Payne, ch. 5 (from memory).";

    private protected override string What => "leading tone";

    private protected override Tone? ToneOf(VoicedChord chord) => chord.IsDominant && chord.Has(chord.LeadingTone) ? chord.LeadingTone : null;
}

/// <summary>The seventh of a chord in two voices.</summary>
public sealed class DoubledSeventh : DoubledTone
{
    /// <inheritdoc/>
    public override string Name => "doubled-seventh";

    /// <inheritdoc/>
    public override string Sentence => "The seventh of a chord is not doubled: both voices would have to fall together.";

    /// <inheritdoc/>
    public override string Exceptions => "A passing note shorter than a beat.";

    /// <inheritdoc/>
    public override string Source => "Kostka and Payne, Tonal Harmony, ch. 12; Piston, Harmony (from memory).";

    private protected override string What => "seventh";

    private protected override Tone? ToneOf(VoicedChord chord) => chord.Seventh;
}
