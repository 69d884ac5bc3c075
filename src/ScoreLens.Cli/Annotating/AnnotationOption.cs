using System.CommandLine;
using ScoreLens.Cli.Shared;
using ScoreLens.Density;
using ScoreLens.Keys;
using ScoreLens.Notation;
using ScoreLens.Output.Annotation;
using ScoreLens.Theory;

namespace ScoreLens.Cli.Annotating;

/// <summary>What is asked of an annotation.</summary>
/// <param name="Labels">Which labels, as what, and where.</param>
/// <param name="Band">The band.</param>
/// <param name="Sure">The least confidence of a device that counts, 0 to 1.</param>
/// <param name="Keys">When a key counts as new.</param>
/// <param name="Json">Whether both tables are written as JSON too.</param>
/// <param name="Clock">How times on the clock are reckoned.</param>
internal sealed record AnnotationRequest(LabelOptions Labels, Band Band, double Sure, KeyRule Keys, bool Json, ClockOptions Clock);

/// <summary>The options of an annotation, the same for <c>annotate</c> and <c>watch</c>.</summary>
internal sealed class AnnotationOption
{
    private readonly Option<bool> _json = new("--json") { Description = "Write NAME.json too: both tables in one document." };
    private readonly Option<Band> _band = BandOption.Create();
    private readonly Option<double> _sure = SureOption.Create();
    private readonly Option<KeyRule> _keys = KeysOption.Create();
    private readonly Option<string?> _labels = LabelListOption.Labels();
    private readonly Option<string?> _forms = LabelListOption.Forms();
    private readonly Option<SymbolSpelling> _symbols = LabelListOption.Symbols();
    private readonly ClockOption _clock = new();

    private readonly Option<string?> _on = new("--on")
    {
        Description = "Where the labels go: reduction (two small staves of their own at the bottom), top, bottom, or a part as for --part. "
            + "Default: reduction in scores of more than four staves, else numerals under the lowest staff and symbols over the top one.",
        HelpName = "WHERE",
    };

    private readonly Option<string?> _part = new("--part")
    {
        Description = "The part that takes the labels: its name, identifier or number from the top.",
        HelpName = "PART",
    };

    /// <summary>Adds them to a command.</summary>
    public void AddTo(Command command)
    {
        foreach (var option in (Option[])[_json, _band, _sure, _keys, _labels, _forms, _symbols, _on, _part]) command.Add(option);
        _clock.AddTo(command);
        command.Validators.Add(result =>
        {
            if (result.GetResult(_on) is not null && result.GetResult(_part) is not null) result.AddError("Give --on or --part, not both.");
        });
    }

    /// <summary>What the command line says.</summary>
    public AnnotationRequest Of(ParseResult parse) => new(
        LabelOptions.Parse(parse.GetValue(_labels), parse.GetValue(_forms), parse.GetValue(_part)).At(parse.GetValue(_on))
            with
        { Spelling = parse.GetValue(_symbols) },
        parse.GetValue(_band), parse.GetValue(_sure), parse.GetValue(_keys), parse.GetValue(_json), _clock.Of(parse));
}
