using ScoreLens.Density;
using ScoreLens.Devices;
using ScoreLens.Theory;
using ScoreLens.Wording;

namespace ScoreLens.Cli.Annotating;

/// <summary>What a new state of a cue changes in its balance, in one line.</summary>
internal static class BalanceChange
{
    // The devices that changed most are named; the table has them all.
    private const int Named = 3;

    /// <summary><c>25 % of the time outside the key, was 18.8 %; within 20-30 %, was below; neapolitan 6.3 %, was 0 %</c>.</summary>
    public static string Of(CueDensity before, CueDensity after)
    {
        var (old, now) = (before.Whole, after.Whole);
        var changed = DeviceNames.All.Where(d => old.TimeOf(d) != now.TimeOf(d))
            .OrderByDescending(d => Absolute(now.TimeOf(d) - old.TimeOf(d))).ToList();
        var share = ShareText.Percent(now.OutsideTime, after.Band);
        if (old.OutsideTime == now.OutsideTime && changed.Count == 0)
            return $"{share} of the time outside the key, as before"
                + (old.Chords == now.Chords ? "" : $"; {now.Chords} chords, were {old.Chords}");
        var parts = new List<string>
        {
            old.OutsideTime == now.OutsideTime ? $"{share} of the time outside the key, as before"
                : $"{share} of the time outside the key, was {ShareText.Percent(old.OutsideTime, before.Band)}",
            $"{after.Verdict.Name()} {after.Band} %" + (before.Verdict == after.Verdict ? "" : $", was {before.Verdict.Name()}"),
        };
        parts.AddRange(changed.Take(Named).Select(d =>
            $"{d.Name()} {ShareText.Percent(now.TimeOf(d))}, was {ShareText.Percent(old.TimeOf(d))}"));
        return string.Join("; ", parts);
    }

    private static Fraction Absolute(Fraction value) => value.Sign < 0 ? -value : value;
}
