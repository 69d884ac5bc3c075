using ScoreLens.Density;
using ScoreLens.Notation;
using ScoreLens.Theory;

namespace ScoreLens.Wording;

/// <summary>Places as people say them.</summary>
public static class PlaceText
{
    /// <summary>A measure and a beat: <c>m. 5:3</c>, without the beat on the first one.</summary>
    public static string Of(string measure, Fraction beat) => $"m. {measure}{(beat == Fraction.One ? "" : $":{beat}")}";

    /// <summary>The place of a time in a score.</summary>
    public static string Of(Score score, Fraction onset)
    {
        ArgumentNullException.ThrowIfNull(score);
        var measure = score.MeasureAt(onset);
        return Of(measure.Number, measure.BeatAt(onset));
    }

    /// <summary>Where a chord begins: <c>m. 7:3 (B+2, 0:00:12.5)</c>, with the rehearsal mark and the time where there are any.</summary>
    public static string Where(ChordRow chord)
    {
        ArgumentNullException.ThrowIfNull(chord);
        var also = Also(chord.Rehearsal, chord.Time);
        return Of(chord.Measure, chord.Beat) + (also.Length == 0 ? "" : $" ({also})");
    }

    /// <summary>A place from the last rehearsal mark and on the clock, as far as they are known: <c>B+2, 0:00:12.5</c>.</summary>
    public static string Also(string rehearsal, string time) => string.Join(", ", new[] { rehearsal, time }.Where(t => t.Length > 0));

    /// <summary>A chord, its place, its key and how sure it is: <c>V7/ii m. 5:3 in C major, 62 %</c>.</summary>
    public static string WithDoubt(ChordRow chord)
    {
        ArgumentNullException.ThrowIfNull(chord);
        return $"{Of(chord)} in {chord.Chord.Reading.Key}, {ShareText.WholePercent(chord.Chord.Reading.Confidence)}";
    }

    /// <summary>The same with who plays its tones outside the key: <c>V7/ii m. 5:3 in C major, 62 % (C#: Viola)</c>.</summary>
    public static string WithColour(ChordRow chord)
    {
        ArgumentNullException.ThrowIfNull(chord);
        return WithDoubt(chord) + (chord.Colour.Count == 0 ? "" : $" ({ColourText.Of(chord.Colour)})");
    }

    /// <summary>A chord and its place: <c>V7/ii m. 5:3</c>.</summary>
    public static string Of(ChordRow chord)
    {
        ArgumentNullException.ThrowIfNull(chord);
        return $"{chord.Chord.Reading.Numeral} {Of(chord.Measure, chord.Beat)}";
    }
}
