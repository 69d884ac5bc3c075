using ScoreLens.Theory;

namespace ScoreLens.Benchmarks.Homework;

/// <summary>One chord of an exercise: how long, in which key, which numeral, and the given outer voices.</summary>
internal sealed record ExerciseChord(int Quarters, Key Key, Numeral Numeral, Pitch Soprano, Pitch Bass);

/// <summary>An invented exercise: outer voices and chords; the inner voices are the student's.</summary>
internal static class Exercise
{
    // Quarters, key, numeral, soprano, bass: eight measures of four quarters in G major, by way of D major.
    private static readonly string[] Lines =
    [
        "1 G I D5 G3", "1 G V6 D5 F#3", "1 G I B4 G3", "1 G vi B4 E3",
        "1 G ii6 A4 C3", "1 G V7 A4 D3", "2 G I G4 G3",
        "1 G I6 G4 B2", "1 G IV G4 C3", "1 G V65/V A4 C#3", "1 G V A4 D3",
        "1 G V42 A4 C3", "1 G I6 B4 B2", "2 G V A4 D3",
        "1 D I D5 D3", "1 D viio6 C#5 E3", "1 D I6 D5 F#3", "1 D ii6 E5 G3",
        "1 D Cad64 D5 A3", "1 D V7 C#5 A2", "2 D I D5 D3",
        "1 G V65 D5 F#3", "1 G I B4 G3", "2 G N6 C5 C3",
        "1 G Cad64 B4 D3", "1 G V7 A4 D3", "2 G I G4 G2",
    ];

    /// <summary>The chords in order.</summary>
    public static IReadOnlyList<ExerciseChord> Chords { get; } = [.. Lines.Select(Parse)];

    private static ExerciseChord Parse(string line)
    {
        var words = line.Split(' ');
        var key = new Key(Tone.Parse(words[1]), Mode.Major);
        return new ExerciseChord(int.Parse(words[0], System.Globalization.CultureInfo.InvariantCulture), key, Numeral.Parse(words[2]),
            PitchOf(words[3]), PitchOf(words[4]));
    }

    private static Pitch PitchOf(string text) => new(Tone.Parse(text[..^1]), text[^1] - '0');
}
