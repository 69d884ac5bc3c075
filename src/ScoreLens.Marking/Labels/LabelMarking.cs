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

    /// <summary>How probable a runner-up must be against the first reading to be accepted, 0..1; 1 accepts none that is less probable.</summary>
    public double RunnerUp { get; init; } = 0.7;

    /// <summary>Whether remarks keep to themselves which label was expected, so that the student can try again.</summary>
    public bool HidesAnswers { get; init; }
}
