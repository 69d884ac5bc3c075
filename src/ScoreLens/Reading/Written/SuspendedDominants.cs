using ScoreLens.Reading.Refinement;
using ScoreLens.Theory;

namespace ScoreLens.Reading.Written;

/// <summary>
/// Names a chord over the dominant's root that is written as a slash chord, before the dominant or its tonic, as the suspended dominant
/// that it is: "F/G and Dm7/G are ways to write G9sus4" (Levine, The Jazz Theory Book, on sus chords; from memory). The written symbol
/// stays as it is.
/// </summary>
internal sealed class SuspendedDominants : IRefinement
{
    public IReadOnlyList<ChordReading> Apply(IReadOnlyList<ChordReading> chords, RefinementContext context)
    {
        var named = chords.ToArray();
        for (var i = 0; i + 1 < named.Length; i++)
        {
            if (IsSuspendedDominant(named[i].Written, named[i].Key) && Follows(named[i].Key, named[i + 1]))
                named[i] = named[i] with { Numeral = new Numeral(5, ChordQuality.DominantSeventh, 0, 0, null, extension: 9) };
        }

        return named;
    }

    // Over the fifth degree, whose root the chord has not: its seventh, ninth and fourth, with or without its fifth.
    private static bool IsSuspendedDominant(WrittenChord? written, Key key)
    {
        if (written?.Bass is not { } bass || bass != key.Tonic + 1) return false;
        Tone[] suspended = [bass + -2, bass + 2, bass + -1];
        return suspended.All(written.Tones.Contains) && written.Tones.All(t => suspended.Contains(t) || t == bass + 1);
    }

    private static bool Follows(Key key, ChordReading next) => next.Key == key
        && next.Numeral is { Kind: NumeralKind.Plain, Target: null, Alteration: 0, Degree: 1 or 5 };
}
