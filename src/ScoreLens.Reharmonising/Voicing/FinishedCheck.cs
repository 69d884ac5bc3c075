using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Reharmonising.Voicing;

/// <summary>
/// The last look at a setting with everything in it, decorating notes too: new parallels into the span and out of it, tendency tones in two
/// voices at once.
/// </summary>
internal sealed class FinishedCheck(Texture texture)
{
    /// <summary>What is wrong with the notes that was not wrong before.</summary>
    /// <param name="chord">The chord that is written.</param>
    /// <param name="moved">The notes that have a new pitch, with it.</param>
    /// <param name="links">Which notes go in octaves or unison with each other, by a number; notes without one go alone.</param>
    public VoicingFaults Of(NewChord chord, IReadOnlyDictionary<SoundingNote, Pitch> moved, IReadOnlyDictionary<SoundingNote, int> links)
    {
        var faults = VoicingFaults.None;
        if (HasParallels(texture.Into, moved) || HasParallels(texture.OutOf, moved)) faults |= VoicingFaults.Parallels;
        var tendencies = texture.Sounding.Where(n => chord.IsTendency(Now(n).Tone)).ToArray();
        for (var i = 0; i < tendencies.Length; i++)
        {
            for (var j = i + 1; j < tendencies.Length; j++)
            {
                var (a, b) = (tendencies[i], tendencies[j]);
                if (!Now(a).Tone.IsEnharmonicWith(Now(b).Tone) || a.Onset >= b.End || b.Onset >= a.End) continue;
                if (Now(a) == a.Pitch && Now(b) == b.Pitch) continue;
                if (links.TryGetValue(a, out var one) && links.TryGetValue(b, out var other) && one == other) continue;
                faults |= VoicingFaults.Doubled;
            }
        }

        return faults;

        Pitch Now(SoundingNote note) => moved.GetValueOrDefault(note, note.Pitch);
    }

    private static bool HasParallels(IReadOnlyList<(SoundingNote Here, Pitch There)> ways, IReadOnlyDictionary<SoundingNote, Pitch> moved)
    {
        for (var i = 0; i < ways.Count; i++)
        {
            for (var j = i + 1; j < ways.Count; j++)
            {
                var (a, b) = (ways[i], ways[j]);
                VoiceMotion now = new(null, a.Here.Pitch, moved.GetValueOrDefault(a.Here, a.Here.Pitch), a.There),
                    other = new(null, b.Here.Pitch, moved.GetValueOrDefault(b.Here, b.Here.Pitch), b.There);
                var (old, oldOther) = (VoiceMotion.Through(null, a.Here.Pitch, a.There), VoiceMotion.Through(null, b.Here.Pitch, b.There));
                if (now.NewParallelsWith(other, old, oldOther) > 0) return true;
            }
        }

        return false;
    }
}
