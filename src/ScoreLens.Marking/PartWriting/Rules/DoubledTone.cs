using ScoreLens.Marking.Facts;
using ScoreLens.Theory;

namespace ScoreLens.Marking.PartWriting.Rules;

/// <summary>A note that wants to move, in two voices at once.</summary>
internal abstract class DoubledTone : PartWritingRule
{
    internal sealed override IEnumerable<Fault> Find(VoicedProgression progression)
    {
        LineNote[] said = [];
        foreach (var chord in progression.Chords)
        {
            if (ToneOf(progression, chord) is not { } tone) continue;
            // Of viio the third is doubled, of other dominants the root.
            var instead = chord.Numeral is { Degree: 7 } ? 1 : 0;
            foreach (var moment in chord.Moments)
            {
                var doubled = moment.Notes.OfType<LineNote>().Where(n => n.Pitch.Tone == tone && !Resolutions.IsPassing(progression, n))
                    .ToArray();
                if (doubled.Length < 2) continue;
                // The same notes held on into the next chord are one fault.
                if (doubled.All(said.Contains)) break;
                said = doubled;
                yield return At(moment.Onset, new DoubledFacts(tone, chord.Tones[instead], instead), doubled);
                break;
            }
        }
    }

    private protected abstract Tone? ToneOf(VoicedProgression progression, VoicedChord chord);
}

/// <summary>The leading tone in two voices.</summary>
internal sealed class DoubledLeadingTone : DoubledTone
{
    /// <inheritdoc/>
    public override RemarkKind Kind => RemarkKind.DoubledLeadingTone;

    /// <inheritdoc/>
    public override string Sentence => "The leading tone is not doubled: both voices would have to rise to the tonic.";

    /// <inheritdoc/>
    public override string Exceptions =>
        "The seventh degree where it does not lead (in iii, or as root of VII in minor); a passing note shorter than a beat.";

    /// <inheritdoc/>
    public override string Source => "Aldwell and Schachter, Harmony and Voice Leading, ch. 6; Kostka and Payne, ch. 5 (from memory).";

    private protected override Tone? ToneOf(VoicedProgression progression, VoicedChord chord) =>
        chord.IsDominant && chord.Has(chord.LeadingTone) ? chord.LeadingTone : IsHalfCadence(progression, chord) ? chord.Tones[1] : null;

    // A phrase that ends on V may have been read as closing in the key of V: what goes on in the old key tells that it is V.
    private static bool IsHalfCadence(VoicedProgression progression, VoicedChord chord)
    {
        if (chord.Numeral is not { Degree: 1, Alteration: 0, Target: null, Inversion: 0, Quality: ChordQuality.Major }
            || chord.Moments.Count == 0) return false;
        return Resolutions.NextChord(progression, chord) is { } next && Resolutions.IsPhraseBetween(progression, chord, next)
            && next.Reading.Key.Tonic + 1 == chord.Reading.Key.Tonic && next.Numeral is { Degree: 1, Target: null };
    }
}

/// <summary>The seventh of a chord in two voices.</summary>
internal sealed class DoubledSeventh : DoubledTone
{
    /// <inheritdoc/>
    public override RemarkKind Kind => RemarkKind.DoubledSeventh;

    /// <inheritdoc/>
    public override string Sentence => "The seventh of a chord is not doubled: both voices would have to fall together.";

    /// <inheritdoc/>
    public override string Exceptions => "A passing note shorter than a beat.";

    /// <inheritdoc/>
    public override string Source => "Kostka and Payne, Tonal Harmony, ch. 12; Piston, Harmony (from memory).";

    private protected override Tone? ToneOf(VoicedProgression progression, VoicedChord chord) => chord.Seventh;
}
