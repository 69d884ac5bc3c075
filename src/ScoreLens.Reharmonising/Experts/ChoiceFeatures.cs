using ScoreLens.Theory;

namespace ScoreLens.Reharmonising.Experts;

/// <summary>What a row of the table of experts' choices is about; the numbers of a row are explained with each.</summary>
internal enum FeatureKind
{
    /// <summary>The chord itself: root, kind.</summary>
    Chord,

    /// <summary>The chord and the one after: root, kind, root after, kind after.</summary>
    After,

    /// <summary>Its kind and the motion of the root to the chord after: interval up, kind, kind after.</summary>
    MotionAfter,

    /// <summary>The chord and the one before: root, kind, root before, kind before.</summary>
    Before,

    /// <summary>Its kind and the motion of the root from the chord before: interval up to it, kind, kind before.</summary>
    MotionBefore,

    /// <summary>Between two chords: root, kind, root before, root after.</summary>
    Between,

    /// <summary>
    /// A tone of the melody over a chord of its kind: tone above the root, kind. Counted by the tone's share of the time.
    /// </summary>
    Melody,

    /// <summary>A tone of the melody over the chord: root, kind, tone. Counted by its share of the time.</summary>
    MelodyOver,

    /// <summary>The tone on which the melody enters: tone above the root, kind.</summary>
    Entry,

    /// <summary>The melody's first tone after the chord: tone above the root, kind.</summary>
    Exit,

    /// <summary>Where the chord begins in the metre: root, kind, metre.</summary>
    Metre,

    /// <summary>How long it lasts: root, kind, length.</summary>
    Length,

    /// <summary>The bass after it, above its root: interval, kind, kind after.</summary>
    BassAfter,

    /// <summary>The bass before it, above its root: interval, kind, kind before.</summary>
    BassBefore,

    /// <summary>Whether it is the chord before or after once more: 1 before, 2 after; and whether these two are one.</summary>
    Repeats,
}

/// <summary>A row of the table: what it is about, and its numbers, of which those that are not used are 0.</summary>
internal readonly record struct Feature(FeatureKind Kind, Mode Mode, int A, int B, int C, int D)
{
    /// <summary>What speaks for or against a chord at a place, each with how much of it there is.</summary>
    public static IEnumerable<(Feature Feature, double Value)> Of(PlaceEvidence place, ChordClass chord)
    {
        var (root, kind) = chord;
        yield return (New(FeatureKind.Chord, root, kind), 1);
        yield return (New(FeatureKind.Metre, root, kind, place.Metre), 1);
        yield return (New(FeatureKind.Length, root, kind, place.Length), 1);
        var after = place.After ?? new ChordClass(-1, -1);
        var before = place.Before ?? new ChordClass(-1, -1);
        yield return (New(FeatureKind.After, root, kind, after.Above, after.Kind), 1);
        yield return (New(FeatureKind.Before, root, kind, before.Above, before.Kind), 1);
        yield return (New(FeatureKind.Between, root, kind, before.Above, after.Above), 1);
        if (place.After is not null)
        {
            yield return (New(FeatureKind.MotionAfter, Up(root, after.Above), kind, after.Family), 1);
            yield return (New(FeatureKind.BassAfter, Up(root, place.BassAfter), kind, after.Family), 1);
        }

        if (place.Before is not null)
        {
            yield return (New(FeatureKind.MotionBefore, Up(before.Above, root), kind, before.Family), 1);
            yield return (New(FeatureKind.BassBefore, Up(root, place.BassBefore), kind, before.Family), 1);
        }

        var isSame = before.Above == after.Above && before.Family == after.Family ? 1 : 0;
        if (before.Above == root && before.Family == chord.Family) yield return (New(FeatureKind.Repeats, 1, isSame), 1);
        if (after.Above == root && after.Family == chord.Family) yield return (New(FeatureKind.Repeats, 2, isSame), 1);
        foreach (var (tone, share) in place.Melody)
        {
            yield return (New(FeatureKind.Melody, Up(root, tone), kind), share);
            yield return (New(FeatureKind.MelodyOver, root, kind, tone), share);
        }

        if (place.First >= 0) yield return (New(FeatureKind.Entry, Up(root, place.First), kind), 1);
        if (place.MelodyAfter >= 0) yield return (New(FeatureKind.Exit, Up(root, place.MelodyAfter), kind), 1);

        Feature New(FeatureKind about, int a, int b, int c = 0, int d = 0) => new(about, place.Mode, a, b, c, d);
    }

    private static int Up(int from, int to) => (to - from + 12) % 12;
}
