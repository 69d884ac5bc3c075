using System.CommandLine;
using System.Globalization;
using System.Text;
using ScoreLens.Cli.Reharmonising;
using ScoreLens.Cli.Shared;
using ScoreLens.Devices;
using ScoreLens.Reharmonising;
using ScoreLens.Reharmonising.Sets;
using ScoreLens.Reharmonising.Writing;

namespace ScoreLens.Cli.Commands;

/// <summary>Other chords for a place, a phrase or a cue, ranked; one of them written into the score.</summary>
internal static class ReharmoniseCommand
{
    public static Command Create()
    {
        var scores = new ScoreOptions();
        var clock = new ClockOption();
        var at = PlaceOption.Create();
        var to = new Option<ScorePlace?>("--to")
        {
            Description = "With --at: one chord from that place to the end of the chord that sounds at this one. It divides a chord, or "
                + "takes the time of several.",
            HelpName = "PLACE",
            CustomParser = result =>
            {
                if (ScorePlace.TryParse(result.Tokens[0].Value, out var place)) return place;
                result.AddError($"--to: '{result.Tokens[0].Value}' is not a place such as 12 or 12:3.");
                return null;
            },
        };
        var phrase = Number("--phrase", "Every chord of this phrase.", "N");
        var band = BandOption.Create();
        var device = new Option<Wanted?>("--device")
        {
            Description = "Only chords of this device; diatonic for those of the key.",
            HelpName = "NAME",
            CustomParser = result =>
            {
                var name = result.Tokens[0].Value;
                if (name == Wanted.Diatonic) return new Wanted(null);
                if (DeviceNames.TryParse(name, out var named)) return new Wanted(named);
                result.AddError($"--device: '{name}' is none of {string.Join(", ", DeviceNames.All.Select(d => d.Name()))}, "
                    + $"{Wanted.Diatonic}.");
                return null;
            },
        };
        var top = Number("--top", "The largest number of offers for each chord, or for each phrase where no place is given. Default: 8, "
            + "else 3.",
            "N");
        var keys = KeysOption.Create();
        var onto = new Option<string?>("--onto")
        {
            Description = "With --apply: reduction leaves every note as it is and adds a reduction on two staves with the new chords.",
            HelpName = "reduction",
        };
        onto.AcceptOnlyFromAmong("reduction");
        var measures = MeasureRange.Option();
        var more = new Option<bool>("--more-colour")
        {
            Description = "A set of chords that gives the phrase, the measures or the cue more time outside the key: into the band, or 5 "
                + "to 15 points more.",
        };
        var less = new Option<bool>("--less-colour")
        {
            Description = "A set of chords that gives it less: into the band, or 5 to 15 "
            + "points less."
        };
        var melody = PartChoice.Option("--melody", "The part that carries the melody, by its number from the top or by name. Default: the "
            + "part that sings, else the one on top.");
        var all = new Option<bool>("--all") { Description = "Also offers that are read as another chord once they are written." };
        var sort = new Option<OfferOrder>("--sort")
        {
            Description = "What a list is sorted by, and what decides between sets: best (everything together), experts (what experts "
                + "have at such places), smoothness or dose (how near the phrase comes to the middle of the band). --apply counts in the "
                + "same "
                + "order. Default: best.",
            HelpName = "ORDER",
            CustomParser = result =>
            {
                if (OfferOrderNames.TryParse(result.Tokens[0].Value, out var order)) return order;
                result.AddError($"--sort: '{result.Tokens[0].Value}' is none of {string.Join(", ", OfferOrderNames.All)}.");
                return OfferOrder.Best;
            },
        };
        var csv = new Option<bool>("--csv") { Description = "Print a table instead, a row an alternative." };
        var json = new Option<bool>("--json") { Description = "Print JSON instead, with the names of the table's columns." };
        var page = new Option<bool>("--page")
        {
            Description = "Also write NAME.offers.html, a page that plays each offer in its place and shows its notes beside the old ones.",
        };
        var apply = Picks.Option();
        var command = new DocumentedCommand(
            "reharmonise",
            "Lists other chords for a chord, for a phrase, or the best ones of each phrase where no place is given. They are ranked by "
                + "what experts have at such places, by how they carry the melody, go on and move, and by what they do to the balance. "
                + "Writes "
                + "those that are chosen into the score; the melody stays.",
            "reharmonise testdata/lamplight.musicxml --at 10",
            "reharmonise song.musicxml --phrase 2 --device modal-mixture --csv",
            "reharmonise song.musicxml --at 12:3 --sort experts --top 10",
            "reharmonise song.musicxml --at 12:3 --to 12:3",
            "reharmonise song.musicxml --phrase 2 --more-colour --band 20-30",
            "reharmonise song.musicxml --phrase 2 --page --out results",
            "reharmonise song.musicxml --at 12:3 --apply 1 --out results",
            "reharmonise song.musicxml --apply 12:3=2,14=1 --out results",
            "reharmonise song.musicxml --at 12:3 --apply 1 --onto reduction",
            "reharmonise quartet.musicxml --at 12:3 --melody Viola");
        scores.AddTo(command);
        foreach (var option in (Option[])[at, to, phrase, measures, band, more, less, device, melody, keys, all, sort, top, csv, json,
            page, apply,
            onto]) command.Add(option);
        clock.AddTo(command);
        command.Validators.Add(result =>
        {
            Exclude(result, at, phrase);
            Exclude(result, csv, json);
            if (result.GetResult(to) is not null && result.GetResult(at) is null) result.AddError("--to needs --at: it says where the "
                + "chord ends.");
            Exclude(result, at, measures);
            Exclude(result, phrase, measures);
            Exclude(result, more, less);
            Exclude(result, page, apply);
            if (result.GetResult(onto) is not null && result.GetResult(apply) is null) result.AddError("--onto needs --apply: it says "
                + "where to write.");
            foreach (var set in (Option[])[measures, more, less])
            {
                Exclude(result, set, apply);
                Exclude(result, set, at);
                Exclude(result, set, device);
            }
            if (result.GetResult(apply) is { Tokens: [var picks, ..] }) Picks.Check(picks.Value, result, at);
        });
        command.SetAction(parse =>
        {
            var session = new Session(parse, scores);
            var request = new ReharmoniseRequest(
                parse.GetValue(at) is { } place ? new PlaceSpan(place, parse.GetValue(to)) : null, parse.GetValue(phrase),
                    parse.GetValue(band), parse.GetValue(device), parse.GetValue(top),
                    parse.GetValue(apply), parse.GetValue(melody), parse.GetValue(all), parse.GetValue(measures), WishOf(parse),
                parse.GetValue(keys), parse.GetValue(onto) is not null, clock.Of(parse), parse.GetValue(sort), parse.GetValue(page));
            var asText = !parse.GetValue(csv) && !parse.GetValue(json);
            var answers = session.ForEach(input => ReharmoniseAnswer.Of(session, input, request), answer =>
            {
                if (asText && !(session.IsQuiet && request.Apply is not null)) session.Output.Write(answer.Text);
            });
            if (session.Status == ExitStatus.WrongCommandLine) return session.Status;
            var rows = answers.SelectMany(a => a.Rows);
            if (parse.GetValue(csv)) AlternativeTable.Write(rows, session.Output);
            if (parse.GetValue(json)) session.Output.WriteLine(Encoding.UTF8.GetString(AlternativeTable.Json(rows)));
            return session.Status;
        });
        return command;

        ColourWish? WishOf(ParseResult parse) => parse.GetValue(more) ? ColourWish.More : parse.GetValue(less) ? ColourWish.Less
            : parse.GetValue(measures) is not null ? ColourWish.IntoBand : null;
    }

    private static Option<int?> Number(string name, string description, string help) => new(name)
    {
        Description = description,
        HelpName = help,
        CustomParser = result =>
        {
            if (int.TryParse(result.Tokens[0].Value, NumberStyles.None, CultureInfo.InvariantCulture, out var number)
                && number >= 1) return number;
            result.AddError($"{name}: '{result.Tokens[0].Value}' is not a number from 1.");
            return null;
        },
    };

    private static void Exclude(System.CommandLine.Parsing.CommandResult result, Option one, Option other)
    {
        if (result.GetResult(one) is { Implicit: false }
            && result.GetResult(other) is { Implicit: false }) result.AddError($"Give {one.Name} or {other.Name}, not both.");
    }

}
