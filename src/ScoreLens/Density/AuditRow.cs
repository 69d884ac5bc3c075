using ScoreLens.Devices;

namespace ScoreLens.Density;

/// <summary>What an audit says of one phrase.</summary>
/// <param name="Cue">The cue's name.</param>
/// <param name="Place">The phrase and its measures.</param>
/// <param name="Balance">Its shares and verdict.</param>
/// <param name="Outside">The chords outside the key that begin in it, in order.</param>
/// <param name="Unresolved">Those of its chords that do not go on as expected.</param>
public sealed record AuditRow(
    string Cue, PhrasePlace Place, PhraseDensity Balance, IReadOnlyList<ChordRow> Outside, IReadOnlyList<ChordRow> Unresolved)
{
    /// <summary>The chord outside the key that begins before it and sounds on into it; null where there is none.</summary>
    public ChordRow? HeldOver { get; init; }

    /// <summary>The device that takes most of the time outside the key; null where nothing is outside.</summary>
    public Device? Cause => Balance.Shares.Devices is [var device, ..] ? device : null;

    /// <summary>Audits a cue, a row a phrase.</summary>
    public static IReadOnlyList<AuditRow> Of(TabledCue cue, CueDensity density)
    {
        ArgumentNullException.ThrowIfNull(cue);
        ArgumentNullException.ThrowIfNull(density);
        return
        [
            .. density.Phrases.Select((balance, i) =>
            {
                var phrase = balance.Phrase;
                var chords = cue.Chords.Where(c => c.Chord.Reading.Onset < phrase.End && c.Chord.Reading.End > phrase.Start).ToList();
                return new AuditRow(
                    cue.Name, cue.Phrases[i], balance,
                    [.. chords.Where(c => c.Chord.IsOutside && c.Chord.Reading.Onset >= phrase.Start)],
                    [.. chords.Where(c => c.Chord.Resolution == Resolution.Unresolved && c.Chord.Reading.Onset >= phrase.Start)])
                {
                    HeldOver = chords.FirstOrDefault(c => c.Chord.IsOutside && c.Chord.Reading.Onset < phrase.Start),
                };
            }),
        ];
    }
}
