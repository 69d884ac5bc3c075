namespace ScoreLens.Notation;

/// <summary>
/// A file could not be read as a score. The message says what is wrong and what to do; <see cref="Place"/> says where.
/// </summary>
public sealed class ScoreFormatException : Exception
{
    /// <summary>Creates the error.</summary>
    /// <param name="message">What is wrong and what to do, one or two sentences.</param>
    /// <param name="place">Line, or part and measure; empty where the whole file is meant.</param>
    /// <param name="inner">The cause, if another library found it.</param>
    public ScoreFormatException(string message, string place = "", Exception? inner = null)
        : base(message, inner) => Place = place;

    /// <summary>Line, or part and measure; empty where the whole file is meant.</summary>
    public string Place { get; }

    /// <summary>Place and message in one line.</summary>
    public string ToDisplayString() => Place.Length == 0 ? Message : $"{Place}: {Message}";
}
