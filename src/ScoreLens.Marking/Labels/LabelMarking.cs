using ScoreLens.Theory;

namespace ScoreLens.Marking.Labels;

/// <summary>How labels are marked.</summary>
public sealed record LabelMarking
{
    /// <summary>The usual way: a degree counts double, a label may stand half a quarter note off, a runner-up at .7 is accepted.</summary>
    public static LabelMarking Default { get; } = new();

    /// <summary>What the key is worth, against the other three; 0 or more.</summary>
    public double Key { get; init; } = 1;

    /// <summary>What the degree is worth (for an applied chord with what it is applied to).</summary>
    public double Degree { get; init; } = 2;

    /// <summary>What the quality is worth, the seventh included.</summary>
    public double Quality { get; init; } = 1;

    /// <summary>What the inversion is worth.</summary>
    public double Inversion { get; init; } = 1;

    /// <summary>How far from its chord's beginning a label may stand, in quarter notes.</summary>
    public Fraction Tolerance { get; init; } = new(1, 2);

    /// <summary>
    /// How probable a runner-up must be against the first reading to be accepted, 0..1; 1 accepts none that is less probable.
    /// </summary>
    public double RunnerUp { get; init; } = 0.7;

    /// <summary>The notations that are read; a label in another is said to be seen and not understood.</summary>
    public LabelNotations Notations { get; init; } = LabelNotations.Numerals;

    /// <summary>
    /// Whether a student who writes every degree in capitals (<c>II</c>, <c>VII</c>) is taken to leave the quality to the scale.
    /// </summary>
    public bool CapitalsByScale { get; init; }

    /// <summary>Whether no key has to be written; else a student who writes none loses the key of the first label, once.</summary>
    public bool KeyMayBeMissing { get; init; }

    /// <summary>Whether a label with the wrong degree earns nothing for its other parts.</summary>
    public bool NothingWithoutDegree { get; init; }

    /// <summary>Whether remarks keep to themselves which label was expected, so that the student can try again.</summary>
    public bool HidesAnswers { get; init; }

    /// <summary>The share of a label's worth that its right parts earn, 0..1.</summary>
    internal double WorthOf(LabelParts right)
    {
        var total = Key + Degree + Quality + Inversion;
        if (total <= 0) return right == LabelParts.All ? 1 : 0;
        var earned = 0.0;
        if (right.HasFlag(LabelParts.Key)) earned += Key;
        if (right.HasFlag(LabelParts.Degree)) earned += Degree;
        if (right.HasFlag(LabelParts.Quality)) earned += Quality;
        if (right.HasFlag(LabelParts.Inversion)) earned += Inversion;
        return earned / total;
    }
}
