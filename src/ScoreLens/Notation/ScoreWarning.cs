namespace ScoreLens.Notation;

/// <summary>Something in a file that was read all the same, and that whoever made the file should know.</summary>
/// <param name="Message">What it is, and how it was read.</param>
/// <param name="Place">Where: a line; empty where the whole file is meant.</param>
public sealed record ScoreWarning(string Message, string Place)
{
    /// <summary>Place and message in one line.</summary>
    public string ToDisplayString() => Place.Length == 0 ? Message : $"{Place}: {Message}";
}
