using System.Text;
using System.Text.Json;
using ScoreLens.Devices;
using ScoreLens.Output;

namespace ScoreLens.Pages;

/// <summary>One self-contained HTML file around its content: nothing is fetched, and nothing but the page's own scripts can run.</summary>
internal static class PageShell
{
    /// <summary>Writes the file.</summary>
    /// <param name="title">The page's title; any text.</param>
    /// <param name="body">What stands between header and footer.</param>
    /// <param name="data">What the scripts work with, or null.</param>
    /// <param name="musicXml">The score to engrave, or null.</param>
    /// <param name="watched">How the page learns that its score was saved again, or null.</param>
    public static string Write(string title, Markup body, PageData? data, string? musicXml = null, WatchedPage? watched = null)
    {
        var assets = PageAssets.Current;
        var style = DeviceColours() + assets.Style;
        var engraver = musicXml is null ? null : assets.Engraver;
        var policy = $"default-src 'none'; script-src {PageAssets.Hash(assets.Script)} {(engraver is null ? "" : assets.EngraverHash)}"
            // A watched page asks the file beside it, wherever that lies.
            + $"{(watched is null ? "" : " file: 'self'")}; "
            + $"style-src {PageAssets.Hash(style)}; base-uri 'none'; form-action 'none'";
        var source = musicXml is null || engraver is null ? null : PageAssets.Pack(PageScore.Of(musicXml));
        // The engraving library is most of the page: it is copied once.
        var before = Markup.Of($"""
            <!DOCTYPE html>
            <html lang="en"{Watch(watched)}>
            <head>
            <meta charset="utf-8">
            <meta http-equiv="Content-Security-Policy" content="{policy}">
            <meta name="viewport" content="width=device-width, initial-scale=1">
            <meta name="color-scheme" content="light dark">
            <meta name="generator" content="ScoreLens">
            <title>{title}</title>
            <style>{new Markup(style)}</style>
            </head>
            <body>
            {body}
            {Footer(engraver is not null, assets)}
            {Block("data", "application/json", data is null ? null : JsonSerializer.Serialize(data, PageJson.Default.PageData))}
            {Block("score-source", "text/plain", source)}

            """);
        string[] engraving = engraver is null ? [] : ["<script id=\"engraver\" type=\"text/plain\">", engraver, "</script>"];
        return string.Concat([before.Html, .. engraving, $"""

            <script>{assets.Script}</script>
            </body>
            </html>

            """]);
    }

    private static Markup Watch(WatchedPage? watched) => watched is null ? Markup.Empty
        : Markup.Of($" data-watch=\"{watched.File}\" data-stamp=\"{watched.Stamp}\"");

    private static Markup Block(string id, string type, string? safe) =>
        Markup.When(safe is not null, $"<script id=\"{id}\" type=\"{type}\">{new Markup(safe ?? "")}</script>");

    private static Markup Footer(bool engraved, PageAssets assets) => Markup.Of($"""
        <footer>
        <p>Made by ScoreLens from the score alone. A reading is a musician's judgement made by a program: where it is unsure, it says so.</p>
        {Markup.When(engraved, $"<details><summary>Licences of the engraving library in this page</summary><pre tabindex=\"0\">{assets.Notices}</pre></details>")}
        </footer>
        """);

    /// <summary>The palette as custom properties, for light and dark.</summary>
    private static string DeviceColours()
    {
        var light = new StringBuilder();
        var dark = new StringBuilder();
        var classes = new StringBuilder();
        foreach (var device in DeviceNames.All)
        {
            var look = DevicePalette.Of(device);
            light.Append("--").Append(device.Name()).Append(':').Append(look.Dark).Append(';');
            dark.Append("--").Append(device.Name()).Append(':').Append(look.Light).Append(';');
            classes.Append('.').Append(device.Name()).Append("{--device:var(--").Append(device.Name()).Append(")}\n");
        }

        return $":root{{{light}}}\n@media screen and (prefers-color-scheme:dark){{:root{{{dark}}}}}\n{classes}";
    }
}
