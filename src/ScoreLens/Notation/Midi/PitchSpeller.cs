using ScoreLens.Theory;

namespace ScoreLens.Notation.Midi;

/// <summary>
/// Spells pitches that have none: the first stage of the ps13 algorithm (D. Meredith, "The ps13 pitch spelling algorithm",
/// Journal of New Music Research 35/2, 2006). Around a note, 10 notes before it and 42 from it on, every pitch class counts as
/// a tonic as often as it sounds, and speaks for the letter that the note has in its harmonic chromatic scale (C Db D Eb E F F#
/// G Ab A Bb B); the letter with most voices wins. That fixes the spelling but for its side of the circle of fifths, which
/// is taken nearest to the key signature, anew where that changes.
/// </summary>
internal static class PitchSpeller
{
    private const int Before = 10, After = 42;

    /// <summary>The tones of MIDI keys in order of onset.</summary>
    /// <param name="keys">MIDI key numbers.</param>
    /// <param name="signatures">The key signature at each of them in sharps, flats negative; 0 where there is none.</param>
    public static Tone[] Spell(IReadOnlyList<int> keys, IReadOnlyList<int> signatures)
    {
        var tones = new Tone[keys.Count];
        if (keys.Count == 0) return tones;
        var letters = Letters(keys);
        for (var start = 0; start < tones.Length;)
        {
            var signature = signatures[start];
            var end = start;
            while (end < tones.Length && signatures[end] == signature) end++;
            // The three ways to name a first letter shift all others alike.
            var shift = Enumerable.Range(-1, 3).MinBy(s =>
                Enumerable.Range(start, end - start).Sum(i => Math.Abs(ToneOf(keys[i], letters[i] + s, signature).Fifths - signature - 2)));
            for (; start < end; start++) tones[start] = ToneOf(keys[start], letters[start] + shift, signature);
        }

        return tones;
    }

    private static ReadOnlySpan<int> ChromaticSteps => [0, 1, 1, 2, 2, 3, 3, 4, 5, 5, 6, 6];

    private static int[] Letters(IReadOnlyList<int> keys)
    {
        var counts = new int[12];
        for (var i = 0; i < Math.Min(After, keys.Count); i++) counts[keys[i] % 12]++;
        var first = ChromaticSteps[keys[0] % 12];
        // The letter of every pitch class as a tonic, such that the first note keeps its own.
        var tonics = new int[12];
        for (var tonic = 0; tonic < 12; tonic++) tonics[tonic] = first - ChromaticSteps[Mod(keys[0] - tonic, 12)];
        var letters = new int[keys.Count];
        var strength = new int[7];
        for (var i = 0; i < keys.Count; i++)
        {
            if (i > 0 && i + After - 1 < keys.Count) counts[keys[i + After - 1] % 12]++;
            if (i > Before) counts[keys[i - Before - 1] % 12]--;
            Array.Clear(strength);
            for (var tonic = 0; tonic < 12; tonic++)
                strength[Mod(ChromaticSteps[Mod(keys[i] - tonic, 12)] + tonics[tonic], 7)] += counts[tonic];
            letters[i] = Array.IndexOf(strength, strength.Max());
        }

        return letters;
    }

    private static Tone ToneOf(int key, int letter, int signature)
    {
        var step = Mod(letter, 7);
        var natural = ((ReadOnlySpan<int>)[0, 2, 4, 5, 7, 9, 11])[step];
        var alteration = Mod(key - natural + 6, 12) - 6;
        var centre = new Tone(Math.Clamp(signature + 2, Tone.MinFifths, Tone.MaxFifths));
        return Math.Abs(alteration) <= 2 ? Tone.Of("CDEFGAB"[step], alteration) : new Tone(Mod((key * 7) + 5, 12) - 5).NearestTo(centre);
    }

    private static int Mod(int value, int modulus) => ((value % modulus) + modulus) % modulus;
}
