using System.CommandLine;
using System.Globalization;
using ScoreLens.Cli.Shared;
using ScoreLens.Keys;
using ScoreLens.Output.Annotation;
using ScoreLens.Output.Reduction;

namespace ScoreLens.Cli.Commands;

/// <summary>The harmonic reduction: a block chord for every chord of the reading, to read and to listen to.</summary>
internal static class ReduceCommand
{
    public static Command Create()
    {
        var scores = new ScoreOptions();
        var labels = LabelListOption.Labels();
        var forms = LabelListOption.Forms();
        var keys = KeysOption.Create();
        var command = new DocumentedCommand(
            "reduce",
            "Writes the harmonic reduction: a block chord for every chord, labelled, as NAME.reduction.musicxml and, to listen to, as NAME.reduction.mid.",
            "reduce testdata/lamplight.musicxml --out results",
            "reduce cues --out results --labels numerals");
        scores.AddTo(command);
        command.Add(labels);
        command.Add(forms);
        command.Add(keys);
        command.SetAction(parse =>
        {
            var session = new Session(parse, scores);
            var options = LabelOptions.Parse(parse.GetValue(labels), parse.GetValue(forms), null);
            session.ForEach(input => Reduce(session, input, options, parse.GetValue(keys)), summary =>
            {
                if (!session.IsQuiet) session.Output.WriteLine(summary);
            });
            return session.Status;
        });
        return command;
    }

    private static string Reduce(Session session, ScoreInput input, LabelOptions options, KeyRule keys)
    {
        var analysis = CueAnalysis.Of(session.Load(input).Score, keys);
        var reduction = HarmonicReduction.Of(analysis);
        using var results = session.ResultsIn(input.Folder);
        results.Add($"{input.Name}.reduction.musicxml", ReductionScore.MusicXml(reduction, options));
        results.Add($"{input.Name}.reduction.mid", ReductionScore.Midi(reduction));
        results.Commit();
        var chords = reduction.Chords.Count == 1 ? "1 chord" : string.Create(CultureInfo.InvariantCulture,
            $"{reduction.Chords.Count} chords");
        return $"{input.Path}: {analysis.Reading.HomeKey}, {chords} -> {input.Folder}";
    }
}
