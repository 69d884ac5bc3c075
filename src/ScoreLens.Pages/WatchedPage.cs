using System.Text.Json;

namespace ScoreLens.Pages;

/// <summary>
/// A page that shows itself anew when its score is saved: it reads a small script from beside it again and again, and when the state that
/// this names is another than its own, loads itself anew and keeps its place.
/// </summary>
/// <param name="File">The script's file name, in the folder of the page.</param>
/// <param name="Stamp">What tells the state of the score from others.</param>
public sealed record WatchedPage(string File, string Stamp)
{
    /// <summary>The script.</summary>
    public byte[] Script => System.Text.Encoding.UTF8.GetBytes(
        $"globalThis.scoreLensSaved?.({JsonSerializer.Serialize(Stamp, PageJson.Default.String)});\n");
}
