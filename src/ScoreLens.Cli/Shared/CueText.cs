namespace ScoreLens.Cli.Shared;

/// <summary>What commands say of a cue in their one line.</summary>
internal static class CueText
{
    /// <summary>The home key; of several movements each with its number: <c>movement 1 C major, 2 F minor</c>.</summary>
    public static string Keys(CueAnalysis analysis)
    {
        if (analysis.Score.Movements.Count < 2) return analysis.Reading.HomeKey.ToString();
        return "movement " + string.Join(", ", analysis.Movements.Select(m => $"{m.Movement} {m.Reading.HomeKey}"));
    }
}
