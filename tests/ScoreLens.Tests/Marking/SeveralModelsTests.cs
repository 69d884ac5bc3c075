using ScoreLens.Marking;
using ScoreLens.Marking.Assignments;
using ScoreLens.Tests.Cli;
using Xunit;

namespace ScoreLens.Tests.Marking;

/// <summary>An exercise with more than one right answer: the model that fits a submission best counts.</summary>
public sealed class SeveralModelsTests : IDisposable
{
    private readonly ScratchFolder _folder = new();

    public SeveralModelsTests()
    {
        var homework = Path.Combine(Places.TestData, "homework");
        var model = File.ReadAllText(Path.Combine(homework, "model.musicxml"));
        Assert.Single(model.Split("<text>viio6</text>")[1..]);
        File.WriteAllText(_folder.At("passing-seventh.musicxml"), model);
        File.WriteAllText(_folder.At("passing-dominant.musicxml"),
            model.Replace("<text>viio6</text>", "<text>V43</text>", StringComparison.Ordinal));
        File.Copy(Path.Combine(Places.TestData, "lamplight.musicxml"), _folder.At("other-piece.musicxml"));
    }

    [Theory]
    [InlineData("model: passing-seventh.musicxml", "passing-seventh", true, "")]
    [InlineData("model: passing-seventh.musicxml", "passing-dominant", false, "")]
    [InlineData("model: [passing-seventh.musicxml, passing-dominant.musicxml]", "passing-seventh", true, "passing-seventh.musicxml")]
    [InlineData("model: [passing-seventh.musicxml, passing-dominant.musicxml]", "passing-dominant", true, "passing-dominant.musicxml")]
    [InlineData("model: [other-piece.musicxml, passing-dominant.musicxml]", "passing-dominant", true, "passing-dominant.musicxml")]
    [InlineData("model: [other-piece.musicxml, passing-seventh.musicxml]", "passing-dominant", false, "passing-seventh.musicxml")]
    public void The_best_fitting_model_counts_and_is_named(string models, string submission, bool isRight, string named)
    {
        foreach (var source in (string[])["auto", "model"])
        {
            var text = $"title: A phrase\npoints: {{labels: 10}}\n{models}\nlabels: {{compare-with: {source}}}\n";
            var marked = new Marker(AssignmentFile.Parse(text, _folder.Root)).MarkFile("anyone", _folder.At($"{submission}.musicxml"));
            Assert.Equal(isRight, marked.Total == 10);
            Assert.Equal(named.Length == 0 ? [] : [$"Compared with the model answer {named}."], marked.Observations);
        }
    }

    [Fact]
    public void A_submission_that_fits_no_model_is_none_of_the_set_pieces()
    {
        var text = "title: A phrase\npoints: {labels: 10}\nmodel: [passing-seventh.musicxml, passing-dominant.musicxml]\n";
        var marked = new Marker(AssignmentFile.Parse(text, _folder.Root)).MarkFile("anyone", _folder.At("other-piece.musicxml"));
        Assert.Equal(SubmissionStatus.WrongPiece, marked.Status);
    }

    [Theory]
    [InlineData("model: [passing-seventh.musicxml, nowhere.musicxml]", "there is no file nowhere.musicxml")]
    [InlineData("model: [{path: passing-seventh.musicxml}]", "model takes the path of a score, or a list of paths")]
    public void A_wrong_list_of_models_is_reported(string models, string problem)
    {
        var text = $"title: A phrase\npoints: {{labels: 10}}\n{models}\n";
        var thrown = Assert.Throws<AssignmentFormatException>(() => AssignmentFile.Parse(text, _folder.Root));
        Assert.Contains(thrown.Problems, p => p.ToString().Contains(problem, StringComparison.Ordinal));
    }

    public void Dispose() => _folder.Dispose();
}
