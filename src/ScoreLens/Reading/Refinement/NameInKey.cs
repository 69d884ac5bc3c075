using ScoreLens.Theory;

namespace ScoreLens.Reading.Refinement;

/// <summary>
/// Names a chord that is known by root and quality in a key, as experts write it: plain where it is the key's own or borrowed from the
/// parallel key, else applied to a degree of the key where it has the shape of that degree's dominant or leading-tone chord, else plain
/// with an accidental.
/// </summary>
internal static class NameInKey
{
    /// <summary>The numeral; null where no written degree reaches the root.</summary>
    public static Numeral? Of(Key key, Tone root, ChordQuality quality, int inversion, int extension = 0)
    {
        if (quality.IsAugmentedSixth()) return Sixth(key, root, quality, inversion);
        var plain = Numeral.For(key, root, quality, inversion, null, extension);
        if (plain is not null && (Diatonic.Contains(key, plain.Tones(key))
            || Diatonic.Contains(key.Parallel, plain.Tones(key)))) return plain;
        var goal = quality switch
        {
            ChordQuality.Major or ChordQuality.DominantSeventh or ChordQuality.AugmentedSeventh => root.Fifths - 1,
            ChordQuality.Diminished or ChordQuality.DiminishedSeventh or ChordQuality.HalfDiminishedSeventh => root.Fifths - 5,
            _ => (int?)null,
        };
        if (goal is not ({ } fifths and >= Tone.MinFifths) || !OwnDegrees.Has(key, new Tone(fifths))) return plain;
        if (OwnDegrees.Target(key, new Tone(fifths)) is not { } target) return plain;
        // Eb diminished before D minor is no leading-tone chord of E: spelled a semitone off, it would stand on that degree's own root.
        return Numeral.For(key, root, quality, inversion, target, extension) is { Alteration: 0 } applied ? applied : plain;
    }

    // An augmented sixth of the dominant has no target; of another degree of the key that degree.
    private static Numeral? Sixth(Key key, Tone root, ChordQuality quality, int inversion)
    {
        if (Numeral.For(key, root, quality, inversion) is { } plain) return plain;
        // The raised fourth of a degree lies six fifths above it.
        var fifths = root.Fifths - 6;
        if (fifths < Tone.MinFifths || !OwnDegrees.Has(key, new Tone(fifths))) return null;
        return OwnDegrees.Target(key, new Tone(fifths)) is { } target ? Numeral.For(key, root, quality, inversion, target) : null;
    }
}
