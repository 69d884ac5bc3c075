using ScoreLens.Notation;
using ScoreLens.Output.Annotation;
using Xunit;

namespace ScoreLens.Tests.Annotation;

/// <summary>The promises of the writer on scores that others wrote.</summary>
public sealed class EveryScoreTests
{
    private const int SampledCorpusScores = 8;

    private static readonly LabelOptions Everything = new() { As = LabelForms.Lyric | LabelForms.Words | LabelForms.Harmony };

    [Fact]
    public void Every_conformance_file_stays_itself_under_every_form_of_label() =>
        Check([.. Directory.EnumerateFiles(Places.Shared("conformance")).Where(f => Path.GetExtension(f) is ".xml" or ".mxl").Order(StringComparer.Ordinal)]);

    [Fact]
    public void Corpus_scores_stay_themselves_under_their_labels()
    {
        var scores = Directory.EnumerateFiles(Places.Shared("corpus"), "score.mxl", SearchOption.AllDirectories).Order(StringComparer.Ordinal).ToArray();
        var step = Math.Max(1, scores.Length / SampledCorpusScores);
        Check([.. scores.Where((_, i) => i % step == 0)]);
    }

    private static void Check(IReadOnlyList<string> files)
    {
        var problems = new List<string>();
        foreach (var file in files)
        {
            try
            {
                problems.AddRange(Annotations.Problems(File.ReadAllBytes(file), LabelOptions.Default, Everything).Select(p => $"{Path.GetFileName(file)}: {p}"));
            }
            catch (ScoreFormatException e)
            {
                TestContext.Current.SendDiagnosticMessage("{0} is refused by the reader: {1}", Path.GetFileName(file), e.Message);
            }
        }

        Assert.Empty(problems);
    }
}
