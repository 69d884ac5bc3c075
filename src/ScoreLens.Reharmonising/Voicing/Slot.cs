using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Reharmonising.Voicing;

/// <summary>
/// The notes of one pitch in a span, in whatever voices, that go to one pitch of the new chord together: so unisons stay unisons, a broken
/// chord keeps its figure, and nothing crosses.
/// </summary>
/// <param name="Pitch">The pitch that they have.</param>
/// <param name="Notes">The notes.</param>
/// <param name="Ways">Where the voices come from and go to, each way once.</param>
/// <param name="Low">The lowest pitch that all of the parts may have, in MIDI's count.</param>
/// <param name="High">The highest, which is no higher than a melody over it.</param>
internal sealed record Slot(Pitch Pitch, IReadOnlyList<SoundingNote> Notes, IReadOnlyList<(Pitch? Before, Pitch? After)> Ways, int Low,
    int High)
{
    /// <summary>The slot below that is doubled in the octave here, by its place; -1 where there is none.</summary>
    public int Doubles { get; init; } = -1;

    /// <summary>Whether two voices that do not go together have the pitch at once.</summary>
    public bool HasTwoVoices { get; init; }

    /// <summary>The motions as they are, in the order of the ways.</summary>
    public VoiceMotion[] Old { get; } = [.. Ways.Select(w => VoiceMotion.Through(w.Before, Pitch, w.After))];

    /// <summary>The motions with another pitch in the place of the old one, in the order of the ways.</summary>
    public VoiceMotion[] To(Pitch pitch)
    {
        var motions = new VoiceMotion[Ways.Count];
        for (var i = 0; i < motions.Length; i++) motions[i] = VoiceMotion.Through(Ways[i].Before, pitch, Ways[i].After);
        return motions;
    }

    /// <summary>Whether a note of this one sounds at once with one of others.</summary>
    public bool SoundsWith(IEnumerable<SoundingNote> others) =>
        others.Any(o => Notes.Any(n => n.Onset < o.End && o.Onset < n.End));
}
