using System.Globalization;
using ScoreLens.Theory;

namespace ScoreLens.Notation;

/// <summary>
/// A score on its written timeline: parts share one grid of measures, repeats are not unfolded, pitches are at concert
/// pitch, and every time is exact, in quarter notes from the start of the first written measure.
/// </summary>
/// <param name="Title">Work or movement title; empty where there is none.</param>
/// <param name="Parts">Parts from the top of the score down. At least one.</param>
/// <param name="Measures">The shared measures in order. May be empty for an empty score.</param>
/// <param name="Notes">Every pitched note, by onset, then from the top of the score down; grace and cue notes among them, marked.</param>
/// <param name="ChordSymbols">Chord symbols that the score carries, by onset.</param>
/// <param name="Texts">Lyrics, words and existing labels, by onset.</param>
/// <param name="Rests">Rests, by onset; a full-measure rest has its measure's length.</param>
public sealed record Score(
    string Title,
    IReadOnlyList<Part> Parts,
    IReadOnlyList<Measure> Measures,
    IReadOnlyList<Note> Notes,
    IReadOnlyList<ChordSymbol> ChordSymbols,
    IReadOnlyList<ScoreText> Texts,
    IReadOnlyList<Rest> Rests)
{
    /// <summary>Where the last measure ends.</summary>
    public Fraction End => Measures.Count == 0 ? Fraction.Zero : Measures[^1].End;

    /// <summary>The measure that holds the last moment before a time; null where there are no measures.</summary>
    public Measure? LastMeasureBefore(Fraction end)
    {
        if (Measures.Count == 0) return null;
        var measure = MeasureAt(end);
        return measure.Start < end || measure.Index == 0 ? measure : Measures[measure.Index - 1];
    }

    /// <summary>The measure that holds a time; the last one for times at or after the end.</summary>
    /// <exception cref="InvalidOperationException">The score has no measure.</exception>
    public Measure MeasureAt(Fraction onset)
    {
        if (Measures.Count == 0) throw new InvalidOperationException("The score has no measure.");
        int low = 0, high = Measures.Count - 1;
        while (low < high)
        {
            var middle = (low + high + 1) / 2;
            if (Measures[middle].Start <= onset) low = middle;
            else high = middle - 1;
        }

        return Measures[low];
    }
}

/// <summary>A part of the score.</summary>
/// <param name="Index">Place from the top, from 0.</param>
/// <param name="Id">The part's identifier in the file.</param>
/// <param name="Name">The part's name; may be empty.</param>
/// <param name="Staves">Number of staves, at least 1.</param>
/// <param name="IsPercussion">Whether the part has unpitched notes only.</param>
public sealed record Part(int Index, string Id, string Name, int Staves, bool IsPercussion = false);

/// <summary>A written measure.</summary>
/// <param name="Index">Place in the score, from 0.</param>
/// <param name="Number">The number that is printed; need not be a number (<c>X1</c>).</param>
/// <param name="Start">Quarter notes from the start of the score.</param>
/// <param name="Length">Quarter notes; what the longest part holds. May be zero for an empty measure.</param>
/// <param name="Time">The time signature in force.</param>
/// <param name="Signature">The key signature in force, in sharps (flats negative), at concert pitch; -14..14.</param>
/// <param name="SignatureMode">The mode that the file states beside the signature, if it does.</param>
/// <param name="IsImplicit">Whether the measure is marked as not counted (a pickup, a part of a split measure).</param>
/// <param name="EndsWithBarline">Whether a double, final or repeat bar line closes it.</param>
public sealed record Measure(
    int Index,
    string Number,
    Fraction Start,
    Fraction Length,
    TimeSignature Time,
    int Signature,
    Mode? SignatureMode = null,
    bool IsImplicit = false,
    bool EndsWithBarline = false)
{
    /// <summary>Where the measure ends.</summary>
    public Fraction End => Start + Length;

    private readonly Fraction? _pickupOffset;

    /// <summary>
    /// How much of the metre's measure lies before this written one: the missing first beats of a pickup, or the first half of
    /// a measure that is written as two. Unless it is given: the nominal length less the measure's own, for a shorter implicit
    /// or first measure, else zero.
    /// </summary>
    public Fraction PickupOffset
    {
        get => _pickupOffset
            ?? ((IsImplicit || Index == 0) && !Time.IsFree && Length < Time.Length ? Time.Length - Length : Fraction.Zero);
        init => _pickupOffset = value;
    }

    /// <summary>
    /// The beat, from 1, of a time inside the measure, in the time signature's beat units (1.5 is half-way through the first).
    /// </summary>
    public Fraction BeatAt(Fraction onset) => ((onset - Start + PickupOffset) / Time.BeatLength) + 1;

    /// <summary>The time of a beat, the way back from <see cref="BeatAt"/>.</summary>
    public Fraction OnsetOfBeat(Fraction beat) => Start + ((beat - 1) * Time.BeatLength) - PickupOffset;
}

/// <summary>A time signature.</summary>
/// <param name="Beats">The upper number, additive signatures summed (3+2 is 5); at least 1.</param>
/// <param name="BeatType">The lower number; at least 1. Where several are added, the shortest unit that counts them all.</param>
/// <param name="IsFree">Senza misura: no metre; the other two are then 4 and 4.</param>
/// <param name="Grouping">How an additive signature groups its beats, in units of the lower number (<c>3+2</c>); null where it is not
/// written.</param>
public readonly record struct TimeSignature(int Beats, int BeatType, bool IsFree = false, string? Grouping = null)
{
    /// <summary>Common time.</summary>
    public static TimeSignature Common => new(4, 4);

    /// <summary>Nominal length of a measure in quarter notes.</summary>
    public Fraction Length => new(4L * Beats, BeatType);

    /// <summary>Whether beats fall in threes (6/8, 9/8, 12/8 and the like).</summary>
    public bool IsCompound => Beats > 3 && Beats % 3 == 0 && BeatType >= 8 && (Grouping is null || Groups.All(g => g == 3));

    /// <summary>Length of one counted unit, the lower number's note value, in quarter notes.</summary>
    public Fraction BeatLength => new(4, BeatType);

    /// <summary>Length of a felt beat in quarter notes: three units in compound time.</summary>
    public Fraction PulseLength => IsCompound ? new Fraction(12, BeatType) : BeatLength;

    /// <summary>The written groups of beats, in units of the lower number; empty where no grouping is written.</summary>
    public IReadOnlyList<int> Groups =>
        Grouping is null ? [] : [.. Grouping.Split('+').Select(g => int.Parse(g, CultureInfo.InvariantCulture))];
}
