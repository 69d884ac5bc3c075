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
    /// <summary>Its tempos by onset, at most one at a time; empty where it states none.</summary>
    public IReadOnlyList<TempoMark> Tempos { get; init; } = [];

    /// <summary>Where the first measure begins: zero, but in a movement that was taken out of its file.</summary>
    public Fraction Start => Measures.Count == 0 ? Fraction.Zero : Measures[0].Start;

    /// <summary>Where the last measure ends.</summary>
    public Fraction End => Measures.Count == 0 ? Fraction.Zero : Measures[^1].End;

    /// <summary>The movements in order: one where measure numbers never begin again. None where there is no measure.</summary>
    public IReadOnlyList<Movement> Movements =>
    [
        .. Measures.GroupBy(m => m.Movement).Select(g => g.ToArray())
            .Select(m => new Movement(m[0].Movement, m[0].Index, m.Length, m[0].Start, m[^1].End)),
    ];

    /// <summary>One of its movements as a score of its own. Times stay those of the whole file; measures are counted from 0.</summary>
    public Score Of(Movement movement)
    {
        ArgumentNullException.ThrowIfNull(movement);
        bool IsIn(Fraction onset) => onset >= movement.Start && onset < movement.End;
        return this with
        {
            Measures = [.. Measures.Skip(movement.FirstMeasure).Take(movement.Measures)
                .Select((m, i) => m with { Index = i, PickupOffset = m.PickupOffset })],
            Notes = [.. Notes.Where(n => IsIn(n.Onset))],
            ChordSymbols = [.. ChordSymbols.Where(s => IsIn(s.Onset))],
            Texts = [.. Texts.Where(t => IsIn(t.Onset))],
            Rests = [.. Rests.Where(r => IsIn(r.Onset))],
            Tempos = [.. Tempos.Where(t => IsIn(t.Onset))],
        };
    }

    /// <summary>The same score with its first measure at zero, as in a file of its own.</summary>
    public Score FromZero() => Start.Sign == 0 ? this : this with
    {
        Measures = [.. Measures.Select(m => m with { Start = m.Start - Start, PickupOffset = m.PickupOffset })],
        Notes = [.. Notes.Select(n => n with { Onset = n.Onset - Start })],
        ChordSymbols = [.. ChordSymbols.Select(s => s with { Onset = s.Onset - Start })],
        Texts = [.. Texts.Select(t => t with { Onset = t.Onset - Start })],
        Rests = [.. Rests.Select(r => r with { Onset = r.Onset - Start })],
        Tempos = [.. Tempos.Select(t => t with { Onset = t.Onset - Start })],
    };

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
public sealed record Part(int Index, string Id, string Name, int Staves, bool IsPercussion = false)
{
    /// <summary>Whether it is written in another key than it sounds in; octaves do not count.</summary>
    public bool IsTransposing { get; init; }
}

/// <summary>A movement of a file that holds several, one after the other: measure numbers begin again with each.</summary>
/// <param name="Number">Its number, from 1.</param>
/// <param name="FirstMeasure">Index of its first measure in the file, from 0.</param>
/// <param name="Measures">How many measures it has, at least 1.</param>
/// <param name="Start">Quarter notes from the start of the file to its start.</param>
/// <param name="End">Quarter notes from the start of the file to its end.</param>
public sealed record Movement(int Number, int FirstMeasure, int Measures, Fraction Start, Fraction End);

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

    /// <summary>Number of the movement that it belongs to, from 1.</summary>
    public int Movement { get; init; } = 1;

    /// <summary>Whether a repeated section begins here.</summary>
    public bool StartsRepeat { get; init; }

    /// <summary>How often the section that a repeat sign ends here is played: 1 where there is no such sign.</summary>
    public int PlayedTimes { get; init; } = 1;

    /// <summary>The numbers of the ending that it belongs to, as <c>1</c> or <c>1,2</c>; empty outside endings.</summary>
    public string Ending { get; init; } = "";

    /// <summary>Signs for the way through the score.</summary>
    internal RoadSigns Roads { get; init; } = RoadSigns.None;

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
