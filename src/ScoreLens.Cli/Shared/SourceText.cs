using System.Globalization;
using ScoreLens.Reading;

namespace ScoreLens.Cli.Shared;

/// <summary>What the harmony of a score was read from, as the end of a summary.</summary>
internal static class SourceText
{
    /// <summary>Empty where it was read from the notes alone.</summary>
    public static string Of(CueAnalysis analysis)
    {
        if (analysis.Source == HarmonySource.Notes) return "";
        var disagreements = analysis.Reading.Chords.Count(c => c.Disagrees is not null);
        var written = analysis.Reading.Chords.Any(c => c.Written?.Figures is not null) ? "figured bass" : "chord symbols";
        var from = analysis.Source == HarmonySource.Symbols ? $", read from its {written}" : $", read from notes and {written}";
        return disagreements == 0 ? from
            : string.Create(CultureInfo.InvariantCulture, $"{from}, which disagree at {disagreements} "
                + $"{(disagreements == 1 ? "place" : "places")}");
    }
}
