using System.Xml;

namespace ScoreLens.Notation.MusicXml;

/// <summary>An XML reader that refuses elements nested deeper than a score's can be, and that can be cancelled.</summary>
internal sealed class BoundedXmlReader(XmlReader inner, int maxDepth, CancellationToken cancellationToken) : XmlReader, IXmlLineInfo
{
    public override int AttributeCount => inner.AttributeCount;

    public override string BaseURI => inner.BaseURI;

    public override int Depth => inner.Depth;

    public override bool EOF => inner.EOF;

    public override bool IsEmptyElement => inner.IsEmptyElement;

    public override string LocalName => inner.LocalName;

    public override string NamespaceURI => inner.NamespaceURI;

    public override XmlNameTable NameTable => inner.NameTable;

    public override XmlNodeType NodeType => inner.NodeType;

    public override string Prefix => inner.Prefix;

    public override ReadState ReadState => inner.ReadState;

    public override string Value => inner.Value;

    public int LineNumber => (inner as IXmlLineInfo)?.LineNumber ?? 0;

    public int LinePosition => (inner as IXmlLineInfo)?.LinePosition ?? 0;

    public bool HasLineInfo() => (inner as IXmlLineInfo)?.HasLineInfo() == true;

    public override bool Read()
    {
        cancellationToken.ThrowIfCancellationRequested();
        if (!inner.Read()) return false;
        if (inner.Depth > maxDepth)
            throw new ScoreFormatException(
                $"Its elements stand more than {maxDepth} deep inside each other, deeper than a score's can; it is not read.",
                    $"line {LineNumber}");
        return true;
    }

    public override string GetAttribute(int i) => inner.GetAttribute(i);

    public override string? GetAttribute(string name) => inner.GetAttribute(name);

    public override string? GetAttribute(string name, string? namespaceURI) => inner.GetAttribute(name, namespaceURI);

    public override string? LookupNamespace(string prefix) => inner.LookupNamespace(prefix);

    public override bool MoveToAttribute(string name) => inner.MoveToAttribute(name);

    public override bool MoveToAttribute(string name, string? ns) => inner.MoveToAttribute(name, ns);

    public override bool MoveToElement() => inner.MoveToElement();

    public override bool MoveToFirstAttribute() => inner.MoveToFirstAttribute();

    public override bool MoveToNextAttribute() => inner.MoveToNextAttribute();

    public override bool ReadAttributeValue() => inner.ReadAttributeValue();

    public override void ResolveEntity() => inner.ResolveEntity();

    protected override void Dispose(bool disposing)
    {
        if (disposing) inner.Dispose();
        base.Dispose(disposing);
    }
}
