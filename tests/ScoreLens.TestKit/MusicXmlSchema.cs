using System.Xml;
using System.Xml.Schema;

namespace ScoreLens.TestKit;

/// <summary>The W3C's schema of MusicXML 4.0 (tests/external), its imports taken from the same folder, never the network.</summary>
public static class MusicXmlSchema
{
    private static readonly Lazy<XmlSchemaSet> Compiled = new(Compile);

    /// <summary>What the schema finds wrong; empty for a valid document.</summary>
    public static IReadOnlyList<string> Faults(byte[] xml)
    {
        var faults = new List<string>();
        var settings = new XmlReaderSettings
        {
            ValidationType = ValidationType.Schema,
            Schemas = Compiled.Value,
            DtdProcessing = DtdProcessing.Ignore,
            XmlResolver = null,
        };
        settings.ValidationEventHandler += (_, e) => faults.Add($"line {e.Exception.LineNumber}: {e.Message}");
        using var reader = XmlReader.Create(new MemoryStream(xml), settings);
        while (reader.Read())
        {
        }

        return faults;
    }

    private static XmlSchemaSet Compile()
    {
        var file = Places.External("musicxml-4.0", "musicxml.xsd");
        var schemas = new XmlSchemaSet { XmlResolver = new SameFolder(Path.GetDirectoryName(file)!) };
        schemas.Add(null, file);
        schemas.Compile();
        return schemas;
    }

    private sealed class SameFolder(string folder) : XmlResolver
    {
        public override object GetEntity(Uri absoluteUri, string? role, Type? ofObjectToReturn) =>
            File.OpenRead(Path.Combine(folder, Path.GetFileName(absoluteUri.LocalPath)));
    }
}
