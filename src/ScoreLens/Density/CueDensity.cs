using ScoreLens.Devices;
using ScoreLens.Phrases;

namespace ScoreLens.Density;

/// <summary>The balance of one phrase.</summary>
/// <param name="Phrase">The phrase.</param>
/// <param name="Shares">How much of it lies outside the key.</param>
/// <param name="Verdict">Its share of time outside the local key, against the band.</param>
public sealed record PhraseDensity(Phrase Phrase, Shares Shares, Verdict Verdict);

/// <summary>The balance of a cue: each phrase and the whole against a band, by time outside the local key.</summary>
/// <param name="Band">The band.</param>
/// <param name="Phrases">Each phrase in order.</param>
/// <param name="Whole">The phrases together.</param>
/// <param name="Verdict">The whole against the band.</param>
public sealed record CueDensity(Band Band, IReadOnlyList<PhraseDensity> Phrases, Shares Whole, Verdict Verdict)
{
    /// <summary>The balance of an analysed score.</summary>
    public static CueDensity Of(CueAnalysis analysis, Band band)
    {
        ArgumentNullException.ThrowIfNull(analysis);
        return Of(analysis.Chords, analysis.Phrases, band);
    }

    /// <summary>The balance of chords in phrases. A chord over the edge of a phrase counts in both, by the time in each.</summary>
    /// <param name="chords">Chords in order.</param>
    /// <param name="phrases">Phrases in order, without overlap.</param>
    /// <param name="band">The band.</param>
    public static CueDensity Of(IReadOnlyList<TaggedChord> chords, IReadOnlyList<Phrase> phrases, Band band)
    {
        ArgumentNullException.ThrowIfNull(chords);
        ArgumentNullException.ThrowIfNull(phrases);
        var judged = new PhraseDensity[phrases.Count];
        var first = 0;
        for (var i = 0; i < judged.Length; i++)
        {
            var phrase = phrases[i];
            while (first < chords.Count && chords[first].Reading.End <= phrase.Start) first++;
            var shares = Shares.Between(chords.Skip(first).TakeWhile(c => c.Reading.Onset < phrase.End), phrase.Start, phrase.End);
            judged[i] = new PhraseDensity(phrase, shares, band.Judge(shares.OutsideTime));
        }

        var whole = Shares.Sum(judged.Select(p => p.Shares));
        return new CueDensity(band, judged, whole, band.Judge(whole.OutsideTime));
    }
}
