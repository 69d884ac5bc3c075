using ScoreLens.Notation;
using ScoreLens.Output.Annotation;
using Xunit;

namespace ScoreLens.Tests.Annotation;

/// <summary>The promises of the writer on scores that others wrote.</summary>
public sealed class EveryScoreTests
{
    private const int SampledCorpusScores = 8;

    private static readonly LabelOptions OnReduction = new() { On = LabelStaff.Reduction };

    private static readonly LabelOptions Everything = new() { As = LabelForms.Lyric | LabelForms.Words | LabelForms.Harmony };

    [Fact]
    public void Every_conformance_file_stays_itself_under_every_form_of_label() =>
        Check([.. Places.Scores(Places.External("conformance"))], 166);

    [Fact]
    public void Analysed_works_stay_themselves_under_their_labels()
    {
        var scores = Places.Scores(Places.External("works")).ToArray();
        Check([.. scores.Where((_, i) => i % 6 == 0)], 6);
    }

    [Fact]
    public void Corpus_scores_stay_themselves_under_their_labels()
    {
        var scores = Places.Scores(SharedFiles.At("corpus")).Where(f => Path.GetFileName(f) == "score.mxl").ToArray();
        Check([.. Enumerable.Range(0, SampledCorpusScores).Select(i => scores[(int)((long)i * scores.Length / SampledCorpusScores)])],
            SampledCorpusScores);
    }

    // None of them is refused: the reader takes even the conformance files that are not valid.
    private static void Check(IReadOnlyList<string> files, int expected)
    {
        Assert.Equal(expected, files.Count);
        var problems = new List<string>();
        foreach (var file in files)
        {
            try
            {
                problems.AddRange(Annotations.Problems(File.ReadAllBytes(file), LabelOptions.Default, Everything, OnReduction)
                    .Select(p => $"{Path.GetFileName(file)}: {p}"));
            }
            catch (ScoreFormatException e)
            {
                problems.Add($"{Path.GetFileName(file)} is refused: {e.ToDisplayString()}");
            }
        }

        Assert.Empty(problems);
    }
}
