using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Marking.Facts;

/// <summary>What sounds over a stretch of time: the ground that a statement about notes has to stand on.</summary>
/// <param name="Tones">Every tone that sounds.</param>
/// <param name="Basses">Every tone that is the lowest for a while.</param>
internal sealed record SoundingTones(IReadOnlySet<Tone> Tones, IReadOnlySet<Tone> Basses)
{
    /// <summary>Silence.</summary>
    public static SoundingTones None { get; } = new(new HashSet<Tone>(), new HashSet<Tone>());

    /// <summary>What sounds from one time to another.</summary>
    public static SoundingTones Of(IReadOnlyList<Sonority> sonorities, Fraction start, Fraction end)
    {
        var inside = sonorities.Where(s => s.Onset < end && s.End > start).ToList();
        return new SoundingTones(
            inside.SelectMany(s => s.Notes).Select(n => n.Pitch.Tone).ToHashSet(), inside.Select(s => s.Bass?.Pitch.Tone).OfType<Tone>()
                .ToHashSet());
    }

    /// <summary>Whether a tone sounds, however it is spelled.</summary>
    public bool Has(Tone tone) => Tones.Any(tone.IsEnharmonicWith);

    /// <summary>Whether a tone is the bass for a while.</summary>
    public bool HasBass(Tone tone) => Basses.Any(tone.IsEnharmonicWith);
}
