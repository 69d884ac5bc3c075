using ScoreLens.Density;
using ScoreLens.Theory;

namespace ScoreLens.Pages;

/// <summary>The places of a cue where notes and written chord symbols say different chords: an arranger's proofreading.</summary>
internal static class DisagreementBlock
{
    /// <summary>A table of the places; nothing where there are none.</summary>
    public static Markup Of(CueAnalysis analysis)
    {
        var rows = ChordRow.Of(analysis).Where(r => r.Chord.Reading is { Disagrees: not null, Numeral: not null }).Select(Row).ToList();
        return rows.Count == 0 ? Markup.Empty : Markup.Of($"""
            <section aria-labelledby="disagreements-title">
            <h2 id="disagreements-title">Notes and symbols disagree</h2>
            <div class="table-frame" role="region" aria-label="Table of disagreements" tabindex="0"><table class="sortable"><caption class="unseen">Places where notes and chord symbols say different chords</caption>
            <thead><tr><th scope="col">Measure</th><th scope="col">Beat</th><th scope="col">Symbol</th><th scope="col">Notes</th><th scope="col">Read as</th></tr></thead>
            <tbody>{Markup.Join(rows)}</tbody></table></div>
            </section>
            """);
    }

    private static Markup Row(ChordRow row)
    {
        var (reading, other) = (row.Chord.Reading, row.Chord.Reading.Disagrees!);
        var named = ChordName.Of(reading.Key, reading.Numeral!).ToDisplayString();
        var (symbol, notes) = reading.Written is { } written ? (written.ToDisplayString(), other.ToDisplayString())
            : (other.ToDisplayString(), named);
        return Markup.Of($"""
            <tr><th scope="row"><button type="button" class="go" data-time="{PageData.Time(reading.Onset):0.#####}" aria-label="Go to measure {row.Measure}">{row.Measure}</button></th>
            <td>{row.Beat.ToString()}</td><td>{symbol}</td><td>{notes}</td><td>{reading.Numeral!.ToDisplayString()}</td></tr>
            """);
    }
}
