using ScoreLens.Devices;
using ScoreLens.Notation.MusicXml;
using ScoreLens.Reading;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Tests.Annotation;

/// <summary>Analyses made by hand, so that what is written does not depend on what is read.</summary>
internal static class Readings
{
    /// <summary>An analysis of given chords, each up to the next.</summary>
    public static CueAnalysis Of(MusicXmlDocument document, params (Fraction Onset, string Key, string Numeral, Device? Device)[] chords)
    {
        var score = MusicXmlReader.Read(document);
        var readings = chords.Select((c, i) => new ChordReading(
            c.Onset, (i + 1 < chords.Length ? chords[i + 1].Onset : score.End) - c.Onset, Key.Parse(c.Key), Numeral.Parse(c.Numeral), 1,
                [])).ToArray();
        var tagged = readings.Select((r, i) => new TaggedChord(r, HarmonicFunction.None, chords[i].Device, [], null, Resolution.None,
            false, null)).ToArray();
        return new CueAnalysis(score, SonorityFinder.Find(score), new HarmonicReading(readings[0].Key, readings), tagged, []);
    }

    /// <summary>The invented tune for clarinet and bassoon: its fourth chord comes while the bassoon holds its note.</summary>
    public static CueAnalysis OfReedTune(MusicXmlDocument document) => Of(
        document,
        (0, "F major", "IV6", null),
        (1, "F major", "I", null),
        (2, "F major", "V", null),
        (3, "F major", "viio7/V", Device.SecondaryLeadingTone),
        (4, "D minor", "III6", null));
}
