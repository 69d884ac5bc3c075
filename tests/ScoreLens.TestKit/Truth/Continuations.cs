using ScoreLens.Theory;

namespace ScoreLens.TestKit.Truth;

/// <summary>How each device is expected to go on, by the table of docs/devices.md, judged from roots and qualities alone.</summary>
internal static class Continuations
{
    // docs/devices.md: delayed is after one or two other chords.
    private const int MostBetween = 2;

    /// <summary>What the column <c>resolution</c> should say of a row, or null where the row does not tell enough.</summary>
    /// <param name="row">The row of a device.</param>
    /// <param name="after">The rows after it; the same harmony again is left out.</param>
    public static string? Expected(TableRow row, IReadOnlyList<TableRow> after) => row.Device switch
    {
        "chromatic-mediant" or "double-chromatic-mediant" or "other-chromatic" => "",
        "secondary-dominant" => TargetRoot(row) is { } target
            ? IsDeceptive(row, after) ? "resolved" : Reach(after, r => StandsOn(r, target, after) || IsSeventhOn(r, target + 6), r => Prolongs(row, r, target))
            : null,
        "secondary-leading-tone" => TargetRoot(row) is { } target
            ? Reach(after, r => StandsOn(r, target, after), r => r.IsMajor && Above(target, r.Root) == 7)
            : null,
        "tritone-substitute" => Reach(after, r => StandsOn(r, row.Members[0] + 11, after), r => IsOnFifth(row, r) && r.IsMajor),
        "augmented-sixth" => Reach(
            after, r => StandsOn(r, row.Members[0] + 11, after) && !IsCadential(r, after), r => IsCadential(r, after) && StandsOn(r, row.Members[0] + 11, after)),
        "neapolitan" => Reach(
            after,
            r => (IsOnFifth(row, r) && r.IsMajor && !IsCadential(r, after)) || (r.IsDiminished && Degree(row, r) == 11),
            r => IsCadential(r, after) || (r.IsDiminished && Degree(row, r) == 6) || (r.IsMajor && Degree(row, r) == 2) || r.Quality.IsAugmentedSixth()),
        "modal-mixture" => row.Reason.Contains("Picardy", StringComparison.Ordinal) ? "resolved" : Reach(after, r => IsDiatonic(r), r => IsBorrowed(r)),
        "common-tone-diminished" => after is [var next, ..] && row.Members.Contains(next.Root) ? "resolved" : "unresolved",
        "altered-dominant" => AlteredRoot(row) is { } root ? Reach(after, r => StandsOn(r, root + 5, after) && !IsCadential(r, after), r => r.Root == root) : null,
        _ => null,
    };

    /// <summary>Whether a row is a cadential six-four: named so, or a tonic six-four before a chord on its bass.</summary>
    public static bool IsCadential(TableRow row, IReadOnlyList<TableRow> after)
    {
        if (row.Numeral!.Kind == NumeralKind.CadentialSixFour) return true;
        var place = after.ToList().IndexOf(row);
        return row.Numeral is { Degree: 1, Inversion: 2, Target: null } && !row.Quality.IsSeventh()
            && place >= 0 && place + 1 < after.Count && after[place + 1].Root == row.Bass && after[place + 1].Bass == row.Bass;
    }

    private static string Reach(IReadOnlyList<TableRow> after, Func<TableRow, bool> isGoal, Func<TableRow, bool> isThrough)
    {
        var strangers = 0;
        foreach (var row in after)
        {
            if (isGoal(row)) return strangers == 0 ? "resolved" : "delayed";
            if (!isThrough(row) && ++strangers > MostBetween) break;
        }

        return "unresolved";
    }

    private static bool StandsOn(TableRow row, int pitchClass, IReadOnlyList<TableRow> after) =>
        IsCadential(row, after) ? row.Bass == pitchClass % 12 : row.Root == pitchClass % 12 && !row.IsDiminished && !row.Quality.IsAugmentedSixth();

    private static bool IsSeventhOn(TableRow row, int pitchClass) => row.Quality == ChordQuality.DominantSeventh && row.Root == pitchClass % 12;

    // The target's own leading-tone chord, its dominant after a six-four, and the dominant's tritone substitute continue a dominant.
    private static bool Prolongs(TableRow row, TableRow other, int target) =>
        (other.IsDiminished && Above(other.Root, target) == 1) || IsSeventhOn(other, target + 1)
        || (row.Numeral!.Kind == NumeralKind.CadentialSixFour && Above(target, other.Root) == 7);

    // The sixth degree of the target: a tone above the dominant in minor, a semitone above it in major.
    private static bool IsDeceptive(TableRow row, IReadOnlyList<TableRow> after) =>
        after is [var next, ..] && next.Quality != ChordQuality.DominantSeventh && TargetRoot(row) is { } target
        && (((target + 9) % 12 == next.Root && next.IsMinor) || ((target + 8) % 12 == next.Root && next.IsMajor));

    private static int? TargetRoot(TableRow row) => Numeral.TryParse(row.Target, row.Key.Mode, out var target) ? target.Root(row.Key).PitchClass : null;

    private static int? AlteredRoot(TableRow row) => row.Quality switch
    {
        ChordQuality.FrenchSixth => row.Members[2],
        ChordQuality.Augmented or ChordQuality.AugmentedSeventh when row.Members.Contains((row.Key.Tonic + 1).PitchClass) => (row.Key.Tonic + 1).PitchClass,
        _ => row.Members[0],
    };

    private static int Above(int from, int to) => ((to - from) % 12 + 12) % 12;

    private static int Degree(TableRow row, TableRow other) => Above(row.Key.Tonic.PitchClass, other.Root);

    private static bool IsOnFifth(TableRow row, TableRow other) => Degree(row, other) == 7;

    private static bool IsDiatonic(TableRow row) => !row.Numeral!.IsApplied && row.Device.Length == 0 && Diatonic.Contains(row.Key, row.Numeral);

    private static bool IsBorrowed(TableRow row) => !IsDiatonic(row) && Diatonic.Contains(row.Key.Parallel, row.Numeral!.Tones(row.Key));
}
