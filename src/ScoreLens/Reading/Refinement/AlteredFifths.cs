using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Reading.Refinement;

/// <summary>
/// Divides a dominant whose fifth moves by a semitone and stays: V7, then V7 with a lowered or raised fifth, for which numerals have no
/// sign. "The altered dominant is a chord of its own where its fifth is altered for half the time and more; before that it passes" (common
/// practice).
/// </summary>
internal sealed class AlteredFifths : IRefinement
{
    public IReadOnlyList<ChordReading> Apply(IReadOnlyList<ChordReading> chords, RefinementContext context)
    {
        var divided = new List<ChordReading>();
        foreach (var chord in chords)
        {
            if (Moment(chord, context.Sonorities) is not { } at)
            {
                divided.Add(chord);
                continue;
            }

            divided.Add(chord with { Duration = at - chord.Onset });
            divided.Add(chord with { Onset = at, Duration = chord.End - at });
        }

        return divided;
    }

    // Where the chord with the altered fifth begins, or null.
    private static Fraction? Moment(ChordReading chord, IReadOnlyList<Sonority> sonorities)
    {
        if (chord.Numeral is not
            {
                Kind: NumeralKind.Plain, Degree: 5, Alteration: 0, IsApplied: false,
                Quality: ChordQuality.Major or ChordQuality.DominantSeventh
            } numeral) return null;
        var fifth = numeral.Tones(chord.Key)[2];
        var verticals = TonesInTime.Between(sonorities, chord.Onset, chord.End).ToArray();
        var natural = Array.FindLastIndex(verticals, v => Sounds(v, fifth.IsEnharmonicWith));
        if (natural < 0) return null;
        foreach (var altered in (Tone[])[fifth + -7, fifth + 7])
        {
            var entered = Array.FindIndex(verticals, v => Sounds(v, t => t.IsEnharmonicWith(altered) && !chord.Key.Contains(t)));
            if (entered <= natural) continue;
            // In a broken chord the fifth comes after the bass: of the places between, the strongest.
            var start = verticals[(natural + 1)..(entered + 1)].MaxBy(v => v.MetricalWeight)!.Onset;
            if ((chord.End - start) * 2 >= chord.Duration && chord.End - start >= 1) return start;
        }

        return null;
    }

    private static bool Sounds(Sonority vertical, Func<Tone, bool> isIt) => vertical.Notes.Any(n => isIt(n.Pitch.Tone));
}
