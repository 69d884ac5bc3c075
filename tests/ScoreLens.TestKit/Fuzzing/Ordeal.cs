using System.Globalization;
using System.Text;
using ScoreLens.Density;
using ScoreLens.Marking.Assignments;
using ScoreLens.Notation;
using ScoreLens.Notation.MusicXml;
using ScoreLens.Output.Annotation;
using ScoreLens.Output.Reduction;
using ScoreLens.Output.Tables;

namespace ScoreLens.TestKit.Fuzzing;

/// <summary>What became of a mutant.</summary>
internal enum Outcome
{
    /// <summary>It was read, and everything was written.</summary>
    Read,

    /// <summary>It was refused with a reason.</summary>
    Refused,

    /// <summary>Something else was thrown, or what was written is wrong.</summary>
    Broken,

    /// <summary>It took longer than any file may.</summary>
    Hung,
}

/// <summary>Takes a mutant all the way: read, analysed, labelled, stripped, reduced, tabled; or refused with a reason, in time.</summary>
internal static class Ordeal
{
    /// <summary>How long any file may take; hundreds of times what the slowest of them needs on a quiet machine.</summary>
    public static readonly TimeSpan Limit = TimeSpan.FromSeconds(60);

    /// <summary>Takes a mutant all the way; what went wrong is said where something did.</summary>
    public static (Outcome Outcome, string What) Run(Mutant mutant)
    {
        var work = Task.Factory.StartNew(() => Try(mutant), CancellationToken.None, TaskCreationOptions.LongRunning, TaskScheduler.Default);
        return work.Wait(Limit) ? work.Result : (Outcome.Hung, $"not done after {Limit.TotalSeconds:0} s");
    }

    private static (Outcome Outcome, string What) Try(Mutant mutant)
    {
        try
        {
            var text = Encoding.UTF8.GetString(mutant.Bytes);
            switch (mutant.Kind)
            {
                case MutantKind.Assignment:
                    AssignmentFile.Parse(text, Path.Combine(Places.TestData, "homework"));
                    break;
                case MutantKind.Table:
                    if (mutant.Source.EndsWith("phrases", StringComparison.Ordinal)) PhraseTable.Read(new StringReader(text));
                    else TabledCue.Of("mutant", ChordTable.Read(new StringReader(text)), null);
                    break;
                default:
                    Score(ScoreFile.Parse(mutant.Bytes));
                    break;
            }

            return (Outcome.Read, "");
        }
        catch (Exception e) when (e is ScoreFormatException or AssignmentFormatException && e.Message.Length > 0)
        {
            return (Outcome.Refused, e.Message);
        }
        catch (Exception e) when (e is not OutOfMemoryException)
        {
            return (Outcome.Broken, e.ToString());
        }
    }

    private static void Score(ScoreFile file)
    {
        var analysis = CueAnalysis.Of(file.Score);
        var density = CueDensity.Of(analysis, Band.Default);
        using var table = new StringWriter(CultureInfo.InvariantCulture);
        ChordTable.Write(ChordRow.Of(analysis), table);
        PhraseTable.Write(PhraseRow.Of(analysis, density), TextWriter.Null);
        AnalysisJson.Write(analysis, density);
        ChordTable.Read(new StringReader(table.ToString()));
        if (file.Score.Measures.Count > 0) ReductionScore.MusicXml(HarmonicReduction.Of(analysis), LabelOptions.Default);
        if (file.MusicXml is not { } document) return;
        var annotated = MusicXmlDocument.Parse(AnnotatedScore.Write(document, analysis, LabelOptions.Default));
        if (!Notes(MusicXmlReader.Read(annotated)).SequenceEqual(Notes(file.Score)))
            throw new InvalidOperationException("The annotated score has other notes.");
        AnnotatedScore.Strip(annotated);
    }

    private static IEnumerable<(Theory.Fraction, Theory.Fraction, Theory.Pitch, int)> Notes(Score score) =>
        score.Notes.Select(n => (n.Onset, n.Duration, n.Pitch, n.Part));
}
