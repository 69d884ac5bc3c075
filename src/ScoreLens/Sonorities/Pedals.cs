using ScoreLens.Theory;

namespace ScoreLens.Sonorities;

/// <summary>
/// Tones that stay while the harmony goes on, held or struck again and again: a chord over a pedal is named without it (Kostka and Payne,
/// Tonal Harmony, on pedal points; from memory). A tone is taken for one by its length alone. A last chord that is held whole has no
/// moving tone, and is heard as it sounds.
/// </summary>
internal sealed class Pedals
{
    // In quarter notes: two measures of four.
    private static readonly Fraction Longest = 8;

    private readonly HashSet<SoundingNote> _pedals = new(ReferenceEqualityComparer.Instance);
    private readonly List<IReadOnlyList<SoundingNote>> _chains = [];

    /// <summary>Finds the pedals among the notes of verticals.</summary>
    public Pedals(IReadOnlyList<Sonority> sonorities)
    {
        // A note that its part strikes again as it ends goes on: the chains of every pitch, by part.
        var chains = new Dictionary<(int Part, Pitch Pitch), List<SoundingNote>>();
        foreach (var sonority in sonorities)
        {
            foreach (var note in sonority.Notes)
            {
                if (!sonority.IsStruck(note)) continue;
                if (!chains.TryGetValue((note.Part, note.Pitch), out var chain)) chains[(note.Part, note.Pitch)] = chain = [];
                if (chain.Count > 0 && chain[^1].End < note.Onset) Close(chain);
                chain.Add(note);
            }
        }

        foreach (var chain in chains.Values) Close(chain);
    }

    /// <summary>The notes of every pedal, in order: one that is held, or all that it is struck anew with.</summary>
    public IReadOnlyList<IReadOnlyList<SoundingNote>> Chains => _chains;

    /// <summary>Whether a note is a pedal, or one of the notes that a pedal is struck anew with.</summary>
    public bool IsPedal(SoundingNote note) => _pedals.Contains(note);

    /// <summary>The lowest note of a vertical that is no pedal; its bass where there is none, null in silence.</summary>
    public SoundingNote? MovingBass(Sonority sonority)
    {
        foreach (var note in sonority.Notes)
            if (!IsPedal(note)) return note;
        return sonority.Bass;
    }

    private void Close(List<SoundingNote> chain)
    {
        if (chain[^1].End - chain[0].Onset > Longest)
        {
            _pedals.UnionWith(chain);
            _chains.Add([.. chain]);
        }

        chain.Clear();
    }
}
