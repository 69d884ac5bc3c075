using System.Globalization;
using ScoreLens.Reading;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Devices;

/// <summary>
/// A tone that one part holds, or strikes again without a gap, for more than eight quarter notes, while at least one chord comes over or
/// under it that it does not belong to (Kostka and Payne, Tonal Harmony, on pedal points; from memory). A tone that belongs to every chord
/// beside it is no pedal.
/// </summary>
/// <param name="Tone">The tone as it is written.</param>
/// <param name="Key">The local key of the first chord that it sounds with.</param>
/// <param name="Start">When its first chord begins, in quarter notes from the start of the score.</param>
/// <param name="End">When it stops sounding.</param>
/// <param name="Part">Index of the part that has it; the uppermost where it is doubled.</param>
public sealed record PedalPoint(Tone Tone, Key Key, Fraction Start, Fraction End, int Part)
{
    /// <summary>Its degree in the key in which it begins, with a sign where it is not of the natural scale: <c>1</c>, <c>5</c>, <c>b6</c>.
    /// </summary>
    public string Degree
    {
        get
        {
            for (var degree = 1; degree <= 7; degree++)
            {
                var (alteration, rest) = Math.DivRem(Tone - Key.Degree(degree), 7);
                if (rest != 0) continue;
                var sign = new string(alteration < 0 ? 'b' : '#', Math.Abs(alteration));
                return string.Create(CultureInfo.InvariantCulture, $"{sign}{degree}");
            }

            return "";
        }
    }

    /// <summary>Whether a chord sounds with the pedal from its start to its end, and the pedal does not belong to it.</summary>
    public bool IsForeignTo(ChordReading chord)
    {
        ArgumentNullException.ThrowIfNull(chord);
        return Holds(chord) && chord.Numeral is { } numeral && !numeral.Tones(chord.Key).Any(Tone.IsEnharmonicWith);
    }

    /// <summary>Whether it sounds from a chord's start to its end.</summary>
    internal bool Holds(ChordReading chord) => Start <= chord.Onset && chord.End <= End;

    /// <summary>The pedals of a score, by where they begin, then from the top of the score down.</summary>
    internal static IReadOnlyList<PedalPoint> Of(IReadOnlyList<Sonority> sonorities, IReadOnlyList<ChordReading> chords)
    {
        var found = new List<PedalPoint>();
        foreach (var chain in new Pedals(sonorities).Chains)
        {
            var (from, to) = (chain[0].Onset, chain[^1].End);
            if (chords.FirstOrDefault(c => c.Onset >= from && c.End <= to && c.Numeral is not null) is not { } first) continue;
            var pedal = new PedalPoint(chain[0].Pitch.Tone, first.Key, first.Onset, to, chain[0].Part);
            if (pedal.Degree.Length > 0 && chords.Any(pedal.IsForeignTo)) found.Add(pedal);
        }

        // Two parts, or two octaves, that hold one tone at one time are one pedal: the one that begins first, and of those the longest.
        var pedals = new List<PedalPoint>();
        foreach (var pedal in found.OrderBy(p => p.Start).ThenByDescending(p => p.End).ThenBy(p => p.Part))
            if (!pedals.Any(p => p.Tone == pedal.Tone && pedal.Start < p.End)) pedals.Add(pedal);
        return pedals;
    }
}
