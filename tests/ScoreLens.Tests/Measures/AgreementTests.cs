using System.Text.Json;
using ScoreLens.Output.Tables;
using ScoreLens.Sonorities;
using ScoreLens.TestKit.Corpus;
using ScoreLens.Tests.Annotation;
using ScoreLens.Tests.Cli;
using ScoreLens.Theory;
using Xunit;

namespace ScoreLens.Tests.Measures;

/// <summary>The repository's own measure of accuracy: what the corpus's <c>evaluate.py</c> defines.</summary>
public sealed class AgreementTests
{
    [Fact]
    public void An_expert_agrees_with_himself_in_every_figure_and_with_a_reading_a_fifth_higher_in_no_key()
    {
        foreach (var work in CorpusWorks.In(CorpusWorks.Vendored, sample: 2).Select(ReferenceWork.Load))
        {
            var sonorities = SonorityFinder.Find(work.Score);
            var same = new Agreement();
            same.Add(CueAnalysis.Of(work.Score, sonorities, work.Reading), work.Reading);
            Assert.Equal(1, same["numeral"]);
            Assert.Equal(1, same["root"]);

            var moved = work.Reading.Chords.Select(c => c with { Key = new Key(c.Key.Tonic + 1, c.Key.Mode) });
            var higher = work.Reading with { Chords = [.. moved] };
            var other = new Agreement();
            other.Add(CueAnalysis.Of(work.Score, sonorities, higher), work.Reading);
            Assert.Equal((0.0, 0.0, 1.0), (other["key"], other["numeral"], other["degree"]));
        }
    }

    [Fact]
    public void Its_figures_are_those_of_the_corpus_s_own_script()
    {
        var script = SharedFiles.At("corpus", "evaluate.py");
        using var folder = new ScratchFolder();
        Directory.CreateDirectory(folder.At("tables"));
        var ours = new Agreement();
        foreach (var work in CorpusWorks.In(Path.Combine(CorpusWorks.Vendored, "open", "textbooks")))
        {
            var reference = ReferenceWork.Load(work);
            var analysis = CueAnalysis.Of(reference.Score);
            ours.Add(analysis, reference.Reading);
            using var table = File.CreateText(folder.At("tables", Path.GetFileName(work.Folder) + ".csv"));
            ChordTable.Write(ChordRow.Of(analysis), table);
        }

        var works = Path.Combine(CorpusWorks.Vendored, "open", "textbooks");
        var (status, output) = Programs.Run(folder.Root, "python3", script, works, "--tables", folder.At("tables"), "--json");
        Assert.True(status == 0, output);
        var theirs = JsonDocument.Parse(output).RootElement.GetProperty("all");
        Assert.Equal(theirs.GetProperty("works").GetInt32(), ours.Works);
        foreach (var field in Agreement.Fields) Assert.Equal(theirs.GetProperty(field).GetDouble(), ours[field], 0.0001);
    }
}
