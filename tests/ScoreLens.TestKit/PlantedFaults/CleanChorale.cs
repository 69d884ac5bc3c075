using ScoreLens.Notation;
using ScoreLens.Reading;
using ScoreLens.Theory;

namespace ScoreLens.TestKit.PlantedFaults;

/// <summary>
/// Writes clean four-part exercises at random: stock progressions in a random key, voiced by a search under constraints of its
/// own that are stricter than any handbook's (complete chords, small steps, every tendency note resolved), and that share no code
/// with the rules.
/// </summary>
internal static class CleanChorale
{
    private static readonly string[] Major =
    [
        "I IV V I", "I ii6 V7 I", "I vi ii6 V I", "I V6 I", "I viio6 I6 ii65 V I", "I IV Cad64 V7 I", "I V7 vi IV V7 I", "I ii65 Cad64 V I",
        "I IV64 I", "I V64 I6 V I", "I V65/V V V7 I", "I vi V65/V V I", "I V42 I6 IV V I", "I V65/IV IV V I", "I IV6 V6 I", "I I6 IV V7 I",
            "I N6 V I",
    ];

    private static readonly string[] Minor =
    [
        "i iv V i", "i iiø65 V i", "i iv Cad64 V7 i", "i N6 V i", "i N6 Cad64 V i", "i iv6 Ger65 Cad64 V i", "i VI It6 V i", "i viio7 i",
            "i V7 VI iv V i", "i V42 i6 iio6 V7 i",
        "i viio6 i6 iv V i", "i VI iio6 V i", "i V6 i",
    ];

    /// <summary>An exercise of some twenty chords.</summary>
    public static Exercise Write(Random random)
    {
        while (true)
        {
            var key = new Key(new Tone(random.Next(-3, 5)), random.Next(2) == 0 ? Mode.Major : Mode.Minor);
            var chords = Chords(random, key);
            if (Voice(random, key, chords) is { } voiced) return Build(key, chords, voiced);
        }
    }

    private static List<(Numeral Numeral, int Length)> Chords(Random random, Key key)
    {
        var chords = new List<(Numeral, int)>();
        var at = 0;
        for (var phrase = 0; phrase < 5; phrase++)
        {
            var list = key.IsMinor ? Minor : Major;
            foreach (var text in list[random.Next(list.Length)].Split(' ').Skip(phrase == 0 ? 0 : 1))
            {
                var numeral = text == "Cad64" ? Numeral.CadentialSixFour(key.Mode) : Numeral.Parse(text);
                if (numeral.Kind == NumeralKind.CadentialSixFour && at % 2 == 1)
                {
                    chords[^1] = (chords[^1].Item1, chords[^1].Item2 + 1);
                    at++;
                }

                chords.Add((numeral, 1));
                at++;
            }
        }

        return chords;
    }

    private static Pitch[][]? Voice(Random random, Key key, List<(Numeral Numeral, int Length)> chords)
    {
        var candidates = chords.Select(c => Voicings(key, c.Numeral).ToArray()).ToArray();
        var path = new Pitch[chords.Count][];
        var budget = 20_000;
        return Search(0) ? path : null;

        bool Search(int at)
        {
            if (at == chords.Count) return true;
            if (--budget < 0) return false;
            var order = candidates[at]
                .Where(v => at == 0 || Fits(key, chords[at - 1].Numeral, chords[at].Numeral, path[at - 1], v, at > 1 ? path[at - 2] : null))
                .OrderBy(v => (at == 0 ? 0 : v.Zip(path[at - 1], (a, b) => Math.Abs(a.Midi - b.Midi)).Sum()) + random.Next(8))
                .Take(12);
            foreach (var voicing in order)
            {
                path[at] = voicing;
                if (Search(at + 1)) return true;
            }

            return false;
        }
    }

    private static IEnumerable<Pitch[]> Voicings(Key key, Numeral numeral)
    {
        var tones = numeral.Tones(key);
        var context = numeral.Target?.In(key) ?? key;
        Tone[] single = [context.Tonic + 5, .. numeral.Quality.IsSeventh() ? [tones[3]] : Array.Empty<Tone>()];
        var isTonic = numeral is { Degree: 1, Inversion: 0, Kind: NumeralKind.Plain };
        foreach (var bass in In(numeral.Bass(key), 40, 60))
        {
            foreach (var tenor in tones.SelectMany(t => In(t, 48, 67)).Where(p => p.Midi >= bass.Midi && p.Midi - bass.Midi <= 19))
            {
                foreach (var alto in tones.SelectMany(t => In(t, 55, 72)).Where(p => p.Midi >= tenor.Midi && p.Midi - tenor.Midi <= 12))
                {
                    foreach (var soprano in tones.SelectMany(t => In(t, 60, 79))
                        .Where(p => p.Midi >= alto.Midi && p.Midi - alto.Midi <= 12))
                    {
                        Pitch[] all = [soprano, alto, tenor, bass];
                        var counts = tones.Select(t => all.Count(p => p.Tone == t)).ToArray();
                        var isComplete = counts.All(c => c > 0) || (isTonic && counts is [3, 1, 0]);
                        if (!isComplete || single.Any(t => all.Count(p => p.Tone == t) > 1)) continue;
                        if (!IsWellDoubled(numeral, counts)) continue;
                        yield return all;
                    }
                }
            }
        }
    }

    private static bool IsWellDoubled(Numeral numeral, int[] counts)
    {
        if (counts.Length == 4) return true;
        if (numeral.Kind == NumeralKind.AugmentedSixth) return counts[1] == 2;
        if (numeral.Inversion == 2) return counts[2] == 2;
        if (numeral.Quality == ChordQuality.Diminished) return counts[1] == 2;
        if (numeral is { Degree: 2, Alteration: -1 }) return counts[1] == 2;
        return numeral.Inversion == 1 || counts[0] >= 2 || (numeral.Degree == 6 && counts[1] == 2);
    }

    private static bool Fits(Key key, Numeral from, Numeral to, Pitch[] a, Pitch[] b, Pitch[]? before)
    {
        for (var v = 0; v < 4; v++)
        {
            var steps = b[v].Staff - a[v].Staff;
            var semitones = b[v].Midi - a[v].Midi;
            if (Math.Abs(semitones) > (v == 3 ? 7 : 5) || (v == 3 && Math.Abs(semitones) == 6)) return false;
            if (Math.Abs(semitones) == 6 || (Math.Abs(steps) == 1 && Math.Abs(semitones) == 3)
                || (Math.Abs(steps) == 3 && Math.Abs(semitones) != 5)) return false;
            if (Math.Abs(steps) == 4 && Math.Abs(semitones) != 7) return false;
            if (v < 3 && (b[v].Midi < a[v + 1].Midi || a[v].Midi < b[v + 1].Midi)) return false;
            for (var w = v + 1; w < 4; w++)
            {
                if (a[v] == b[v] || a[w] == b[w]) continue;
                var (first, second) = ((a[v].Midi - a[w].Midi) % 12, (b[v].Midi - b[w].Midi) % 12);
                if (second is 0 or 7 && (first == second || (first == 6 && second == 7))) return false;
                if (v == 0 && w == 3 && second is 0 or 7 && Math.Sign(semitones) == Math.Sign(b[w].Midi - a[w].Midi)
                    && Math.Abs(steps) > 1) return false;
            }
        }

        return Resolves(key, from, to, a, b) && (before is null || TurnsBack(before, a, b));
    }

    private static bool Resolves(Key key, Numeral from, Numeral to, Pitch[] a, Pitch[] b)
    {
        var context = from.Target?.In(key) ?? key;
        var tones = from.Tones(key);
        var next = to.Tones(key);
        var isDominant = from.Degree is 5 or 7 && from.Kind == NumeralKind.Plain && tones.Contains(context.Tonic + 5);
        for (var v = 0; v < 4; v++)
        {
            var semitones = b[v].Midi - a[v].Midi;
            var tone = a[v].Tone;
            if (isDominant && tone == context.Tonic + 5 && !next.Contains(tone) && semitones != 1) return false;
            if (from.Quality.IsSeventh() && tone == tones[3] && !next.Contains(tone) && semitones is not (-1 or -2)) return false;
            if (from.Quality.IsSeventh() && tone == tones[3] && next.Contains(tone) && semitones != 0) return false;
            if (from.Kind == NumeralKind.AugmentedSixth && tone == tones[^1] && semitones != 1) return false;
            if (from.Kind == NumeralKind.AugmentedSixth && tone == tones[0] && semitones != -1) return false;
            if (from is { Degree: 2, Alteration: -1 } && tone == tones[0] && (semitones >= 0 || b[v].Staff - a[v].Staff < -2)) return false;
        }

        return true;
    }

    private static bool TurnsBack(Pitch[] before, Pitch[] a, Pitch[] b)
    {
        for (var v = 0; v < 4; v++)
        {
            // After a leap of a fourth or more a voice does not leap on.
            var (first, second) = (a[v].Midi - before[v].Midi, b[v].Midi - a[v].Midi);
            if (Math.Abs(first) > 4 && Math.Abs(second) > 2 && Math.Sign(first) == Math.Sign(second)) return false;
        }

        return true;
    }

    private static IEnumerable<Pitch> In(Tone tone, int lowest, int highest)
    {
        for (var octave = 1; octave <= 6; octave++)
        {
            var pitch = new Pitch(tone, octave);
            if (pitch.Midi >= lowest && pitch.Midi <= highest) yield return pitch;
        }
    }

    private static Exercise Build(Key key, List<(Numeral Numeral, int Length)> chords, Pitch[][] voiced)
    {
        var notes = new List<Note>();
        var readings = new List<ChordReading>();
        var at = Fraction.Zero;
        for (var i = 0; i < chords.Count; i++)
        {
            var (numeral, length) = chords[i];
            if (i == chords.Count - 1) length += (int)((4 - ((at + length).Numerator % 4)) % 4);
            for (var part = 0; part < 4; part++) notes.Add(new Note(voiced[i][part], at, length, part, 1, "1", NoteMarks.None));
            readings.Add(new ChordReading(at, length, key, numeral, 1, []));
            at += length;
        }

        return new Exercise(Exercise.MakeScore(notes, [], 4, at, key), new HarmonicReading(key, readings));
    }
}
