using System.Globalization;
using System.Text;
using ScoreLens.Cli.Shared;
using ScoreLens.Density;
using ScoreLens.Devices;
using ScoreLens.Notation;
using ScoreLens.Phrases;
using ScoreLens.Reading;
using ScoreLens.Reharmonising;
using ScoreLens.Reharmonising.Wording;
using ScoreLens.Reharmonising.Writing;
using ScoreLens.Theory;
using ScoreLens.Wording;

namespace ScoreLens.Cli.Reharmonising;

/// <summary>What is said of one score.</summary>
internal sealed record ReharmoniseAnswer(IReadOnlyList<AlternativeRow> Rows, string Text)
{
    private const int TopOfChord = 8, TopOfList = 3;

    /// <summary>What a request finds in a score, or writes into it.</summary>
    public static ReharmoniseAnswer Of(Session session, ScoreInput input, ReharmoniseRequest request)
    {
        var file = session.Load(input);
        var answer = Of(session, input, request, file);
        return request.Page ? answer with { Text = answer.Text + OffersPageFile.Write(session, input, file.Score, answer.Rows) } : answer;
    }

    private static ReharmoniseAnswer Of(Session session, ScoreInput input, ReharmoniseRequest request, ScoreFile file)
    {
        var analysis = session.Analyse(file.Score, request.Keys);
        var reharmoniser = new Reharmoniser(analysis, request.Band, request.Melody?.In(file.Score), session.Stopped);
        if (request.Wish is { } wish) return SetAnswer.Of(session, input, request, analysis, reharmoniser, wish);
        if (request.Apply is { Places.Count: > 0 } picks) return ApplyAll(session, input, request, file, reharmoniser, picks);
        if (request.At is { } place) return AtPlace(session, input, request, file, reharmoniser, place);
        if (request.Phrase is not { } number) return Overview(input, request, analysis, reharmoniser);
        var phrase = PhraseOf(analysis, number);
        var text = new StringBuilder();
        var rows = new List<AlternativeRow>();
        foreach (var index in ChordsOf(analysis, phrase))
        {
            var found = Listed(input, analysis, index, request.Of(reharmoniser, index, request.Top
                ?? TopOfList).Alternatives.Where(request.Takes).Take(request.Top ?? TopOfList));
            text.Append(CultureInfo.InvariantCulture, $"{Heading(input, analysis, analysis.Chords[index].Reading)}\n");
            Describe(text, found);
            rows.AddRange(found);
        }

        return new ReharmoniseAnswer(rows, text.Append(TowardsBand(analysis, phrase, request.Band)).ToString());
    }

    // The list is of single chords; which of them bring the phrase into the band together is another question.
    private static string TowardsBand(CueAnalysis analysis, Phrase phrase, Band band)
    {
        var share = Shares.Between(analysis.Chords, phrase.Start, phrase.End).OutsideTime;
        var option = band.Judge(share) switch { Verdict.Below => "--more-colour", Verdict.Above => "--less-colour", _ => "" };
        return option.Length == 0 ? "" : string.Create(CultureInfo.InvariantCulture,
            $"  {ShareText.Percent(share)} of the phrase lies outside the key, wanted are {band} %: {option} finds chords for that\n");
    }

    private static ReharmoniseAnswer AtPlace(
        Session session, ScoreInput input, ReharmoniseRequest request, ScoreFile file, Reharmoniser whole, PlaceSpan place)
    {
        var reharmoniser = SpanOf(session, request, file, whole.Analysis, place) is { } span ? whole.Over([span]) : whole;
        var analysis = reharmoniser.Analysis;
        var index = ChordAt(session, request, file, analysis, place.From);
        if (request.Apply is { Pick: { } pick })
            return Write(session, input, request, file, whole.Analysis, reharmoniser,
                [new Choice(index, Chosen(request, reharmoniser, index, pick))]);
        var text = new StringBuilder();
        var most = request.Top ?? TopOfChord;
        var offers = request.Of(reharmoniser, index, most);
        var alternatives = offers.Alternatives.Where(request.Takes).ToArray();
        var ends = PlaceSpan.EndOf(whole.Analysis, analysis.Chords[index].Reading);
        AlternativeRow[] rows = [.. Listed(input, analysis, index, alternatives.Take(most)).Select(r => r with { To = ends })];
        text.Append(CultureInfo.InvariantCulture, $"{Heading(input, whole.Analysis, analysis.Chords[index].Reading)}\n");
        if (rows.Length > 0 || offers.Otherwise == 0) Describe(text, rows);
        if (request.Device is null && rows.All(r => r.Alternative.Device is not null)
            && reharmoniser.WhyNotPlain(index) is { Length: > 0 } why)
            text.Append(CultureInfo.InvariantCulture, $"  no chord of the key is offered: {why}\n");
        if (offers.Otherwise > 0 && !request.All) text.Append(CultureInfo.InvariantCulture,
            $"  {(rows.Length == 0 ? "" : "and ")}{offers.Otherwise} that would be read as another chord where "
                + $"{(offers.Otherwise == 1 ? "it is" : "they are")} written: --all\n");
        if (alternatives.Length > rows.Length) text.Append(CultureInfo.InvariantCulture,
            $"  and {alternatives.Length - rows.Length} more: --top {alternatives.Length}\n");
        if (offers.Unread > 0) text.Append(CultureInfo.InvariantCulture,
            $"  and up to {offers.Unread} more: --top {rows.Length + offers.Unread}"
                + $"{(offers.HasRare ? "; then chords that are rare at such places" : "")}\n");
        return new ReharmoniseAnswer(rows, text.ToString());
    }

    /// <summary>The phrase of a number.</summary>
    /// <exception cref="UsageException">There is none.</exception>
    public static Phrase PhraseOf(CueAnalysis analysis, int number) => analysis.Phrases.FirstOrDefault(p => p.Number == number)
        ?? throw new UsageException(
            $"there is no phrase {number}; "
                + $"{(analysis.Phrases.Count == 0 ? "the score has none" : $"the phrases are 1 to {analysis.Phrases.Count}")}.");

    private static int ChordAt(Session session, ReharmoniseRequest request, ScoreFile file, CueAnalysis analysis, ScorePlace place)
    {
        if (!place.TryFind(file.Score, session.Movement, request.Clock, out var onset, out var problem)) throw new UsageException(problem);
        var index = analysis.Chords.Index().LastOrDefault(c => c.Item.Reading.Onset <= onset && c.Item.Reading.End > onset, (-1, null!))
            .Index;
        if (index < 0 || analysis.Chords[index].Reading.Numeral is null)
            throw new ScoreFormatException("no chord can be named here, so there is none to replace.", Where(analysis, onset));
        return index;
    }

    // The span of a chord that is to end elsewhere than the one that stands there; null where the chord's own borders hold.
    private static ChordSpan? SpanOf(Session session, ReharmoniseRequest request, ScoreFile file, CueAnalysis analysis, PlaceSpan place)
    {
        if (place.To is null) return null;
        var last = analysis.Chords[ChordAt(session, request, file, analysis, place.To)].Reading;
        if (!place.From.TryFind(file.Score, session.Movement, request.Clock, out var start,
            out var problem)) throw new UsageException(problem);
        if (start >= last.End) throw new UsageException("a chord ends before it begins: the second place comes before the first.");
        return analysis.Chords.Any(c => (c.Reading.Onset, c.Reading.End) == (start, last.End)) ? null : new ChordSpan(start, last.End);
    }

    private static Alternative Chosen(ReharmoniseRequest request, Reharmoniser reharmoniser, int index, Pick pick)
    {
        var key = reharmoniser.Analysis.Chords[index].Reading.Key;
        if (pick.Numeral is { } name && Numeral.TryParse(name, key.Mode, out var numeral)) return reharmoniser.Named(index, numeral)
            ?? throw new UsageException(
            $"--apply {numeral}: {Where(reharmoniser.Analysis, reharmoniser.Analysis.Chords[index].Reading.Onset)} does not take this "
                + $"chord: "
                + "it does not carry the melody, or leaves the chord before it hanging.");
        var alternatives = request.UpTo(reharmoniser, index, pick.Rank);
        return Array.Find(alternatives, a => a.Rank == pick.Rank) ?? throw new UsageException(
            $"--apply {pick.Rank}: {(alternatives.Length == 0 ? "nothing is offered" : $"what is offered has the {(alternatives.Length == 1
                ? "rank" : "ranks")} {string.Join(", ", alternatives.Select(a => a.Rank))}")} "
                + $"in {Where(reharmoniser.Analysis, reharmoniser.Analysis.Chords[index].Reading.Onset)}.");
    }

    private static ReharmoniseAnswer ApplyAll(Session session, ScoreInput input, ReharmoniseRequest request, ScoreFile file,
        Reharmoniser reharmoniser, Picks picks)
    {
        var chosen = new List<(Fraction Onset, Alternative Alternative)>();
        var spans = new List<ChordSpan>();
        foreach (var (place, pick) in picks.Places)
        {
            // A rank is that of the list which --at and --to print, whatever else is chosen.
            var span = SpanOf(session, request, file, reharmoniser.Analysis, place);
            var over = span is { } own ? reharmoniser.Over([own]) : reharmoniser;
            var index = ChordAt(session, request, file, over.Analysis, place.From);
            var reading = over.Analysis.Chords[index].Reading;
            var alternative = Chosen(request, over, index, pick);
            if (chosen.Exists(c => reading.Onset < c.Alternative.Rewriting.End && c.Onset < reading.End))
                throw new UsageException($"--apply: {Where(over.Analysis, reading.Onset)} is given twice: one chord stands there.");
            chosen.Add((reading.Onset, alternative));
            if (span is { } other) spans.Add(other);
        }

        var all = reharmoniser.Over(spans);
        return Write(session, input, request, file, reharmoniser.Analysis, all, [.. chosen.Select(c =>
            new Choice(all.Analysis.Chords.Index().First(o => o.Item.Reading.Onset == c.Onset).Index, c.Alternative))]);
    }

    private static ReharmoniseAnswer Write(Session session, ScoreInput input, ReharmoniseRequest request, ScoreFile file,
        CueAnalysis whole, Reharmoniser reharmoniser, IReadOnlyList<Choice> choices)
    {
        var analysis = reharmoniser.Analysis;
        if (request.OntoReduction) return WriteReduction(session, input, file, analysis, choices);
        foreach (var (index, alternative) in choices)
        {
            if (!alternative.Rewriting.IsPossible) throw new ScoreFormatException(
                $"{alternative.Symbol} cannot be written here: {alternative.Rewriting.Obstacle} --onto reduction writes it under the "
                    + $"score instead.", Where(analysis, analysis.Chords[index].Reading.Onset));
        }

        var written = reharmoniser.Together(choices);
        if (!written.IsPossible) throw new ScoreFormatException($"the chords that follow each other cannot be written together: "
            + $"{written.Obstacle}",
            Where(analysis, analysis.Chords[choices.Min(c => c.Index)].Reading.Onset));
        using var results = session.ResultsIn(input.Folder);
        // A MIDI file has no document to write into; what can be listened to is written all the same.
        if (file.MusicXml is { } document)
            results.Add($"{input.Name}.reharmonised.{(document.IsCompressed ? "mxl" : "musicxml")}",
                ReharmonisedScore.MusicXml(document, file.Score, written.Rewritings));
        results.Add($"{input.Name}.reharmonised.mid", ReharmonisedScore.Midi(file.Score, written.Rewritings));
        results.Add($"{input.Name}.before.reharmonised.mid", ReharmonisedScore.Midi(file.Score, []));
        results.Commit();
        var text = new StringBuilder();
        var rows = new List<AlternativeRow>();
        foreach (var (index, chosen) in written.Choices)
        {
            var row = AlternativeRow.Of(input.Name, analysis, analysis.Chords[index], chosen) with
            {
                To = PlaceSpan.EndOf(whole, analysis.Chords[index].Reading),
            };
            var other = ReadBackWords.OtherName(chosen);
            var note = other.Length == 0 ? "and is read back as that"
                : $"{(chosen.IsKept ? "and is read back as that, named" : "but is read back as")} {other}";
            text.Append(CultureInfo.InvariantCulture,
                $"{input.Path}, {Where(analysis, analysis.Chords[index].Reading.Onset)}: {chosen.Numeral} ({chosen.Symbol}) instead of "
                    + $"{Standing(whole, analysis.Chords[index].Reading)}, {note} -> {input.Folder}\n");
            rows.Add(row);
        }

        return new ReharmoniseAnswer(rows, text.ToString());
    }

    private static ReharmoniseAnswer WriteReduction(Session session, ScoreInput input, ScoreFile file, CueAnalysis analysis,
        IReadOnlyList<Choice> choices)
    {
        var other = OtherReading.With(analysis, choices.ToDictionary(c => c.Index, c => c.Alternative.Numeral));
        using var results = session.ResultsIn(input.Folder);
        if (file.MusicXml is { } document) results.Add($"{input.Name}.reharmonised.{(document.IsCompressed ? "mxl" : "musicxml")}",
            AddedReduction.MusicXml(document, other));
        results.Add($"{input.Name}.reharmonised.mid", AddedReduction.Midi(other));
        results.Commit();
        var text = new StringBuilder();
        var rows = new List<AlternativeRow>();
        foreach (var (index, chosen) in choices.OrderBy(c => c.Index))
        {
            var row = AlternativeRow.Of(input.Name, analysis, analysis.Chords[index], chosen);
            text.Append(CultureInfo.InvariantCulture,
                $"{input.Path}, {Where(analysis, analysis.Chords[index].Reading.Onset)}: {chosen.Numeral} ({chosen.Symbol}) instead of "
                    + $"{row.InsteadOf}, in a reduction under the score, whose notes stay -> {input.Folder}\n");
            rows.Add(row);
        }

        return new ReharmoniseAnswer(rows, text.ToString());
    }

    // The best of each phrase, whatever chord they are for; a chord has its best only.
    private static ReharmoniseAnswer Overview(ScoreInput input, ReharmoniseRequest request, CueAnalysis analysis, Reharmoniser reharmoniser)
    {
        var text = new StringBuilder();
        var rows = new List<AlternativeRow>();
        var density = CueDensity.Of(analysis, request.Band);
        text.Append(CultureInfo.InvariantCulture,
            $"{input.Path}: {ShareText.Percent(density.Whole.OutsideTime)} of the time outside the key, {density.Verdict.Name()} "
                + $"{request.Band} %\n");
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

        return new ReharmoniseAnswer(rows, text.ToString());
    }

    private static IEnumerable<int> ChordsOf(CueAnalysis analysis, Phrase phrase) =>
        analysis.Chords.Index().Where(c => c.Item.Reading.Numeral is not null && c.Item.Reading.Onset >= phrase.Start
            && c.Item.Reading.Onset < phrase.End).Select(c => c.Index);

    private static IReadOnlyList<AlternativeRow> Listed(ScoreInput input, CueAnalysis analysis, int index,
        IEnumerable<Alternative> alternatives) =>
        [.. alternatives.Select(a => AlternativeRow.Of(input.Name, analysis, analysis.Chords[index], a))];

    private static string Heading(ScoreInput input, CueAnalysis analysis, ChordReading place) =>
        $"{input.Path}, {Where(analysis, place.Onset)}: instead of {Standing(analysis, place)} in {place.Key}, which "
            + $"{(Over(analysis, place).Length == 1 ? "is" : "are")} "
            + string.Join(" and ", Over(analysis, place).Select(c => ChordName.Of(c.Key, c.Numeral!)));

    /// <summary>The numerals that stand in a chord's time; of a chord that is divided, its own.</summary>
    public static string Standing(CueAnalysis analysis, ChordReading place) =>
        string.Join(" and ", Over(analysis, place).Select(c => $"{c.Numeral}"));

    private static ChordReading[] Over(CueAnalysis analysis, ChordReading place) =>
        [.. analysis.Chords.Select(c => c.Reading).Where(c => c.Numeral is not null && c.Onset < place.End && c.End > place.Onset)];

    /// <summary>Adds what is said of some alternatives.</summary>
    public static void Describe(StringBuilder text, IReadOnlyList<AlternativeRow> rows)
    {
        if (rows.Count == 0) text.Append("  nothing carries the melody, goes on as it should and keeps what stands before resolved\n");
        foreach (var row in rows)
        {
            var (a, balance) = (row.Alternative, row.Alternative.Balance);
            text.Append(
                CultureInfo.InvariantCulture,
                $"  {(a.Rank > 0 ? $"{a.Rank}" : "-"),2}  {a.Numeral,-9} {a.Symbol,-9} {a.Device?.Name() ?? "diatonic",-24} "
                    + $"{a.CommonTones} common, {a.Semitones} "
                    + $"semitones; experts {ShareText.WholePercent(a.Experts)}; "
                + $"phrase {ShareText.Percent(balance.PhraseBefore)} -> {ShareText.Percent(balance.PhraseAfter)} "
                + $"{balance.Verdict.Name()}, cue {ShareText.Percent(balance.CueBefore)} -> {ShareText.Percent(balance.CueAfter)}\n");
            text.Append(CultureInfo.InvariantCulture, $"      {a.Reason}\n");
            if (ReadBackWords.OtherName(a) is { Length: > 0 } other) text.Append(CultureInfo.InvariantCulture,
                $"      Written into the score it is {(a.IsKept ? "named" : "read as")} {other}.\n");
            if (!a.Rewriting.IsPossible) text.Append(CultureInfo.InvariantCulture,
                $"      It cannot be written into the score: {a.Rewriting.Obstacle}\n");
        }
    }

    /// <summary>A place in words.</summary>
    public static string Where(CueAnalysis analysis, Fraction onset)
    {
        var measure = analysis.Score.MeasureAt(onset);
        return $"measure {measure.Number}, beat {measure.BeatAt(onset)}";
    }
}
