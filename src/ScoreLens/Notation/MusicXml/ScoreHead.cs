using System.Xml.Linq;
using static ScoreLens.Notation.MusicXml.MusicXmlNumbers;

namespace ScoreLens.Notation.MusicXml;

/// <summary>What stands before the music: title, names of the parts, whether the score is written at concert pitch.</summary>
internal sealed class ScoreHead
{
    private readonly Dictionary<string, string> _names = [];
    private readonly HashSet<(string Part, string Instrument)> _unpitched = [];

    private ScoreHead(string title, bool isConcertScore) => (Title, IsConcertScore) = (title, isConcertScore);

    public string Title { get; }

    public bool IsConcertScore { get; }

    public string NameOf(string part) => _names.GetValueOrDefault(part, "");

    /// <summary>Whether an instrument of a part plays one key of a drum kit: a note on it has no pitch, whatever the file writes.</summary>
    public bool IsUnpitched(string part, string instrument) => _unpitched.Contains((part, instrument));

    public static ScoreHead Of(XElement root)
    {
        var isConcert = Child(root, "defaults") is { } defaults && Child(defaults, "concert-score") is not null;
        var head = new ScoreHead(TitleOf(root), isConcert);
        if (Child(root, "part-list") is not { } list) return head;
        foreach (var part in list.Elements().Where(e => e.Name.LocalName == "score-part"))
        {
            var id = part.Attribute("id")?.Value ?? "";
            var display = Child(part, "part-name-display") is { } d
                ? string.Concat(d.Elements().Where(e => e.Name.LocalName == "display-text").Select(e => e.Value))
                : null;
            head._names.TryAdd(id, OneLine(Text(part, "part-name") ?? display ?? ""));
            foreach (var instrument in part.Elements().Where(e => e.Name.LocalName == "midi-instrument"
                && Child(e, "midi-unpitched") is not null))
                head._unpitched.Add((id, instrument.Attribute("id")?.Value ?? ""));
        }

        return head;
    }

    /// <summary>Text with every run of blanks and line ends as one blank.</summary>
    public static string OneLine(string text) => string.Join(' ', text.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));

    private static string TitleOf(XElement root)
    {
        var title = Text(root, "movement-title") ?? (Child(root, "work") is { } work ? Text(work, "work-title") : null);
        if (title is not null) return OneLine(title);
        var credit = root.Elements().FirstOrDefault(e => e.Name.LocalName == "credit" && Text(e, "credit-type") == "title");
        return credit is null ? "" : OneLine(string.Join(' ', credit.Elements().Where(e => e.Name.LocalName == "credit-words")
            .Select(e => e.Value)));
    }
}
