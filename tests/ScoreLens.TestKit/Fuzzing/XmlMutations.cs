using System.Text;
using System.Xml;
using System.Xml.Linq;

namespace ScoreLens.TestKit.Fuzzing;

/// <summary>
/// Changes a MusicXML file as an XML tree: elements are dropped, doubled, moved, swapped, renamed; numbers and texts are changed.
/// </summary>
internal static class XmlMutations
{
    private const int MostChanges = 5;

    public static byte[] Apply(byte[] source, Random random)
    {
        // One in twelve is broken as bytes, below the level of the tree.
        if (random.Next(12) == 0) return ByteMutations.Apply(source, random);
        XDocument document;
        var settings = new XmlReaderSettings { DtdProcessing = DtdProcessing.Ignore, XmlResolver = null };
        using (var reader = XmlReader.Create(new MemoryStream(source), settings))
            document = XDocument.Load(reader);
        var changes = random.Next(1, MostChanges + 1);
        for (var i = 0; i < changes; i++) Change(document, random);
        return Encoding.UTF8.GetBytes(document.ToString(SaveOptions.DisableFormatting));
    }

    private static void Change(XDocument document, Random random)
    {
        var all = document.Descendants().ToList();
        var element = all[random.Next(all.Count)];
        var other = all[random.Next(all.Count)];
        switch (random.Next(9))
        {
            case 0 when element.Parent is not null:
                element.Remove();
                break;
            case 1 when element.Parent is not null:
                element.AddAfterSelf(new XElement(element));
                break;
            case 2 when element.Parent is not null && !element.DescendantsAndSelf().Contains(other):
                element.Remove();
                other.Add(element);
                break;
            case 3 when element.Parent is not null && element.NextNode is XElement next:
                next.Remove();
                element.AddBeforeSelf(next);
                break;
            case 4:
                element.Name = other.Name;
                break;
            case 5 when !element.HasElements:
                element.Value = random.Next(2) == 0 ? Nonsense.Near(element.Value, random) : Xml(Nonsense.Value(random));
                break;
            case 6 when !element.HasElements && !other.HasElements:
                element.Value = other.Value;
                break;
            case 7 when element.HasAttributes:
                var attributes = element.Attributes().Where(a => !a.IsNamespaceDeclaration).ToArray();
                if (attributes.Length == 0) break;
                var attribute = attributes[random.Next(attributes.Length)];
                if (random.Next(3) == 0) attribute.Remove();
                else attribute.Value = random.Next(2) == 0 ? Nonsense.Near(attribute.Value, random) : Xml(Nonsense.Value(random));
                break;
            default:
                element.AddFirst(new XElement(other));
                break;
        }
    }

    // What may stand in XML at all.
    private static string Xml(string text) => new([.. text.Where(XmlConvert.IsXmlChar)]);
}
