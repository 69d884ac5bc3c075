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
