using System.Globalization;
using ScoreLens.Cli.Shared;
using ScoreLens.Density;
using ScoreLens.Notation.MusicXml;
using ScoreLens.Output.Annotation;
using ScoreLens.Output.Midi;
using ScoreLens.Output.Tables;
using ScoreLens.Pages;
using ScoreLens.Wording;

namespace ScoreLens.Cli.Annotating;

/// <summary>A score that was annotated: its balance, and what is said of it in one line.</summary>
/// <param name="Density">Its balance.</param>
/// <param name="Summary">The line.</param>
internal sealed record Annotated(CueDensity Density, string Summary)
{
    /// <summary>Annotates a score and writes its results.</summary>
    /// <param name="session">The run.</param>
    /// <param name="input">The score.</param>
    /// <param name="request">What is asked.</param>
    /// <param name="stamp">For a page that is to be shown anew when the score is saved: what tells this state from others; else
    /// empty.</param>
    /// <param name="resumable">What the results are made from, where a later run is to know them again; else null.</param>
    public static Annotated Write(Session session, ScoreInput input, AnnotationRequest request, string stamp = "",
        string? resumable = null)
    {
        var file = session.Load(input);
        session.SayUnfollowed(input, file.Score, request.Clock);
        var analysis = session.Analyse(file.Score, request.Keys).AtLeast(request.Sure);
        var density = CueDensity.Of(analysis, request.Band);
        using var results = session.ResultsIn(input.Folder);
        string? annotated = null;
        if (file.MusicXml is { } document)
        {
            var labelled = Labelled(document, analysis, request.Labels);
            results.Add($"{input.Name}.annotated.{Ending(document)}", labelled.ToBytes());
            annotated = labelled.ToXmlText();
        }
        else if (MarkedMidi.Write(file.Midi.Span, analysis, request.Labels) is { } marked)
        {
            results.Add($"{input.Name}.annotated.mid", marked);
        }

        results.Add($"{input.Name}.chords.csv", writer => ChordTable.Write(ChordRow.Of(analysis, request.Clock), writer));
        results.Add($"{input.Name}.phrases.csv", writer => PhraseTable.Write(PhraseRow.Of(analysis, density, request.Clock), writer));
        var watched = stamp.Length == 0 ? null : new WatchedPage($"{input.Name}.watch.js", stamp);
        results.Add($"{input.Name}.page.html", CuePage.Write(analysis, density, annotated, request.Clock, watched));
        if (watched is not null) results.Add(watched.File, watched.Script);
        if (request.Json) results.Add($"{input.Name}.json", AnalysisJson.Write(analysis, density, request.Clock));
        if (resumable is not null) EarlierRun.AddTo(results, input, resumable);
        results.Commit();
        return new Annotated(density, string.Create(
            CultureInfo.InvariantCulture,
            $"{input.Path}: {CueText.Keys(analysis)}, {Count(density.Whole.Chords, "chord")} in {Count(analysis.Phrases.Count, "phrase")}, "
            + $"{ShareText.PercentInColumn(density.Whole.OutsideTime)} of the time outside the key{SourceText.Of(analysis)} -> "
            + $"{input.Folder}"));
    }

    /// <summary>The ending of a document of this kind.</summary>
    public static string Ending(MusicXmlDocument document) => document.IsCompressed ? "mxl" : "musicxml";

    private static MusicXmlDocument Labelled(MusicXmlDocument document, CueAnalysis analysis, LabelOptions options)
    {
        try
        {
            return AnnotatedScore.Labelled(document, analysis, options);
        }
        catch (ArgumentException e) when (options.Part.Length > 0)
        {
            throw new UsageException($"--on or --part: {e.Message}");
        }
    }

    private static string Count(int number, string noun) => number == 1 ? $"1 {noun}"
        : string.Create(CultureInfo.InvariantCulture, $"{number} {noun}s");
}
