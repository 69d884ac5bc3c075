using System.Globalization;
using System.Xml.Linq;
using ScoreLens.Notation.MusicXml;
using ScoreLens.Theory;

namespace ScoreLens.Output.Annotation;

/// <summary>
/// The MusicXML elements of labels, in the order that the schema asks for. Each carries the editorial element <c>level</c>
/// with our name and layer: by it <see cref="OwnLabels"/> finds labels again.
/// </summary>
/// <param name="layer">The layer that is written.</param>
/// <param name="version">The MusicXML version of the document.</param>
internal sealed class LabelMarkup(string layer, Version version)
{
    /// <summary>The name of our lyric lines.</summary>
    public const string LineName = "analysis";

    // Explicit, since a label without a size of its own takes the file's lyric font, which may be three times as high as its words. A list,
    // as the standard has it: the first font that a machine has.
    private const string FontFamily = "FreeSerif, Times New Roman, serif", FontSize = "12";

    private static readonly Version Numerals = new(4, 0), Colours = new(2, 0);

    /// <summary>Text under a note.</summary>
    public XElement Lyric(LyricLabel label, int number) => new(
        "lyric",
        new XAttribute("number", number),
        new XAttribute("name", LineName),
        new XAttribute("placement", "below"),
        // Programs look for the colour here or at the text; few look at both.
        Colour(label),
        new XElement("syllabic", "single"),
        new XElement("text", Font(), Colour(label), label.Text),
        Level());

    /// <summary>
    /// Words at a time, one after the other; <paramref name="offset"/> in divisions, zero for none; <paramref name="staff"/> null
    /// where the part has one.
    /// </summary>
    public XElement Words(IEnumerable<(ScoreLabel Label, string Text)> texts, bool isAbove, Fraction offset, int? staff) => new(
        "direction",
        new XAttribute("placement", isAbove ? "above" : "below"),
        new XElement("direction-type", texts.Select((t, i) =>
            new XElement("words", Font(), Colour(t.Label), i == 0 ? t.Text : " " + t.Text))),
        Offset(offset),
        Level(),
        Staff(staff));

    /// <summary>A chord symbol, already in the pitch that the part is written in.</summary>
    public XElement Symbol(ChordSymbolLabel label, ChordName written, Fraction offset, int? staff)
    {
        var (kind, degrees) = HarmonyKinds.Of(written.Quality, written.Extension);
        var root = written.Root.ToDisplayString();
        var bass = written.Bass is { } b ? "/" + b.ToDisplayString() : "";
        var suffix = written.ToDisplayString(label.Spelling)[root.Length..^bass.Length];
        return new XElement(
            "harmony",
            new XAttribute("placement", "above"),
            Font(),
            Colour(label),
            Tone("root", written.Root),
            new XElement("kind", new XAttribute("text", suffix), kind),
            written.Bass is { } tone ? Tone("bass", tone) : null,
            degrees.Select(Degree),
            Offset(offset),
            Level(),
            Staff(staff));
    }

    /// <summary>
    /// A Roman numeral as harmony: <c>numeral</c> from MusicXML 4.0 on, with the key in written pitch; before it the
    /// <c>function</c> element with the whole numeral as text.
    /// </summary>
    public XElement Numeral(NumeralLabel label, Key written, Fraction offset, int? staff) => new(
        "harmony",
        new XAttribute("placement", "below"),
        version >= Numerals && label.Numeral.Target is not null ? new XAttribute("arrangement", "horizontal") : null,
        Font(),
        Colour(label),
        version >= Numerals ? NumeralChords(label, written) : FunctionChord(label.Numeral),
        Offset(offset),
        Level(),
        Staff(staff));

    /// <summary>Moves where the document stands, back or on, by a positive number of divisions.</summary>
    public XElement Move(bool back, Fraction divisions) => new(back ? "backup" : "forward", new XElement("duration", Text(divisions)),
        Level());

    /// <summary>A number of divisions as the schema's decimal; what no decimal holds is given to a millionth.</summary>
    public static string Text(Fraction value) => value.Denominator == 1
        ? value.Numerator.ToString(CultureInfo.InvariantCulture)
        : value.ToDouble().ToString("0.######", CultureInfo.InvariantCulture);

    private static IEnumerable<XElement> FunctionChord(Numeral numeral)
    {
        yield return new XElement("function", numeral.ToDisplayString());
        yield return new XElement("kind", new XAttribute("text", ""), HarmonyKinds.Of(numeral.Quality, numeral.Extension).Kind);
        if (numeral.Inversion > 0) yield return new XElement("inversion", numeral.Inversion);
    }

    private static IEnumerable<XElement> NumeralChords(NumeralLabel label, Key written)
    {
        var numeral = label.Numeral;
        var key = NumeralKey(written, label.ShowsKey);
        var context = numeral.Target?.In(written) ?? written;
        var roman = NumeralText.Roman(numeral.Degree, numeral.Quality.HasMajorThird());
        var untargeted = numeral.Target is null ? numeral.ToDisplayString()
            : numeral.ToDisplayString()[..^(numeral.Target.ToString().Length + 1)];
        // Cad, N, Ger and their like stand for the numeral as a whole; what follows the name are the figures.
        var at = numeral.Kind == NumeralKind.Plain ? untargeted.IndexOf(roman, StringComparison.Ordinal) : -1;
        var name = at >= 0 ? roman : string.Concat(untargeted.TakeWhile(char.IsAsciiLetter));
        var rest = at >= 0 ? untargeted[(at + roman.Length)..] : untargeted[name.Length..];
        var degree = numeral.Kind == NumeralKind.AugmentedSixth ? 6 : numeral.Degree;
        var root = numeral.Kind == NumeralKind.AugmentedSixth ? numeral.Tones(written)[0] : numeral.Root(written);
        yield return NumeralElement(degree, name, root - context.Degree(degree), at >= 0 ? numeral.Alteration : 0, numeral.Target is null
            ? key : null);
        yield return new XElement("kind", new XAttribute("text", rest), HarmonyKinds.Functional(numeral));
        if (numeral.Inversion > 0) yield return new XElement("inversion", new XAttribute("text", ""), numeral.Inversion);
        for (var target = numeral.Target; target is not null; target = target.Of)
        {
            var outer = target.Of?.In(written) ?? written;
            var tonic = target.In(written).Tonic;
            var text = NumeralText.Roman(target.Degree, target.Mode == Mode.Major);
            yield return NumeralElement(target.Degree, text, tonic - outer.Degree(target.Degree), target.Alteration, target.Of is null
                ? key : null);
            yield return new XElement("kind", new XAttribute("text", ""), target.Mode == Mode.Major ? "major" : "minor");
        }
    }

    // The alteration is reckoned from the natural scale, as MusicXML does in minor; what the numeral does not print is hidden.
    private static XElement NumeralElement(int degree, string text, int fifthsFromScale, int printed, XElement? key)
    {
        var alter = fifthsFromScale / 7;
        return new XElement(
            "numeral",
            new XElement("numeral-root", new XAttribute("text", text), degree),
            alter == 0 ? null : new XElement("numeral-alter", printed == alter ? null : new XAttribute("print-object", "no"), alter),
            key);
    }

    private static XElement NumeralKey(Key key, bool isPrinted) => new(
        "numeral-key",
        isPrinted ? null : new XAttribute("print-object", "no"),
        new XElement("numeral-fifths", key.Signature),
        new XElement("numeral-mode", key.IsMinor ? "minor" : "major"));

    private static XElement Tone(string name, Tone tone) => new(
        name,
        new XElement(name + "-step", tone.Letter),
        tone.Alteration == 0 ? null : new XElement(name + "-alter", tone.Alteration));

    private static XElement Degree((int Value, int Alter, string Type) degree) => new(
        "degree",
        new XAttribute("print-object", "no"),
        new XElement("degree-value", degree.Value),
        new XElement("degree-alter", degree.Alter),
        new XElement("degree-type", degree.Type));

    private static XElement? Offset(Fraction divisions) => divisions.Sign == 0 ? null : new XElement("offset", Text(divisions));

    private static XElement? Staff(int? staff) => staff is { } number ? new XElement("staff", number) : null;

    private static XAttribute[] Font() => [new("font-family", FontFamily), new("font-size", FontSize)];

    private XElement Level() => new("level", $"{OwnLabels.Owner} {layer}");

    private XAttribute? Colour(ScoreLabel label) =>
        label.Colour is { } colour && version >= Colours ? new XAttribute("color", colour) : null;
}
