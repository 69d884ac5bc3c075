using System.Globalization;
using ScoreLens.Theory;

namespace ScoreLens.Notation;

/// <summary>How times on the clock are reckoned and written.</summary>
public sealed record ClockOptions
{
    /// <summary>Quarter notes a minute where the score has no tempo, or before its first; null where none is assumed. Above zero.</summary>
    public double? Tempo { get; init; }

    /// <summary>Where the cue starts, in seconds from zero of the production's clock.</summary>
    public double Start { get; init; }

    /// <summary>
    /// Frames a second, without dropped ones: times are then time codes <c>01:02:03:12</c>. 0 for seconds with a decimal.
    /// </summary>
    public int Frames { get; init; }

    /// <summary>
    /// Whether repeats, da capo and dal segno are counted as they are played; a place that is played twice has the time of the first.
    /// </summary>
    public bool AsPlayed { get; init; }

    /// <summary>Reads a time: <c>0:01:23.5</c> in hours, minutes and seconds or, with frames, <c>01:02:03:12</c>.</summary>
    /// <returns>Seconds; null where the text is no time.</returns>
    public double? Seconds(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        var fields = text.Split(':');
        if (fields.Length is not (3 or 4) || (fields.Length == 4 && Frames == 0)) return null;
        var numbers = new double[fields.Length];
        for (var i = 0; i < fields.Length; i++)
        {
            var style = i == 2 && fields.Length == 3 ? NumberStyles.AllowDecimalPoint : NumberStyles.None;
            if (!double.TryParse(fields[i], style, CultureInfo.InvariantCulture, out numbers[i])) return null;
        }

        if (numbers[1] >= 60 || numbers[2] >= 60 || (numbers.Length == 4 && numbers[3] >= Frames)) return null;
        return (3600 * numbers[0]) + (60 * numbers[1]) + numbers[2] + (numbers.Length == 4 ? numbers[3] / Frames : 0);
    }

    /// <summary>Writes a time as <see cref="Seconds"/> reads it.</summary>
    public string Text(double seconds)
    {
        if (Frames > 0)
        {
            var frames = (long)Math.Floor((seconds * Frames) + 1e-6);
            var whole = frames / Frames;
            return string.Create(
                CultureInfo.InvariantCulture, $"{whole / 3600:00}:{whole / 60 % 60:00}:{whole % 60:00}:{frames % Frames:00}");
        }

        var tenths = (long)Math.Floor((seconds * 10) + 1e-6);
        return string.Create(CultureInfo.InvariantCulture, $"{tenths / 36000}:{tenths / 600 % 60:00}:{tenths / 10 % 60:00}.{tenths % 10}");
    }
}

/// <summary>
/// When each place of a score comes on the clock, from its tempo marks. Each movement starts anew. Tempos change at once: a ritardando
/// without marks of its own is not reckoned.
/// </summary>
public sealed class ScoreClock
{
    private readonly Score _score;
    private readonly ClockOptions _options;
    private readonly double[] _starts;

    private ScoreClock(Score score, ClockOptions options)
    {
        _score = score;
        _options = options;
        _starts = Enumerable.Repeat(double.NaN, score.Measures.Count).ToArray();
        var played = options.AsPlayed ? PlayedOrder.Of(score.Measures) : null;
        Unfollowed = played?.Problems ?? [];
        var order = played?.Measures ?? [.. Enumerable.Range(0, score.Measures.Count)];
        double time = options.Start;
        var movement = 0;
        foreach (var index in order)
        {
            var measure = score.Measures[index];
            if (measure.Movement != movement) (movement, time) = (measure.Movement, options.Start);
            if (double.IsNaN(_starts[index])) _starts[index] = time;
            time += Within(measure, measure.End);
        }
    }

    /// <summary>
    /// Where times are counted as played: returns such as da capo that could not be followed, and measures that no way through the score
    /// reaches, each as a phrase with its place; mostly none.
    /// </summary>
    public IReadOnlyList<string> Unfollowed { get; }

    /// <summary>The clock of a score; null where it has no tempo and none is assumed, or no measure.</summary>
    public static ScoreClock? Of(Score score, ClockOptions options)
    {
        ArgumentNullException.ThrowIfNull(score);
        ArgumentNullException.ThrowIfNull(options);
        return score.Measures.Count == 0 || (score.Tempos.Count == 0 && options.Tempo is null) ? null : new ScoreClock(score, options);
    }

    /// <summary>The time of a place, as text; empty for a measure that is not played.</summary>
    public string TextAt(Fraction onset) => double.IsNaN(SecondsAt(onset)) ? "" : _options.Text(SecondsAt(onset));

    /// <summary>The time of a place, in seconds; not a number for a measure that is not played.</summary>
    public double SecondsAt(Fraction onset)
    {
        var measure = _score.MeasureAt(onset);
        return _starts[measure.Index] + Within(measure, onset);
    }

    /// <summary>The places that come at a time, to a quarter of a beat: one a movement that lasts until then.</summary>
    /// <param name="seconds">Seconds on the production's clock.</param>
    public IReadOnlyList<Fraction> PlacesAt(double seconds)
    {
        var places = new List<Fraction>();
        foreach (var measure in _score.Measures)
        {
            var start = _starts[measure.Index];
            if (double.IsNaN(start) || seconds < start - 1e-9 || seconds >= start + Within(measure, measure.End)) continue;
            var step = new Fraction(1, 4) * Fraction.Min(1, measure.Time.BeatLength);
            var place = measure.Start;
            while (place + step < measure.End && start + Within(measure, place + step) <= seconds + 1e-6) place += step;
            places.Add(place);
        }

        return places;
    }

    // From the start of a measure to a place in it, in seconds.
    private double Within(Measure measure, Fraction until)
    {
        double time = 0;
        var at = measure.Start;
        foreach (var mark in _score.Tempos)
        {
            if (mark.Onset <= at) continue;
            if (mark.Onset >= until) break;
            time += Lasts(mark.Onset - at, at);
            at = mark.Onset;
        }

        return time + Lasts(until - at, at);
    }

    private double Lasts(Fraction quarters, Fraction at)
    {
        double? tempo = null;
        foreach (var mark in _score.Tempos)
        {
            if (mark.Onset > at) break;
            tempo = mark.QuartersPerMinute;
        }

        return quarters.ToDouble() * 60 / (tempo ?? _options.Tempo ?? _score.Tempos[0].QuartersPerMinute);
    }
}
