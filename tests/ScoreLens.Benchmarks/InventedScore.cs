using System.Globalization;
using System.Text;
using ScoreLens.Theory;

namespace ScoreLens.Benchmarks;

/// <summary>
/// A score of any length for measuring speed: four voices on two staves that go through the same eight measures in one key
/// after another, with running notes in the top voice, so that chords, keys and devices keep changing.
/// </summary>
internal static class InventedScore
{
    // Two chords a measure; the keys go round by fifths so that every eight measures modulate.
    private static readonly string[] Progression =
        ["I", "vi", "ii6", "V65/V", "V", "V42", "I6", "V7/IV", "IV", "iv6", "Cad64", "V7", "bVI", "N6", "V7", "I"];

    /// <summary>The score as partwise MusicXML 4.0, in UTF-8.</summary>
    /// <param name="measures">Number of measures of four quarter notes.</param>
    public static byte[] Write(int measures)
    {
        var xml = new StringBuilder("""
            <?xml version="1.0" encoding="UTF-8"?>
            <score-partwise version="4.0"><work><work-title>Measuring rod</work-title></work>
            <part-list><score-part id="P1"><part-name>Keys</part-name></score-part></part-list><part id="P1">

            """);
        for (var measure = 0; measure < measures; measure++)
        {
            var key = new Key(new Tone(((measure / 8) % 7) - 3), Mode.Major);
            xml.Append(CultureInfo.InvariantCulture, $"<measure number=\"{measure + 1}\">");
            if (measure % 8 == 0) Attributes(xml, key, measure == 0);
            for (var voice = 0; voice < 4; voice++)
            {
                if (voice > 0) xml.Append("<backup><duration>16</duration></backup>");
                for (var half = 0; half < 2; half++)
                    Voice(xml, Numeral.Parse(Progression[((measure % 8) * 2) + half]), key, voice);
            }

            xml.AppendLine("</measure>");
        }

        return Encoding.UTF8.GetBytes(xml.Append("</part></score-partwise>").ToString());
    }

    private static void Attributes(StringBuilder xml, Key key, bool isFirst)
    {
        xml.Append("<attributes>");
        if (isFirst) xml.Append("<divisions>4</divisions>");
        xml.Append(CultureInfo.InvariantCulture, $"<key><fifths>{key.Signature}</fifths></key>");
        if (isFirst) xml.Append("<time><beats>4</beats><beat-type>4</beat-type></time><staves>2</staves>");
        xml.Append("</attributes>");
    }

    private static void Voice(StringBuilder xml, Numeral numeral, Key key, int voice)
    {
        var tones = numeral.Tones(key);
        switch (voice)
        {
            case 0:
                // Eighths through the chord with a neighbour between.
                Note(xml, tones[^1], 5, 2, voice);
                Note(xml, tones[^1] + 2, 5, 2, voice);
                Note(xml, tones[0], 5, 2, voice);
                Note(xml, tones[^1], 5, 2, voice);
                break;
            case 3: Note(xml, numeral.Bass(key), 3, 8, voice); break;
            default: Note(xml, tones[voice - 1], 4, 8, voice); break;
        }
    }

    private static void Note(StringBuilder xml, Tone tone, int octave, int duration, int voice)
    {
        xml.Append(CultureInfo.InvariantCulture,
            $"<note><pitch><step>{tone.Letter}</step><alter>{tone.Alteration}</alter><octave>{octave}</octave></pitch>");
        xml.Append(CultureInfo.InvariantCulture,
            $"<duration>{duration}</duration><voice>{voice + 1}</voice><type>{(duration == 2 ? "eighth" : "half")}</type>");
        xml.Append(CultureInfo.InvariantCulture, $"<staff>{(voice < 2 ? 1 : 2)}</staff></note>");
    }
}
