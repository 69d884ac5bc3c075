using System.Text.RegularExpressions;
using ScoreLens.Theory;

namespace ScoreLens.Reharmonising.Voicing;

/// <summary>What an instrument or a voice can sound at concert pitch, the extremes that only soloists reach left out.</summary>
/// <param name="Lowest">The lowest note.</param>
/// <param name="Highest">The highest note that an orchestral part may ask for without care.</param>
internal sealed partial record InstrumentRange(Pitch Lowest, Pitch Highest)
{
    // Adler, The Study of Orchestration (ranges in the appendix), and Kostka and Payne, Tonal Harmony (singers); from memory, rounded
    // inwards. The first name that the part's name holds counts, so that the longer names stand before the shorter ones.
    private static readonly (string Name, string Lowest, string Highest)[] Known =
    [
        ("piccolo", "D5", "C8"), ("alto flute", "G3", "G6"), ("contrabassoon", "Bb0", "G3"), ("double bassoon", "Bb0", "G3"),
        ("bass clarinet", "D2", "F5"), ("english horn", "E3", "A5"), ("cor anglais", "E3", "A5"), ("bass trombone", "Bb1", "F4"),
        ("alto trombone", "A2", "Eb5"), ("bass tuba", "D1", "F4"), ("double bass", "C1", "C4"), ("contrabass", "C1", "C4"),
        ("violone", "C1", "C4"), ("mezzo", "A3", "A5"), ("contralto", "F3", "F5"), ("counter", "F3", "E5"), ("baritone", "G2", "G4"),
        ("alto sax", "Db3", "Ab5"), ("tenor sax", "Ab2", "Eb5"), ("soprano sax", "Ab3", "Eb6"), ("flute", "C4", "C7"),
        ("traverso", "D4", "E6"), ("recorder", "F4", "G6"), ("oboe", "Bb3", "F6"), ("clarinet", "D3", "G6"), ("bassoon", "Bb1", "C5"),
        ("horn", "B1", "F5"), ("corno", "B1", "F5"), ("trumpet", "E3", "C6"), ("tromba", "E3", "C6"), ("cornet", "E3", "Bb5"),
        ("trombone", "E2", "Bb4"), ("tuba", "D1", "F4"), ("violoncello", "C2", "A5"), ("cello", "C2", "A5"), ("violin", "G3", "A7"),
        ("viola", "C3", "E6"), ("guitar", "E2", "B5"), ("harp", "B0", "G7"), ("piano", "A0", "C8"), ("keyboard", "A0", "C8"),
        ("organ", "C2", "C7"), ("harpsichord", "F1", "F6"), ("celesta", "C4", "C8"), ("glockenspiel", "G5", "C8"),
        ("soprano", "C4", "A5"), ("alto", "F3", "D5"), ("tenor", "C3", "A4"), ("bass", "E2", "E4"),
    ];

    /// <summary>The range of a part by its name; null where the name is none of the table's.</summary>
    public static InstrumentRange? Of(string partName)
    {
        var name = Spaces().Replace(partName, " ");
        foreach (var (instrument, lowest, highest) in Known)
            if (name.Contains(instrument, StringComparison.OrdinalIgnoreCase)) return new InstrumentRange(PitchOf(lowest),
                PitchOf(highest));
        return null;
    }

    private static Pitch PitchOf(string name) => new(Tone.Parse(name[..^1]), name[^1] - '0');

    [GeneratedRegex(@"\s+")]
    private static partial Regex Spaces();
}
