using System.Text;
using System.Xml.Linq;
using ScoreLens.Notation.MusicXml;

namespace ScoreLens.TestKit;

/// <summary>Our invented cues for four parts, one after the other in one file: a file of three movements.</summary>
public static class InventedSuite
{
    /// <summary>The cues in their order; all have the same parts.</summary>
    public static IReadOnlyList<string> Cues { get; } =
        [.. new[] { "1m2-the-workshop", "2m1-the-storm-stair", "2m2-ansas-memory" }
            .Select(n => Path.Combine(Places.TestData, "cues", n + ".musicxml"))];

    /// <summary>The file. Every movement's measures are numbered from 1 again.</summary>
    public static byte[] MusicXml()
    {
        var suite = MusicXmlDocument.Load(Cues[0]).Xml;
        var parts = suite.Root!.Elements("part").ToArray();
        foreach (var cue in Cues.Skip(1))
        {
            var more = MusicXmlDocument.Load(cue).Xml.Root!.Elements("part").ToArray();
            for (var i = 0; i < parts.Length; i++) parts[i].Add(more[i].Elements("measure"));
        }

        return Encoding.UTF8.GetBytes(suite.ToString(SaveOptions.DisableFormatting));
    }
}
