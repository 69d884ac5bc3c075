using CsCheck;
using ScoreLens.Theory;

namespace ScoreLens.Tests.Theory;

/// <summary>Random values of the theory's types, over their whole range.</summary>
internal static class Generators
{
    public static Gen<Mode> Modes { get; } = Gen.OneOf(Mode.Major, Mode.Minor);

    public static Gen<Tone> Tones { get; } = Gen.Int[Tone.MinFifths, Tone.MaxFifths].Select(f => new Tone(f));

    public static Gen<Pitch> Pitches { get; } = Gen.Select(Tones, Gen.Int[-1, 10]).Select((tone, octave) => new Pitch(tone, octave));

    public static Gen<Key> Keys { get; } = Gen.Select(Gen.Int[-7, 7], Modes).Select((fifths, mode) => new Key(new Tone(fifths), mode));

    public static Gen<Fraction> Fractions { get; } =
        Gen.Select(Gen.Long[-1_000_000, 1_000_000], Gen.Long[1, 100_000]).Select((top, bottom) => new Fraction(top, bottom));

    public static Gen<AppliedTarget> Targets { get; } =
        from depth in Gen.Int[1, 3]
        from parts in Gen.Select(Gen.Int[-2, 2], Gen.Int[1, 7], Modes).Array[depth]
        select parts.Aggregate((AppliedTarget?)null, (of, p) => new AppliedTarget(p.Item1, p.Item2, p.Item3, of))!;

    /// <summary>Numerals of every kind that can stand in a key of <paramref name="mode"/>.</summary>
    public static Gen<Numeral> Numerals(Mode mode)
    {
        var target = Gen.Frequency((2, Gen.Const((AppliedTarget?)null)), (1, Targets.Select(t => (AppliedTarget?)t)));
        var plain =
            from degree in Gen.Int[1, 7]
            from quality in Gen.Int[0, (int)ChordQuality.MinorMajorSeventh].Select(i => (ChordQuality)i)
            from inversion in Gen.Int[0, quality.Members().Length - 1]
            from alteration in Gen.Int[-2, 2]
            from applied in target
            from extension in Gen.OneOf(0, 0, 0, 9, 11, 13)
            select new Numeral(degree, quality, inversion, alteration, applied, quality.IsSeventh() && inversion == 0 ? extension : 0);
        var sixths =
            from quality in Gen.OneOf(ChordQuality.ItalianSixth, ChordQuality.FrenchSixth, ChordQuality.GermanSixth)
            from inversion in Gen.Int[0, quality.Members().Length - 1]
            from applied in target
            select Numeral.AugmentedSixth(quality, inversion, applied);
        var cadential = target.Select(t => Numeral.CadentialSixFour(t?.Mode ?? mode, t));
        var commonTone = Gen.Select(Gen.Int[0, 3], target).Select((inversion, t) => Numeral.CommonToneDiminished(inversion, t));
        return Gen.Frequency((6, plain), (2, sixths), (1, cadential), (1, commonTone));
    }

    /// <summary>Chord symbols whose bass is any tone.</summary>
    public static Gen<ChordName> ChordNames { get; } =
        from root in Tones
        from quality in Gen.OneOf(Enum.GetValues<ChordQuality>())
        from bass in Gen.Frequency((1, Gen.Const((Tone?)null)), (1, Tones.Select(t => (Tone?)t)))
        from extension in Gen.OneOf(0, 0, 9, 11, 13)
        let carries = quality.IsSeventh() && quality != ChordQuality.DiminishedSeventh
        select new ChordName(root, quality, bass, carries ? extension : 0);
}
