namespace ScoreLens.Notation;

/// <summary>How a score is read from a file.</summary>
public sealed record ScoreReadOptions
{
    /// <summary>The usual way: labels that ScoreLens wrote are left out.</summary>
    public static ScoreReadOptions Default { get; } = new();

    /// <summary>
    /// Whether labels that ScoreLens wrote into a MusicXML file are read too, each marked as its own. Left out by default, so that a
    /// score reads the same with and without them.
    /// </summary>
    public bool KeepsOwnLabels { get; init; }

    /// <summary>How much of a file is read before it is refused.</summary>
    public ScoreLimits Limits { get; init; } = ScoreLimits.Default;
}
