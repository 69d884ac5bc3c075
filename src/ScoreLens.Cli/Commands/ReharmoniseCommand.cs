using System.CommandLine;
using System.Globalization;
using System.Text;
using ScoreLens.Cli.Shared;
using ScoreLens.Density;
using ScoreLens.Devices;
using ScoreLens.Notation;
using ScoreLens.Phrases;
using ScoreLens.Reharmonising;
using ScoreLens.Reharmonising.Wording;
using ScoreLens.Reharmonising.Writing;
using ScoreLens.Theory;
using ScoreLens.Wording;

namespace ScoreLens.Cli.Commands;

/// <summary>Other chords for a place, a phrase or a cue, ranked; one of them written into the score.</summary>
internal static class ReharmoniseCommand
{
    private const int TopOfChord = 8, TopOfList = 3;

    public static Command Create()
    {
        var scores = new ScoreOptions();
        var at = PlaceOption.Create();
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
                result.AddError($"--device: '{name}' is none of {string.Join(", ", DeviceNames.All.Select(d => d.Name()))}, {Wanted.Diatonic}.");
                return null;
            },
        };
        var top = Number("--top", "At most so many: of the chord, of each chord of the phrase, or of each phrase. Default: 8, else 3.",
            "N");
        var melody = PartChoice.Option("--melody", "The part that carries the melody, by its number from the top or by name, where it is not the part that sings, "
            + "or the one on top.");
        var all = new Option<bool>("--all") { Description = "Also those that the reader would call another chord where they are written." };
        var csv = new Option<bool>("--csv") { Description = "Print a table instead, a row an alternative." };
        var json = new Option<bool>("--json") { Description = "Print JSON instead, with the names of the table's columns." };
        var apply = Number("--apply", "Write the score with the alternative of this rank: NAME.reharmonised.musicxml and NAME.reharmonised.mid. Needs --at.", "K");
        var command = new DocumentedCommand(
            "reharmonise",
            "Finds other chords for a chord, ranked by how they carry the melody, go on, move and change the balance; for a whole phrase; or, where no place is "
            + "given, the best ones of each phrase. Writes the one that is chosen into the score, the melody untouched.",
            "reharmonise testdata/lamplight.musicxml --at 10",
            "reharmonise song.musicxml --phrase 2 --device modal-mixture --csv",
            "reharmonise song.musicxml --at 12:3 --apply 1 --out results",
            "reharmonise quartet.musicxml --at 12:3 --melody Viola");
        scores.AddTo(command);
        foreach (var option in (Option[])[at, phrase, band, device, melody, all, top, csv, json, apply]) command.Add(option);
        command.Validators.Add(result =>
        {
            Exclude(result, at, phrase);
            Exclude(result, csv, json);
            if (result.GetResult(apply) is not null && result.GetResult(at) is null) result.AddError("--apply needs --at: it writes one chord at one place.");
        });
        command.SetAction(parse =>
        {
            var session = new Session(parse, scores);
            var request = new Request(
                parse.GetValue(at), parse.GetValue(phrase), parse.GetValue(band), parse.GetValue(device), parse.GetValue(top),
                    parse.GetValue(apply), parse.GetValue(melody), parse.GetValue(all));
            var asText = !parse.GetValue(csv) && !parse.GetValue(json);
            var answers = session.ForEach(input => Answer.Of(session, input, request), answer =>
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

    /// <summary>A device that is asked for; none for chords of the key.</summary>
    private sealed record Wanted(Device? Device)
    {
        public const string Diatonic = "diatonic";
    }

    /// <summary>What the command line asks for.</summary>
    private sealed record Request(ScorePlace? At, int? Phrase, Band Band, Wanted? Device, int? Top, int? Apply,
        PartChoice? Melody, bool All)
    {
        public bool Takes(Alternative alternative) => Device is not { } wanted || alternative.Device == wanted.Device;
    }

    /// <summary>What is said of one score.</summary>
    private sealed record Answer(IReadOnlyList<AlternativeRow> Rows, string Text)
    {
        public static Answer Of(Session session, ScoreInput input, Request request)
        {
            var file = session.Load(input);
            var analysis = CueAnalysis.Of(file.Score);
            var reharmoniser = new Reharmoniser(analysis, request.Band, request.Melody?.In(file.Score));
            if (request.At is { } place) return AtPlace(session, input, request, file, analysis, reharmoniser, place);
            if (request.Phrase is not { } number) return Overview(input, request, analysis, reharmoniser);
            var phrase = analysis.Phrases.FirstOrDefault(p => p.Number == number) ?? throw new UsageException(
                $"there is no phrase {number}; {(analysis.Phrases.Count == 0 ? "the score has none" : $"the phrases are 1 to {analysis.Phrases.Count}")}.");
            var text = new StringBuilder();
            var rows = new List<AlternativeRow>();
            foreach (var index in ChordsOf(analysis, phrase))
            {
                var found = Listed(input, analysis, index, reharmoniser.At(index, request.All).Where(request.Takes).Take(request.Top ?? TopOfList));
                text.Append(CultureInfo.InvariantCulture, $"{Heading(input, analysis, index)}\n");
                Describe(text, found);
                rows.AddRange(found);
            }

            return new Answer(rows, text.ToString());
        }

        private static Answer AtPlace(
            Session session, ScoreInput input, Request request, ScoreFile file, CueAnalysis analysis, Reharmoniser reharmoniser,
                ScorePlace place)
        {
            if (!place.TryFind(file.Score, out var onset, out var problem)) throw new UsageException(problem);
            var index = analysis.Chords.Index().LastOrDefault(c => c.Item.Reading.Onset <= onset && c.Item.Reading.End > onset, (-1, null!))
                .Index;
            if (index < 0 || analysis.Chords[index].Reading.Numeral is null)
                throw new ScoreFormatException("no chord can be named here, so there is none to replace.", Where(analysis, onset));
            var alternatives = reharmoniser.At(index, request.All).Where(request.Takes).ToArray();
            if (request.Apply is { } rank)
            {
                if (Array.Find(alternatives, a => a.Rank == rank) is not { } chosen)
                    throw new UsageException($"--apply {rank}: {(alternatives.Length == 0 ? "nothing is offered" : $"what is offered has the {(alternatives.Length == 1 ? "rank" : "ranks")} {string.Join(", ", alternatives.Select(a => a.Rank))}")} at this place.");
                return Apply(session, input, file, analysis, index, chosen);
            }

            var text = new StringBuilder();
            var rows = Listed(input, analysis, index, alternatives.Take(request.Top ?? TopOfChord));
            text.Append(CultureInfo.InvariantCulture, $"{Heading(input, analysis, index)}\n");
            Describe(text, rows);
            if (alternatives.Length > rows.Count) text.Append(CultureInfo.InvariantCulture,
                $"  and {alternatives.Length - rows.Count} more: --top {alternatives.Length}\n");
            return new Answer(rows, text.ToString());
        }

        private static Answer Apply(Session session, ScoreInput input, ScoreFile file, CueAnalysis analysis, int index, Alternative chosen)
        {
            var place = Where(analysis, analysis.Chords[index].Reading.Onset);
            if (!chosen.Rewriting.IsPossible) throw new ScoreFormatException($"{chosen.Symbol} cannot be written here: {chosen.Rewriting.Obstacle}", place);
            using var results = session.ResultsIn(input.Folder);
            // A MIDI file has no document to write into; what can be listened to is written all the same.
            if (file.MusicXml is { } document)
                results.Add($"{input.Name}.reharmonised.{(document.IsCompressed ? "mxl" : "musicxml")}",
                    ReharmonisedScore.MusicXml(document, file.Score, chosen));
            results.Add($"{input.Name}.reharmonised.mid", ReharmonisedScore.Midi(file.Score, chosen));
            results.Commit();
            var row = AlternativeRow.Of(input.Name, analysis, analysis.Chords[index], chosen);
            var other = ReadBackWords.OtherName(chosen);
            var note = other.Length == 0 ? "and is read back as that" : $"{(chosen.IsKept ? "and is read back as that, named" : "but is read back as")} {other}";
            return new Answer([row], $"{input.Path}, {place}: {chosen.Numeral} ({chosen.Symbol}) instead of {row.InsteadOf}, {note} -> {input.Folder}\n");
        }

        // The best of each phrase, whatever chord they are for; a chord has its best only.
        private static Answer Overview(ScoreInput input, Request request, CueAnalysis analysis, Reharmoniser reharmoniser)
        {
            var text = new StringBuilder();
            var rows = new List<AlternativeRow>();
            var density = CueDensity.Of(analysis, request.Band);
            text.Append(CultureInfo.InvariantCulture,
                $"{input.Path}: {ShareText.Percent(density.Whole.OutsideTime)} of the time outside the key, {density.Verdict.Name()} {request.Band} %\n");
            foreach (var balance in density.Phrases)
            {
                text.Append(CultureInfo.InvariantCulture,
                    $"phrase {balance.Phrase.Number}: {ShareText.Percent(balance.Shares.OutsideTime)}, {balance.Verdict.Name()}\n");
                var best = reharmoniser.BestOf(balance.Phrase, request.Top ?? TopOfList, request.Takes);
                if (best.Count == 0) text.Append("  nothing fits that can be written into the score and is then read as what it is\n");
                foreach (var (index, alternative) in best)
                {
                    var row = AlternativeRow.Of(input.Name, analysis, analysis.Chords[index], alternative);
                    text.Append(CultureInfo.InvariantCulture,
                        $"  m. {row.Measure}{(row.Beat == Fraction.One ? "" : $":{row.Beat}")}, instead of {row.InsteadOf}\n");
                    Describe(text, [row]);
                    rows.Add(row);
                }
            }

            return new Answer(rows, text.ToString());
        }

        private static IEnumerable<int> ChordsOf(CueAnalysis analysis, Phrase phrase) =>
            analysis.Chords.Index().Where(c => c.Item.Reading.Numeral is not null && c.Item.Reading.Onset >= phrase.Start
                && c.Item.Reading.Onset < phrase.End).Select(c => c.Index);

        private static IReadOnlyList<AlternativeRow> Listed(ScoreInput input, CueAnalysis analysis, int index,
            IEnumerable<Alternative> alternatives) =>
            [.. alternatives.Select(a => AlternativeRow.Of(input.Name, analysis, analysis.Chords[index], a))];

        private static string Heading(ScoreInput input, CueAnalysis analysis, int index)
        {
            var reading = analysis.Chords[index].Reading;
            return $"{input.Path}, {Where(analysis, reading.Onset)}: instead of {reading.Numeral} in {reading.Key}, which is {ChordName.Of(reading.Key, reading.Numeral!)}";
        }

        private static void Describe(StringBuilder text, IReadOnlyList<AlternativeRow> rows)
        {
            if (rows.Count == 0) text.Append("  nothing carries the melody, goes on as it should and keeps what stands before resolved\n");
            foreach (var row in rows)
            {
                var (a, balance) = (row.Alternative, row.Alternative.Balance);
                text.Append(
                    CultureInfo.InvariantCulture,
                    $"  {a.Rank,2}  {a.Numeral,-9} {a.Symbol,-9} {a.Device?.Name() ?? "diatonic",-24} {a.CommonTones} common, {a.Semitones} semitones; "
                    + $"phrase {ShareText.Percent(balance.PhraseBefore)} -> {ShareText.Percent(balance.PhraseAfter)} {balance.Verdict.Name()}, cue {ShareText.Percent(balance.CueBefore)} -> {ShareText.Percent(balance.CueAfter)}\n");
                text.Append(CultureInfo.InvariantCulture, $"      {a.Reason}\n");
                if (ReadBackWords.OtherName(a) is { Length: > 0 } other) text.Append(CultureInfo.InvariantCulture,
                    $"      Written into the score it is {(a.IsKept ? "named" : "read as")} {other}.\n");
                if (!a.Rewriting.IsPossible) text.Append(CultureInfo.InvariantCulture,
                    $"      It cannot be written into the score: {a.Rewriting.Obstacle}\n");
            }
        }

        private static string Where(CueAnalysis analysis, Fraction onset)
        {
            var measure = analysis.Score.MeasureAt(onset);
            return $"measure {measure.Number}, beat {measure.BeatAt(onset)}";
        }
    }
}
