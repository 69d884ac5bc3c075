using System.Globalization;
using ScoreLens.Density;
using ScoreLens.Notation;
using ScoreLens.Output.Tables;
using ScoreLens.Phrases;
using ScoreLens.Theory;

namespace ScoreLens.TestKit.Truth;

/// <summary>
/// Holds what <c>chords.csv</c> says against the notes of the score: the sentences, the next chords, the resolutions, and what a
/// device rests on. It reads the table as anybody would and shares no code with the rules or with what words their reasons.
/// </summary>
internal static class TruthCheck
{
    private const int LeastPitchClasses = 3;

    // More than any sentence goes through.
    private const int MostFollowing = 16;

    /// <summary>Checks an analysis by its own table; gives how many sentences it has and what is wrong.</summary>
    public static (int Sentences, IReadOnlyList<Fault> Faults) Run(CueAnalysis analysis)
    {
        using var text = new StringWriter(CultureInfo.InvariantCulture);
        ChordTable.Write(ChordRow.Of(analysis), text);
        using var table = new StringReader(text.ToString());
        return Run(analysis.Score, analysis.Phrases, TableRow.Read(table));
    }

    /// <summary>Checks the rows of a table.</summary>
    public static (int Sentences, IReadOnlyList<Fault> Faults) Run(Score score, IReadOnlyList<Phrase> phrases, IReadOnlyList<TableRow> rows)
    {
        var notes = new HeardNotes(score);
        var faults = new List<Fault>();
        for (var i = 0; i < rows.Count; i++) faults.AddRange(Check(rows, i, notes, phrases).Distinct());
        return (rows.Count(r => r.Reason.Length > 0), faults);
    }

    private static IEnumerable<Fault> Check(IReadOnlyList<TableRow> rows, int place, HeardNotes notes, IReadOnlyList<Phrase> phrases)
    {
        var row = rows[place];
        var after = Following(rows, place);
        var isMinorDominant = row.Numeral!.Target is { } target && target.ToString() == "v" && row.Key.IsMinor;
        if (isMinorDominant && after is [{ IsMajor: true } next, ..] && next.Root == (row.Key.Tonic + 1).PitchClass)
            yield return new(FaultKind.MinorDominant, row, $"goes to {next.Numeral}");
        if (row.Device.Length > 0 && IsThin(rows, place, notes))
            yield return new(FaultKind.FewNotes, row, "fewer than three pitch classes sound");
        if (row.Device.Length > 0 && Continuations.Expected(row, after) is { } expected && expected != row.Resolution)
        {
            var follows = string.Join(' ', after.Select(r => r.Numeral));
            yield return new(FaultKind.Resolution, row, $"'{row.Resolution}' where it is '{expected}': {follows}");
        }

        if (row.Reason.Contains("Picardy", StringComparison.Ordinal) && after.Count > 0 && !EndsPhrase(row, after, phrases))
            yield return new(FaultKind.Picardy, row, $"{after[0].Numeral} follows in the phrase");
        if (row.Reason.Length == 0) yield break;
        var claims = Claims.Of(row.Reason);
        if (claims.Count == 0) yield return new(FaultKind.Unread, row, "nothing is understood");
        var following = Rows(rows, place);
        var limit = after.Count > 2 ? after[2].End : after.Count > 0 ? after[^1].End : row.End + 8;
        var before = place > 0 ? rows[place - 1] : null;
        foreach (var claim in claims)
            if (Refute(claim, row, after, following, before, notes, limit) is { } fault) yield return fault;
    }

    private static Fault? Refute(
        Claim claim, TableRow row, IReadOnlyList<TableRow> after, IReadOnlyList<TableRow> following, TableRow? before, HeardNotes notes,
            Fraction limit) =>
        claim switch
        {
            Claim.Named(var tone) when notes.Tones(row.Onset, row.End) is var heard && !heard.Contains(tone) =>
                new(FaultKind.Tone, row, $"{tone} does not sound so written: {string.Join(' ', heard)}"),
            Claim.InSymbol(var tone) when !notes.Symbols(row.Onset, row.End).Contains(tone) =>
                new(FaultKind.Tone, row, $"{tone} is not in the written symbol: {string.Join(' ', notes.Symbols(row.Onset, row.End))}"),
            Claim.Moves(var from, var up, var to, true)
                when !notes.Moves(from, to, up, row.Onset, End(row, following), limit, Next(after, limit)) =>
                new(FaultKind.Movement, row, $"no voice goes {(up ? "up" : "down")} from {from} to {to}"),
            Claim.Held(var tone) when !notes.IsHeld(tone, row.Onset, row.End, limit) => new(FaultKind.Movement, row, $"{tone} is not held"),
            Claim.IsDegree(var tone, var degree, var alteration) when !IsDegree(row.Key, tone, degree, alteration) =>
                new(FaultKind.Degree, row, $"{tone} is another degree of {row.Key}"),
            Claim.Leads(var tone, var to) when !Leads(row.Key, tone, to) =>
                new(FaultKind.Degree, row, $"{tone} does not lead to {to ?? "the tonic"}"),
            Claim.Thirds(var own, var beside, var semitones, var isBefore)
                when !IsThird(row, isBefore ? before : after.Count > 0 ? after[0] : null, own, beside, semitones) =>
                new(FaultKind.NextChord, row, $"{own} and {beside} do not stand so"),
            Claim.NoDevice(var few) when row.Device.Length > 0
                || (few && PitchClasses(notes, row.Onset, row.End) >= LeastPitchClasses) =>
                new(FaultKind.FewNotes, row, "said to be no device"),
            Claim.Pedal(var tone, var isLowest, var degree, var key) when !notes.SoundsThrough(tone, isLowest, row.Onset, row.End)
                || row.Members.Contains(tone.PitchClass) || !IsDegree(key, tone, degree) =>
                new(FaultKind.Pedal, row, $"{tone} is no pedal {degree} of {key}{(isLowest ? " under the chord" : "")}"),
            Claim.Follow(var numerals) => Follows(numerals, row, following),
            _ => null,
        };

    private static bool IsThird(TableRow row, TableRow? neighbour, string own, string beside, int semitones) =>
        neighbour is not null && row.Numeral!.ToString() == own && neighbour.Numeral!.ToString() == beside
        && (row.Root - neighbour.Root + 12) % 12 == semitones;

    // A chord has gone when the next row begins.
    private static Fraction End(TableRow row, IReadOnlyList<TableRow> after) =>
        after.Count > 0 ? Fraction.Max(row.End, after[0].Onset) : row.End;

    // Where the chord that follows ends.
    private static Fraction Next(IReadOnlyList<TableRow> after, Fraction limit) => after.Count > 0 ? after[0].End : limit;

    private static Fault? Follows(IReadOnlyList<string> numerals, TableRow row, IReadOnlyList<TableRow> after)
    {
        for (var i = 0; i < numerals.Count; i++)
        {
            if (i >= after.Count) return new(FaultKind.NextChord, row, $"nothing follows where {numerals[i]} is said to");
            if (after[i].Numeral!.ToString() == numerals[i]) continue;
            var sameRoot = Numeral.TryParse(numerals[i], row.Key.Mode, out var said) && said.Root(row.Key).PitchClass == after[i].Root;
            return new(
                sameRoot ? FaultKind.NextNumeral : FaultKind.NextChord,
                row,
                $"{numerals[i]} is said to follow; the row says {after[i].Numeral} in {after[i].Key}");
        }

        return null;
    }

    private static bool IsDegree(Key key, Tone tone, int degree, int alteration) =>
        tone == key.Tonic + key.ScaleFifths[degree - 1] + (7 * alteration);

    private static bool IsDegree(Key key, Tone tone, string degree) =>
        IsDegree(key, tone, degree[^1] - '0', degree.Count(c => c == '#') - degree.Count(c => c == 'b'));

    private static bool Leads(Key key, Tone tone, string? to)
    {
        if (to is null) return Tone.Semitones(tone, key.Tonic) == 1;
        return !Numeral.TryParse(to, key.Mode, out var numeral) || Tone.Semitones(tone, numeral.Root(key)) == 1;
    }

    // Not enough sounds, in the row or in the rows beside it that are the same harmony.
    private static bool IsThin(IReadOnlyList<TableRow> rows, int place, HeardNotes notes)
    {
        var (first, last) = (place, place);
        while (first > 0 && rows[first - 1].End == rows[first].Onset && rows[first - 1].IsSameHarmony(rows[place])) first--;
        while (last + 1 < rows.Count && rows[last + 1].Onset == rows[last].End && rows[last + 1].IsSameHarmony(rows[place])) last++;
        return PitchClasses(notes, rows[first].Onset, rows[last].End) < LeastPitchClasses;
    }

    // How many different ones sound, or stand in the score's own chord symbols.
    private static int PitchClasses(HeardNotes notes, Fraction start, Fraction end) =>
        notes.Tones(start, end).Concat(notes.Symbols(start, end)).Select(t => t.PitchClass).Distinct().Count();

    private static bool EndsPhrase(TableRow row, IReadOnlyList<TableRow> after, IReadOnlyList<Phrase> phrases) =>
        phrases.FirstOrDefault(p => p.Start <= row.Onset && p.End > row.Onset) is { Cadence: not Cadence.None } phrase
        && after[0].Onset >= phrase.End;

    // Row by row as the table has them; a numeral that is repeated at once counts as one.
    private static List<TableRow> Rows(IReadOnlyList<TableRow> rows, int place)
    {
        var found = new List<TableRow>();
        foreach (var row in rows.Skip(place + 1))
        {
            if (found.Count == MostFollowing) break;
            if (found.Count == 0 || found[^1].Numeral != row.Numeral || found[^1].Key != row.Key) found.Add(row);
        }

        return found;
    }

    private static IReadOnlyList<TableRow> Following(IReadOnlyList<TableRow> rows, int place)
    {
        var next = place + 1;
        while (next < rows.Count && rows[next].IsSameHarmony(rows[place])) next++;
        return [.. rows.Skip(next).Take(MostFollowing)];
    }
}
