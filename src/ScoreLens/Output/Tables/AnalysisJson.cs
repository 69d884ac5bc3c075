using System.Text.Json;
using ScoreLens.Density;
using ScoreLens.Devices;
using ScoreLens.Keys;
using ScoreLens.Notation;
using ScoreLens.Phrases;
using ScoreLens.Theory;
using ScoreLens.Wording;

using static ScoreLens.Output.Tables.JsonText;

namespace ScoreLens.Output.Tables;

/// <summary>Both tables of an analysis as one JSON document, with the same names as the columns.</summary>
public static class AnalysisJson
{
    /// <summary>
    /// The document as UTF-8. Times are numbers of quarter notes; one that has no exact decimal is a string <c>a/b</c>, as in the
    /// tables. What is empty in a table is null here.
    /// </summary>
    /// <param name="analysis">The analysis.</param>
    /// <param name="density">Its balance.</param>
    /// <param name="clock">How times on the clock are reckoned; null for the usual way.</param>
    public static byte[] Write(CueAnalysis analysis, CueDensity density, ClockOptions? clock = null)
    {
        ArgumentNullException.ThrowIfNull(analysis);
        ArgumentNullException.ThrowIfNull(density);
        return Document(json =>
        {
            json.WriteStartObject();
            Text(json, "title", analysis.Score.Title);
            json.WriteString("home_key", analysis.Reading.HomeKey.ToString());
            json.WriteString("band", density.Band.ToString());
            json.WriteString("keys", analysis.Keys.Name());
            Shares(json, density.Whole);
            json.WriteString("verdict", density.Verdict.Name());
            json.WriteStartArray("movements");
            foreach (var movement in analysis.Movements) Movement(json, movement, density.Band);
            json.WriteEndArray();
            json.WriteStartArray("chords");
            foreach (var row in ChordRow.Of(analysis, clock)) Chord(json, row);
            json.WriteEndArray();
            json.WriteStartArray("phrases");
            foreach (var row in PhraseRow.Of(analysis, density, clock)) Phrase(json, row);
            json.WriteEndArray();
            json.WriteEndObject();
        });
    }

    private static void Movement(Utf8JsonWriter json, CueAnalysis movement, Band band)
    {
        var density = CueDensity.Of(movement, band);
        json.WriteStartObject();
        json.WriteNumber("movement", movement.Movement);
        json.WriteString("home_key", movement.Reading.HomeKey.ToString());
        Shares(json, density.Whole);
        json.WriteString("verdict", density.Verdict.Name());
        json.WriteEndObject();
    }

    private static void Chord(Utf8JsonWriter json, ChordRow row)
    {
        var (chord, reading) = (row.Chord, row.Chord.Reading);
        json.WriteStartObject();
        Time(json, "onset", reading.Onset);
        Time(json, "duration", reading.Duration);
        Text(json, "measure", row.Measure);
        Time(json, "beat", row.Beat);
        json.WriteString("key", reading.Key.ToString());
        Text(json, "numeral", row.Numeral);
        Text(json, "symbol", row.Symbol);
        Text(json, "function", chord.Function.Name());
        Text(json, "device", chord.Device?.Name());
        json.WriteStartArray("also");
        foreach (var device in chord.Also) json.WriteStringValue(device.Name());
        json.WriteEndArray();
        Text(json, "target", chord.Target);
        Text(json, "resolution", chord.Resolution.Name());
        json.WriteBoolean("outside_home", chord.OutsideHome);
        json.WriteNumber("phrase", row.Phrase);
        json.WriteNumber("confidence", Math.Round(reading.Confidence, 6));
        json.WriteStartArray("runners_up");
        foreach (var next in reading.RunnersUp)
        {
            json.WriteStartObject();
            json.WriteString("key", next.Key.ToString());
            json.WriteString("numeral", next.Numeral.ToString());
            json.WriteNumber("probability", Math.Round(next.Probability, 6));
            json.WriteEndObject();
        }

        json.WriteEndArray();
        Text(json, "reason", ReasonText.Of(row));
        json.WriteNumber("movement", row.Movement);
        Text(json, "rehearsal", row.Rehearsal);
        Text(json, "time", row.Time);
        json.WriteStartArray("colour");
        foreach (var tone in row.Colour)
        {
            json.WriteStartObject();
            json.WriteString("tone", tone.Tone.ToString());
            json.WriteStartArray("parts");
            foreach (var part in tone.Parts) json.WriteStringValue(part);
            json.WriteEndArray();
            json.WriteEndObject();
        }

        json.WriteEndArray();
        Text(json, "disagrees", row.Disagrees);
        Text(json, "pedal", row.Pedal);
        json.WriteEndObject();
    }

    private static void Phrase(Utf8JsonWriter json, PhraseRow row)
    {
        json.WriteStartObject();
        json.WriteNumber("phrase", row.Phrase.Number);
        Time(json, "start", row.Phrase.Start);
        Time(json, "end", row.Phrase.End);
        Text(json, "first_measure", row.FirstMeasure);
        Text(json, "last_measure", row.LastMeasure);
        json.WriteString("key", row.Phrase.Key.ToString());
        Text(json, "cadence", row.Phrase.Cadence.Name());
        Shares(json, row.Balance.Shares);
        json.WriteString("verdict", row.Balance.Verdict.Name());
        json.WriteNumber("movement", row.Movement);
        Text(json, "rehearsal", row.Rehearsal);
        Text(json, "time", row.Time);
        json.WriteEndObject();
    }

    private static void Shares(Utf8JsonWriter json, Shares shares)
    {
        json.WriteNumber("chord_count", shares.Chords);
        Time(json, "quarters", shares.Quarters);
        Share(json, "outside_time", shares.OutsideTime);
        Share(json, "outside_chords", shares.OutsideChords);
        Share(json, "outside_home_time", shares.OutsideHomeTime);
        json.WriteStartObject("devices");
        foreach (var device in DeviceNames.All) Share(json, device.Name(), shares.TimeOf(device));
        json.WriteEndObject();
    }

    private static void Share(Utf8JsonWriter json, string name, Fraction share) => json.WriteNumber(name, Math.Round(share.ToDouble(), 6));

    private static void Time(Utf8JsonWriter json, string name, Fraction time) => Number(json, name, time.ToString());
}
