using System.Diagnostics.CodeAnalysis;
using ScoreLens.Cli.Shared;
using ScoreLens.Notation;
using ScoreLens.Reading;
using ScoreLens.Theory;

namespace ScoreLens.Cli.Reharmonising;

/// <summary>
/// A place whose chord is asked for; or a place and the one in whose chord the new chord ends, which divides a chord or joins several.
/// </summary>
internal sealed record PlaceSpan(ScorePlace From, ScorePlace? To)
{
    /// <summary>Reads <c>12:3</c> and <c>12:3-12:4</c>.</summary>
    public static bool TryParse(string text, [NotNullWhen(true)] out PlaceSpan? span)
    {
        span = null;
        if (text.Split('-') is [{ Length: > 0 } first, { Length: > 0 } second] && ScorePlace.TryParse(first, out var start)
            && ScorePlace.TryParse(second, out var end)) span = new PlaceSpan(start, end);
        else if (ScorePlace.TryParse(text, out var place)) span = new PlaceSpan(place, null);
        return span is not null;
    }

    /// <summary>
    /// The place to name after <c>-</c> for a chord that takes other borders than the chords of an analysis: the last chord in it, or its
    /// own beginning where it divides one. Empty where a chord stands there with just these borders.
    /// </summary>
    public static string EndOf(CueAnalysis analysis, ChordReading chord) =>
        analysis.Chords.Any(c => (c.Reading.Onset, c.Reading.End) == (chord.Onset, chord.End)) ? ""
            : Name(analysis.Score, Fraction.Max(chord.Onset, analysis.Chords.Last(c => c.Reading.Onset < chord.End).Reading.Onset));

    /// <summary>A time as a place: <c>12:3</c>, or <c>12</c> for the first beat.</summary>
    public static string Name(Score score, Fraction onset)
    {
        var measure = score.MeasureAt(onset);
        var beat = measure.BeatAt(onset);
        return $"{measure.Number}{(beat == Fraction.One ? "" : $":{beat}")}";
    }
}
