using System.CommandLine;
using System.Globalization;
using ScoreLens.Cli.Shared;
using ScoreLens.Keys;
using ScoreLens.Output.Annotation;
using ScoreLens.Output.Reduction;
using ScoreLens.Reharmonising;
using ScoreLens.Theory;

namespace ScoreLens.Cli.Commands;

/// <summary>The harmonic reduction: a block chord for every chord of the reading, to read and to listen to.</summary>
internal static class ReduceCommand
{
    public static Command Create()
    {
        var scores = new ScoreOptions();
        var labels = LabelListOption.Labels();
        var forms = LabelListOption.FormsOrLeadSheet();
        var symbols = LabelListOption.Symbols();
        var keys = KeysOption.Create();
        var command = new DocumentedCommand(
            "reduce",
            "Writes the harmonic reduction: a labelled block chord for every chord, as NAME.reduction.musicxml and, for "
                + "listening, as NAME.reduction.mid; or a lead sheet.",
            "reduce testdata/lamplight.musicxml --out results",
            "reduce cues --out results --labels numerals",
            "reduce testdata/lamplight.musicxml --as leadsheet --symbols jazz --out results",
            "reduce testdata/lamplight.musicxml --plain");
        var plain = new Option<bool>("--plain")
        {
            Description = "Replace every chromatic chord that stands for a diatonic one by that chord, to hear the effect of "
                + "the chromatic chords.",
        };
        scores.AddTo(command);
        command.Add(plain);
        command.Add(labels);
        command.Add(forms);
        command.Add(symbols);
        command.Add(keys);
        command.SetAction(parse =>
        {
            var session = new Session(parse, scores);
            var isLeadSheet = parse.GetValue(forms) == LabelListOption.LeadSheet;
            var options = LabelOptions.Parse(parse.GetValue(labels), isLeadSheet ? null : parse.GetValue(forms), null)
                with
            { Spelling = parse.GetValue(symbols) };
            var rule = parse.GetValue(keys);
            session.ForEach(input => isLeadSheet ? WriteLeadSheet(session, input, options.Spelling, rule)
                : Reduce(session, input, options, rule, parse.GetValue(plain)), summary =>
            {
                if (!session.IsQuiet) session.Output.WriteLine(summary);
            });
            return session.Status;
        });
        return command;
    }

    private static string WriteLeadSheet(Session session, ScoreInput input, SymbolSpelling spelling, KeyRule keys)
    {
        var analysis = CueAnalysis.Of(session.Chosen(session.Load(input).Score).FromZero(), keys, session.From,
            session.Stopped);
        using var results = session.ResultsIn(input.Folder);
        results.Add($"{input.Name}.leadsheet.musicxml", LeadSheet.MusicXml(analysis, spelling));
        results.Commit();
        return $"{input.Path}: {CueText.Keys(analysis)}, lead sheet{SourceText.Of(analysis)} -> {input.Folder}";
    }

    private static string Reduce(Session session, ScoreInput input, LabelOptions options, KeyRule keys, bool isPlain)
    {
        // A movement that is asked for alone is reduced alone, from its own first measure.
        var analysis = CueAnalysis.Of(session.Chosen(session.Load(input).Score).FromZero(), keys, session.From,
            session.Stopped);
        if (isPlain) analysis = OtherReading.Plain(analysis);
        var reduction = HarmonicReduction.Of(analysis);
        var name = isPlain ? "plain.reduction" : "reduction";
        using var results = session.ResultsIn(input.Folder);
        results.Add($"{input.Name}.{name}.musicxml", ReductionScore.MusicXml(reduction, options));
        results.Add($"{input.Name}.{name}.mid", ReductionScore.Midi(reduction));
        results.Commit();
        var chords = reduction.Chords.Count == 1 ? "1 chord" : string.Create(CultureInfo.InvariantCulture,
            $"{reduction.Chords.Count} chords");
        return $"{input.Path}: {CueText.Keys(analysis)}, {chords}{SourceText.Of(analysis)} -> {input.Folder}";
    }
}
