using System.CommandLine;
using System.Globalization;
using ScoreLens.Cli.Shared;
using ScoreLens.Keys;
using ScoreLens.Output.Annotation;
using ScoreLens.Output.Reduction;
using ScoreLens.Reharmonising;

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
            "reduce cues --out results --labels numerals",
            "reduce testdata/lamplight.musicxml --plain");
        var plain = new Option<bool>("--plain")
        {
            Description = "The plain chord of the key in the place of every coloured one that stands for one, to hear what the colour does.",
        };
        scores.AddTo(command);
        command.Add(plain);
        command.Add(labels);
        command.Add(forms);
        command.Add(keys);
        command.SetAction(parse =>
        {
            var session = new Session(parse, scores);
            var options = LabelOptions.Parse(parse.GetValue(labels), parse.GetValue(forms), null);
            session.ForEach(input => Reduce(session, input, options, parse.GetValue(keys), parse.GetValue(plain)), summary =>
            {
                if (!session.IsQuiet) session.Output.WriteLine(summary);
            });
            return session.Status;
        });
        return command;
    }

    private static string Reduce(Session session, ScoreInput input, LabelOptions options, KeyRule keys, bool isPlain)
    {
        // A movement that is asked for alone is reduced alone, from its own first measure.
        var analysis = CueAnalysis.Of(session.Chosen(session.Load(input).Score).FromZero(), keys);
        if (isPlain) analysis = OtherReading.Plain(analysis);
        var reduction = HarmonicReduction.Of(analysis);
        var name = isPlain ? "plain.reduction" : "reduction";
        using var results = session.ResultsIn(input.Folder);
        results.Add($"{input.Name}.{name}.musicxml", ReductionScore.MusicXml(reduction, options));
        results.Add($"{input.Name}.{name}.mid", ReductionScore.Midi(reduction));
        results.Commit();
        var chords = reduction.Chords.Count == 1 ? "1 chord" : string.Create(CultureInfo.InvariantCulture,
            $"{reduction.Chords.Count} chords");
        return $"{input.Path}: {CueText.Keys(analysis)}, {chords} -> {input.Folder}";
    }
}
