using ScoreLens.Theory;

namespace ScoreLens.TestKit.Truth;

/// <summary>How a device is expected to go on, by the table of docs/devices.md, judged from roots and qualities alone.</summary>
internal sealed class Continuations(TableRow row, IReadOnlyList<TableRow> after)
{
    // docs/devices.md: delayed is after one or two other chords.
    private const int MostBetween = 2;

    private int Tonic => row.Key.Tonic.PitchClass;

    private int Fifth => (Tonic + 7) % 12;

    /// <summary>What the column <c>resolution</c> should say of a row, or null where the row does not tell enough.</summary>
    /// <param name="row">The row of a device.</param>
    /// <param name="after">The rows after it; the same harmony again is left out.</param>
    public static string? Expected(TableRow row, IReadOnlyList<TableRow> after) => new Continuations(row, after).Expected();

    private string? Expected() => row.Device switch
    {
        "chromatic-mediant" or "double-chromatic-mediant" or "other-chromatic" => "",
        "secondary-dominant" => Target() is { } target ? SecondaryDominant(target) : null,
        "secondary-leading-tone" => Target() is { } target
            ? Reach(r => StandsOn(r, target), r => r.IsMajor && Above(target, r.Root) == 7)
            : null,
        "tritone-substitute" => Reach(r => StandsOn(r, row.Members[0] + 11), r => r.Root == Fifth && r.IsMajor),
        "augmented-sixth" => Reach(
            r => StandsOn(r, row.Members[0] + 11) && !IsCadential(r),
            r => StandsOn(r, row.Members[0] + 11) && IsCadential(r)),
        "neapolitan" => Reach(
            r => (r.Root == Fifth && r.IsMajor && !IsCadential(r)) || (r.IsDiminished && Above(Tonic, r.Root) == 11),
            r => IsCadential(r) || LeadsToFifth(r)),
        "modal-mixture" => row.Reason.Contains("Picardy", StringComparison.Ordinal) ? "resolved" : Reach(IsDiatonic, IsBorrowed),
        "common-tone-diminished" => after is [var next, ..] && row.Members.Contains(next.Root) ? "resolved" : "unresolved",
        "altered-dominant" => Reach(r => StandsOn(r, Dominant() + 5) && !IsCadential(r), r => StandsOn(r, Dominant())),
        _ => null,
    };

    private string SecondaryDominant(int target)
    {
        // The sixth degree of the target instead of it: minor where the target is major, and the other way.
        if (after is [var next, ..] && next.Quality != ChordQuality.DominantSeventh
            && ((next.IsMinor && Above(target, next.Root) == 9) || (next.IsMajor && Above(target, next.Root) == 8)))
        {
            return "resolved";
        }

        return Reach(r => StandsOn(r, target) || IsSeventhOn(r, target + 6), r => Prolongs(r, target));
    }

    private string Reach(Func<TableRow, bool> isGoal, Func<TableRow, bool> isThrough)
    {
        var strangers = 0;
        foreach (var next in after)
        {
            if (isGoal(next)) return strangers == 0 ? "resolved" : "delayed";
            if (!isThrough(next) && ++strangers > MostBetween) break;
        }

        return "unresolved";
    }

    // Named so, or a tonic six-four before a chord on its bass.
    private bool IsCadential(TableRow other)
    {
        if (other.Numeral!.Kind == NumeralKind.CadentialSixFour) return true;
        if (other.Numeral is not { Degree: 1, Inversion: 2, Target: null } || other.Quality.IsSeventh()) return false;
        var place = after.ToList().IndexOf(other);
        return place + 1 < after.Count && after[place + 1].Root == other.Bass && after[place + 1].Bass == other.Bass;
    }

    private bool StandsOn(TableRow other, int pitchClass) => IsCadential(other)
        ? other.Bass == pitchClass % 12
        : other.Root == pitchClass % 12 && !other.IsDiminished && !other.Quality.IsAugmentedSixth();

    private static bool IsSeventhOn(TableRow other, int pitchClass) =>
        other.Quality == ChordQuality.DominantSeventh && other.Root == pitchClass % 12;

    // The target's own leading-tone chord, its dominant after a six-four, and the dominant's tritone substitute continue a dominant.
    private bool Prolongs(TableRow other, int target) =>
        (other.IsDiminished && Above(other.Root, target) == 1) || IsSeventhOn(other, target + 1)
        || (row.Numeral!.Kind == NumeralKind.CadentialSixFour && Above(target, other.Root) == 7);

    private bool LeadsToFifth(TableRow other) =>
        (other.IsDiminished && Above(Tonic, other.Root) == 6) || (other.IsMajor && Above(Tonic, other.Root) == 2)
        || other.Quality.IsAugmentedSixth();

    private int? Target() => Numeral.TryParse(row.Target, row.Key.Mode, out var target) ? target.Root(row.Key).PitchClass : null;

    // An augmented triad sounds alike from each tone: the fifth degree counts where it is there.
    private int Dominant() => row.Quality switch
    {
        ChordQuality.FrenchSixth => row.Members[2],
        ChordQuality.Augmented when row.Members.Contains(Fifth) => Fifth,
        _ => row.Members[0],
    };

    private static int Above(int from, int to) => ((to - from) % 12 + 12) % 12;

    private static bool IsDiatonic(TableRow other) =>
        !other.Numeral!.IsApplied && other.Device.Length == 0 && Diatonic.Contains(other.Key, other.Numeral);

    private static bool IsBorrowed(TableRow other) =>
        !IsDiatonic(other) && Diatonic.Contains(other.Key.Parallel, other.Numeral!.Tones(other.Key));
}
