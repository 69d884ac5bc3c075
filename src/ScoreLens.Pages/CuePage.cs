using ScoreLens.Density;
using ScoreLens.Notation;

namespace ScoreLens.Pages;

/// <summary>
/// The page of one cue: where its colour lies at a glance, every chord with its reasons, the engraved score, and listening. One
/// self-contained HTML file that opens from disk, fetches nothing and prints on A4 and Letter.
/// </summary>
public static class CuePage
{
    /// <summary>Writes the page.</summary>
    /// <param name="analysis">The analysed score.</param>
    /// <param name="density">Its balance against a band.</param>
    /// <param name="musicXml">
    /// The annotated score as MusicXML text (partwise or timewise), which the page engraves with numerals and devices under the
    /// notes; null where there is none to engrave.
    /// </param>
    /// <param name="clock">How times on the clock are reckoned; null for the usual way.</param>
    /// <param name="watched">How the page learns that its score was saved again; null for a page that stays as it is.</param>
    /// <returns>The HTML document.</returns>
    public static string Write(CueAnalysis analysis, CueDensity density, string? musicXml, ClockOptions? clock = null,
        WatchedPage? watched = null)
    {
        ArgumentNullException.ThrowIfNull(analysis);
        ArgumentNullException.ThrowIfNull(density);
        var body = Markup.Of($"""
            <a class="skip" href="#strip">To the chords</a>
            <main>
            {CueBlocks.Head(analysis, density)}
            {CueBlocks.Overview(analysis, density)}
            <div class="bench">
            <div class="desk">
            {CueBlocks.Strip(analysis, density)}
            {CueBlocks.Score(musicXml)}
            </div>
            {CueBlocks.Detail()}
            </div>
            {DisagreementBlock.Of(analysis)}
            {CueBlocks.Movements(analysis, density.Band)}
            {CueBlocks.DeviceTable(analysis, density)}
            {CueBlocks.PhraseTable(analysis, density)}
            </main>
            {CueBlocks.Player()}
            """);
        return PageShell.Write($"{CueBlocks.TitleOf(analysis)} – harmonic reading", body, PageData.Of(analysis, labels: true, [], clock),
            musicXml, watched);
    }
}
