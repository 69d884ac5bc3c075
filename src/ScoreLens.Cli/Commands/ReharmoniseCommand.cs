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
        var apply = Picks.Option();
        var command = new DocumentedCommand(
            "reharmonise",
            "Finds other chords for a chord, ranked by how they carry the melody, go on, move and change the balance; for a whole phrase; or, where no place is "
            + "given, the best ones of each phrase. Writes the one that is chosen into the score, the melody untouched.",
            "reharmonise testdata/lamplight.musicxml --at 10",
            "reharmonise song.musicxml --phrase 2 --device modal-mixture --csv",
            "reharmonise song.musicxml --at 12:3 --apply 1 --out results",
            "reharmonise song.musicxml --apply 12:3=2,14=1 --out results",
            "reharmonise quartet.musicxml --at 12:3 --melody Viola");
        scores.AddTo(command);
        foreach (var option in (Option[])[at, phrase, band, device, melody, all, top, csv, json, apply]) command.Add(option);
        command.Validators.Add(result =>
        {
            Exclude(result, at, phrase);
            Exclude(result, csv, json);
            if (result.GetResult(apply) is { } given && !given.Errors.Any() && result.GetValue(apply) is { } picks) picks.Check(result, at);
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
    private sealed record Request(ScorePlace? At, int? Phrase, Band Band, Wanted? Device, int? Top, Picks? Apply,
        PartChoice? Melody, bool All)
    {
        public bool Takes(Alternative alternative) => Device is not { } wanted || alternative.Device == wanted.Device;
    }

    /// <summary>What <c>--apply</c> asks for: the rank at the place of <c>--at</c>, or places with a rank each.</summary>
    private sealed record Picks(int? Rank, IReadOnlyList<(ScorePlace Place, int Rank)> Places)
    {
        public static Option<Picks?> Option() => new("--apply")
        {
            Description = "Write the score with the alternative of this rank at the place of --at, or with several at once, each as PLACE=RANK: "
                + "NAME.reharmonised.musicxml and NAME.reharmonised.mid, and NAME.original.mid to compare.",
            HelpName = "K | PLACE=K,…",
            CustomParser = result =>
            {
                var text = result.Tokens[0].Value;
                if (IsRank(text, out var rank)) return new Picks(rank, []);
                var places = new List<(ScorePlace, int)>();
                foreach (var pick in text.Split(','))
                {
                    var equals = pick.LastIndexOf('=');
                    if (equals > 0 && IsRank(pick[(equals + 1)..], out var own) && ScorePlace.TryParse(pick[..equals], out var place))
                    {
                        places.Add((place, own));
                        continue;
                    }

                    result.AddError($"--apply: '{pick}' is neither a number from 1 nor a place with one, as in 12:3=2.");
                    return null;
                }

                return new Picks(null, places);
            },
        };

        public void Check(System.CommandLine.Parsing.CommandResult result, Option at)
        {
            var hasPlace = result.GetResult(at) is { Implicit: false };
            if (Rank is not null && !hasPlace) result.AddError("--apply needs --at, or a place with every rank: 12:3=2,14=1.");
            if (Rank is null && hasPlace) result.AddError("Give --at, or places in --apply, not both.");
        }

        private static bool IsRank(string text, out int rank) =>
            int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out rank) && rank >= 1;
    }

    /// <summary>What is said of one score.</summary>
    private sealed record Answer(IReadOnlyList<AlternativeRow> Rows, string Text)
    {
        public static Answer Of(Session session, ScoreInput input, Request request)
        {
            var file = session.Load(input);
            var analysis = CueAnalysis.Of(file.Score);
            var reharmoniser = new Reharmoniser(analysis, request.Band, request.Melody?.In(file.Score));
            if (request.Apply is { Places.Count: > 0 } picks) return ApplyAll(session, input, request, file, analysis, reharmoniser, picks);
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
            var index = ChordAt(file, analysis, place);
            var all = reharmoniser.At(index, all: true).Where(request.Takes).ToArray();
            var alternatives = all.Where(a => request.All || a.ReadBack is not { IsKept: false }).ToArray();
            if (request.Apply is { Rank: { } rank })
                return Write(session, input, file, analysis, reharmoniser, [new Choice(index, Chosen(alternatives, rank, "at this place"))]);
            var text = new StringBuilder();
            var rows = Listed(input, analysis, index, alternatives.Take(request.Top ?? TopOfChord));
            text.Append(CultureInfo.InvariantCulture, $"{Heading(input, analysis, index)}\n");
            if (rows.Count > 0 || all.Length == 0) Describe(text, rows);
            if (all.Length > alternatives.Length) text.Append(CultureInfo.InvariantCulture,
                $"  {(rows.Count == 0 ? "" : "and ")}{all.Length - alternatives.Length} that would be read as another chord where {(all.Length - alternatives.Length == 1 ? "it is" : "they are")} written: --all\n");
            if (alternatives.Length > rows.Count) text.Append(CultureInfo.InvariantCulture,
                $"  and {alternatives.Length - rows.Count} more: --top {alternatives.Length}\n");
            return new Answer(rows, text.ToString());
        }

        private static int ChordAt(ScoreFile file, CueAnalysis analysis, ScorePlace place)
        {
            if (!place.TryFind(file.Score, out var onset, out var problem)) throw new UsageException(problem);
            var index = analysis.Chords.Index().LastOrDefault(c => c.Item.Reading.Onset <= onset && c.Item.Reading.End > onset, (-1, null!))
                .Index;
            if (index < 0 || analysis.Chords[index].Reading.Numeral is null)
                throw new ScoreFormatException("no chord can be named here, so there is none to replace.", Where(analysis, onset));
            return index;
        }

        private static Alternative Chosen(Alternative[] alternatives, int rank, string where) =>
            Array.Find(alternatives, a => a.Rank == rank) ?? throw new UsageException(
                $"--apply {rank}: {(alternatives.Length == 0 ? "nothing is offered" : $"what is offered has the {(alternatives.Length == 1 ? "rank" : "ranks")} {string.Join(", ", alternatives.Select(a => a.Rank))}")} {where}.");

        private static Answer ApplyAll(Session session, ScoreInput input, Request request, ScoreFile file, CueAnalysis analysis,
            Reharmoniser reharmoniser, Picks picks)
        {
            var choices = new List<Choice>();
            foreach (var (place, rank) in picks.Places)
            {
                var index = ChordAt(file, analysis, place);
                var alternatives = reharmoniser.At(index, request.All).Where(request.Takes).ToArray();
                if (choices.Exists(c => c.Index == index))
                    throw new UsageException($"--apply: {Where(analysis, analysis.Chords[index].Reading.Onset)} is given twice: one chord stands there.");
                choices.Add(new Choice(index, Chosen(alternatives, rank, $"in {Where(analysis, analysis.Chords[index].Reading.Onset)}")));
            }

            return Write(session, input, file, analysis, reharmoniser, choices);
        }

        private static Answer Write(Session session, ScoreInput input, ScoreFile file, CueAnalysis analysis, Reharmoniser reharmoniser,
            IReadOnlyList<Choice> choices)
        {
            foreach (var (index, alternative) in choices)
            {
                if (!alternative.Rewriting.IsPossible) throw new ScoreFormatException(
                    $"{alternative.Symbol} cannot be written here: {alternative.Rewriting.Obstacle}", Where(analysis, analysis.Chords[index].Reading.Onset));
            }

            var written = reharmoniser.Together(choices);
            if (!written.IsPossible) throw new ScoreFormatException($"the chords that follow each other cannot be written together: {written.Obstacle}",
                Where(analysis, analysis.Chords[choices.Min(c => c.Index)].Reading.Onset));
            using var results = session.ResultsIn(input.Folder);
            // A MIDI file has no document to write into; what can be listened to is written all the same.
            if (file.MusicXml is { } document)
                results.Add($"{input.Name}.reharmonised.{(document.IsCompressed ? "mxl" : "musicxml")}",
                    ReharmonisedScore.MusicXml(document, file.Score, written.Rewritings));
            results.Add($"{input.Name}.reharmonised.mid", ReharmonisedScore.Midi(file.Score, written.Rewritings));
            results.Add($"{input.Name}.original.mid", ReharmonisedScore.Midi(file.Score, []));
            results.Commit();
            var text = new StringBuilder();
            var rows = new List<AlternativeRow>();
            foreach (var (index, chosen) in written.Choices)
            {
                var row = AlternativeRow.Of(input.Name, analysis, analysis.Chords[index], chosen);
                var other = ReadBackWords.OtherName(chosen);
                var note = other.Length == 0 ? "and is read back as that"
                    : $"{(chosen.IsKept ? "and is read back as that, named" : "but is read back as")} {other}";
                text.Append(CultureInfo.InvariantCulture,
                    $"{input.Path}, {Where(analysis, analysis.Chords[index].Reading.Onset)}: {chosen.Numeral} ({chosen.Symbol}) instead of {row.InsteadOf}, {note} -> {input.Folder}\n");
                rows.Add(row);
            }

            return new Answer(rows, text.ToString());
        }

        // The best of each phrase, whatever chord they are for; a chord has its best only.
        private static Answer Overview(ScoreInput input, Request request, CueAnalysis analysis, Reharmoniser reharmoniser)
        {
            var text = new StringBuilder();
            var rows = new List<AlternativeRow>();
            var density = CueDensity.Of(analysis, request.Band);
            text.Append(CultureInfo.InvariantCulture,
                $"{input.Path}: {ShareText.Percent(density.Whole.OutsideTime)} of the time outside the key, {density.Verdict.Name()} {request.Band} %\n");
            foreach (var (balance, best) in density.Phrases.Zip(reharmoniser.BestOfEach(request.Top ?? TopOfList, request.Takes)))
            {
                text.Append(CultureInfo.InvariantCulture,
                    $"phrase {balance.Phrase.Number}: {ShareText.Percent(balance.Shares.OutsideTime)}, {balance.Verdict.Name()}\n");
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
