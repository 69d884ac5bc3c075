using System.Globalization;
using System.Text;
using ScoreLens.Theory;

namespace ScoreLens.TestKit;

/// <summary>
/// A full score of any number of parts and measures: one progression with its keys, spread over an orchestra in which some instruments
/// transpose, some rest for long and some move. It has rehearsal marks, a tempo, a repeat, and a lyric font of 30 points, as exports of
/// full scores often have.
/// </summary>
public static class InventedOrchestra
{
    private static readonly (string Name, int Fifths, int Low, bool IsBass)[] Families =
    [
        ("Flute", 0, 72, false), ("Clarinet in Bb", -2, 60, false), ("Horn in F", -1, 55, false), ("Violin", 0, 67, false),
        ("Viola", 0, 55, false), ("Trumpet in Bb", -2, 60, false), ("Oboe", 0, 65, false), ("Bassoon", 0, 43, true), ("Cello", 0, 43, true),
        ("Bass", 0, 36, true),
    ];

    private static readonly string[] Progression =
        ["I", "vi", "ii6", "V65/V", "V", "V42", "I6", "V7/IV", "IV", "iv6", "Cad64", "V7", "bVI", "N6", "V7", "I"];

    /// <summary>The score as partwise MusicXML 4.0, in UTF-8.</summary>
    /// <param name="parts">Number of parts, from 1. The last one is a bass.</param>
    /// <param name="measures">Number of measures of four quarter notes.</param>
    public static byte[] MusicXml(int parts, int measures)
    {
        var xml = new StringBuilder("""
            <?xml version="1.0" encoding="UTF-8"?>
            <score-partwise version="4.0">
              <work><work-title>Harbour Lights</work-title></work>

            """);
        xml.AppendLine($"  <defaults>{Page(parts)}<word-font font-size=\"10\"/><lyric-font font-size=\"30\"/></defaults>");
        xml.AppendLine("  <part-list>");
        for (var i = 0; i < parts; i++)
            xml.AppendLine(CultureInfo.InvariantCulture, $"    <score-part id=\"P{i + 1}\"><part-name>{Name(i, parts)}</part-name></score-part>");
        xml.AppendLine("  </part-list>");
        for (var i = 0; i < parts; i++)
        {
            xml.AppendLine(CultureInfo.InvariantCulture, $"  <part id=\"P{i + 1}\">");
            for (var m = 0; m < measures; m++) Measure(xml, i, parts, m);
            xml.AppendLine("  </part>");
        }

        return Encoding.UTF8.GetBytes(xml.Append("</score-partwise>\n").ToString());
    }

    // A page as conductors have it: A4 up to twelve parts, A3 for more, with staves as large as leave room for all of them, for the title
    // and
    // for two more. A tenth is a tenth of the distance of two staff lines; a staff takes nine such distances with what lies between.
    private static string Page(int parts)
    {
        var (width, height) = parts <= 12 ? (210.0, 297.0) : (297.0, 420.0);
        var staff = Math.Min(6, (height - 70) / ((parts + 3) * 9 / 4.0));
        string Tenths(double millimetres) => (millimetres * 40 / staff).ToString("0.##", CultureInfo.InvariantCulture);
        var margins = string.Concat(((string[])["left", "right", "top", "bottom"]).Select(m => $"<{m}-margin>{Tenths(12)}</{m}-margin>"));
        return string.Create(CultureInfo.InvariantCulture,
            $"<scaling><millimeters>{staff:0.###}</millimeters><tenths>40</tenths></scaling>")
            + $"<page-layout><page-height>{Tenths(height)}</page-height><page-width>{Tenths(width)}</page-width>"
            + $"<page-margins type=\"both\">{margins}</page-margins></page-layout>";
    }

    private static (string Name, int Fifths, int Low, bool IsBass) Family(int part, int parts) =>
        part == parts - 1 ? Families[^1] : Families[part % (Families.Length - 1)];

    private static string Name(int part, int parts)
    {
        var number = (part / (Families.Length - 1)) + 1;
        return Family(part, parts).Name + (number > 1 && part < parts - 1 ? $" {number}" : "");
    }

    private static void Measure(StringBuilder xml, int part, int parts, int measure)
    {
        var family = Family(part, parts);
        var key = new Key(new Tone(((measure / 8) % 7) - 3), Mode.Major);
        xml.Append(CultureInfo.InvariantCulture, $"    <measure number=\"{measure + 1}\">\n");
        if (measure % 8 == 0)
        {
            if (measure == 8) xml.Append("      <barline location=\"left\"><bar-style>heavy-light</bar-style><repeat "
                + "direction=\"forward\"/></barline>\n");
            xml.Append("      <attributes>");
            if (measure == 0) xml.Append("<divisions>2</divisions>");
            xml.Append(CultureInfo.InvariantCulture, $"<key><fifths>{key.Signature - family.Fifths}</fifths></key>");
            if (measure == 0)
            {
                xml.Append("<time><beats>4</beats><beat-type>4</beat-type></time>");
                xml.Append(family.IsBass ? "<clef><sign>F</sign><line>4</line></clef>" : "<clef><sign>G</sign><line>2</line></clef>");
                if (family.Fifths == -2) xml.Append("<transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></transpose>");
                if (family.Fifths == -1) xml.Append("<transpose><diatonic>-4</diatonic><chromatic>-7</chromatic></transpose>");
            }

            xml.Append("</attributes>\n");
            if (part == 0) Directions(xml, measure);
        }

        var rests = part > 0 && part < parts - 1 && ((measure / 4) + part) % 5 == 0;
        if (rests) xml.Append("      <note><rest measure=\"yes\"/><duration>8</duration></note>\n");
        else for (var half = 0; half < 2; half++) Half(xml, part, parts, key, Numeral.Parse(Progression[((measure % 8) * 2) + half]), half);
        if (measure == 15) xml.Append("      <barline location=\"right\"><bar-style>light-heavy</bar-style><repeat "
            + "direction=\"backward\"/></barline>\n");
        xml.Append("    </measure>\n");
    }

    private static void Directions(StringBuilder xml, int measure)
    {
        xml.Append(CultureInfo.InvariantCulture, $"      <direction placement=\"above\"><direction-type><rehearsal>{Letter(measure / 8)}</rehearsal></direction-type></direction>\n");
        if (measure > 0) return;
        xml.Append("      <direction placement=\"above\"><direction-type><metronome><beat-unit>quarter</beat-unit><per-minute>96</per-minute></metronome></direction-type><sound tempo=\"96\"/></direction>\n");
    }

    private static string Letter(int mark) =>
        ((char)('A' + (mark % 26))).ToString() + (mark < 26 ? "" : (mark / 26).ToString(CultureInfo.InvariantCulture));

    // A part holds a tone of the chord, or moves through it in quarters.
    private static void Half(StringBuilder xml, int part, int parts, Key key, Numeral numeral, int half)
    {
        var family = Family(part, parts);
        var tones = numeral.Tones(key);
        if (part == parts - 1)
        {
            Note(xml, numeral.Bass(key), family.Low, family.Fifths, 4, "half");
            return;
        }

        var tone = tones[(part + 1) % tones.Count];
        if (part % 3 == 0)
        {
            Note(xml, tone, family.Low, family.Fifths, 2, "quarter");
            Note(xml, tones[(part + 2 + half) % tones.Count], family.Low, family.Fifths, 2, "quarter");
        }
        else
        {
            Note(xml, tone, family.Low, family.Fifths, 4, "half");
        }
    }

    private static void Note(StringBuilder xml, Tone tone, int low, int fifths, int duration, string type)
    {
        var sounding = Pitch.Between(tone, low, low + 11).First();
        var written = fifths == 0 ? sounding : Written(sounding, fifths);
        var alter = written.Tone.Alteration == 0 ? "" : $"<alter>{written.Tone.Alteration}</alter>";
        xml.Append(CultureInfo.InvariantCulture, $"      <note><pitch><step>{written.Tone.Letter}</step>{alter}<octave>{written.Octave}</octave></pitch><duration>{duration}</duration><voice>1</voice><type>{type}</type></note>\n");
    }

    private static Pitch Written(Pitch sounding, int fifths)
    {
        var up = fifths == -2 ? 2 : 7;
        return Pitch.Between(sounding.Tone + -fifths, sounding.Midi + up, sounding.Midi + up).First();
    }
}
