namespace ScoreLens.Notation.Midi.Spelling;

/// <summary>
/// Where on the line of fifths the music is, onset by onset: the most probable way of a centre through all pitch classes, as a hidden
/// Markov model finds it (Rabiner, Proceedings of the IEEE 77/2, 1989). Tones lie around the centre as they do around a key; a centre
/// stays, or moves to a near one rather than a far one, and lies near the signature where there is one. So a whole passage gets the side
/// of the circle of fifths to which it is connected.
/// </summary>
internal static class KeyCentres
{
    private const int Lowest = -14, Count = 29;

    // A signature stands over many notes that say the same, so that for each note it counts little; chosen on the works learned from.
    private const double SignatureShare = 0.05;

    // Without a signature a centre with more accidentals than signatures have is unlikely.
    private const double Accidental = 0.05, Unlikely = -28;

    private const int UsualReach = 4;

    /// <summary>The centre at every note, in fifths from C.</summary>
    /// <param name="notes">The notes by onset.</param>
    /// <param name="known">The names of the notes in fifths where they are known, which learning needs; else null.</param>
    /// <param name="tables">The tables.</param>
    public static int[] Of(IReadOnlyList<UnspelledNote> notes, int?[]? known, SpellingTables tables)
    {
        var centres = new int[notes.Count];
        if (notes.Count == 0) return centres;
        var classes = Classes(tables);
        var starts = Starts(notes);
        var from = new byte[starts.Count * Count];
        double[] best = new double[Count], next = new double[Count];
        for (var centre = 0; centre < Count; centre++) best[centre] = First(notes[0], centre + Lowest, tables);
        for (var group = 0; group < starts.Count; group++)
        {
            if (group > 0)
            {
                Move(best, next, from.AsSpan(group * Count, Count), tables);
                (best, next) = (next, best);
            }

            var end = group + 1 < starts.Count ? starts[group + 1] : notes.Count;
            for (var i = starts[group]; i < end; i++)
                for (var centre = 0; centre < Count; centre++) best[centre] += Says(i, centre);
        }

        var last = Array.IndexOf(best, best.Max());
        for (var group = starts.Count - 1; group >= 0; group--)
        {
            var end = group + 1 < starts.Count ? starts[group + 1] : notes.Count;
            Array.Fill(centres, last + Lowest, starts[group], end - starts[group]);
            last = from[(group * Count) + last];
        }

        return centres;

        double Says(int i, int centre)
        {
            var tone = known?[i] is { } fifths ? SpellingTables.At(tables.Profile, fifths - centre - Lowest)
                : classes[notes[i].Key % 12][centre];
            return tone + (notes[i].Signature is { } signature
                ? SignatureShare * SpellingTables.At(tables.Signatures, centre + Lowest - signature)
                : -Accidental * Math.Max(0, Math.Abs(centre + Lowest - 1.5) - UsualReach));
        }
    }

    private static double First(UnspelledNote note, int centre, SpellingTables tables) => note.Signature is { } signature
        ? SpellingTables.At(tables.Signatures, centre - signature) : -Math.Abs(centre) / 3.0;

    private static void Move(double[] best, double[] next, Span<byte> from, SpellingTables tables)
    {
        for (var to = 0; to < Count; to++)
        {
            next[to] = double.MinValue;
            for (var centre = 0; centre < Count; centre++)
            {
                var distance = to - centre;
                var value = best[centre]
                    + (Math.Abs(distance) <= SpellingTables.CentresReach ? SpellingTables.At(tables.Moves, distance) : Unlikely);
                if (value <= next[to]) continue;
                (next[to], from[to]) = (value, (byte)centre);
            }
        }
    }

    // How likely each pitch class is around each centre, whatever its name.
    private static double[][] Classes(SpellingTables tables) =>
    [
        .. Enumerable.Range(0, 12).Select(key => Enumerable.Range(Lowest, Count).Select(centre => Math.Log(1e-9 + PitchSpeller
            .Names(new UnspelledNote(0, 0, 0, key, null).Fifths)
            .Where(f => Math.Abs(f - centre) <= SpellingTables.TonesReach)
            .Sum(f => Math.Exp(SpellingTables.At(tables.Profile, f - centre))))).ToArray()),
    ];

    private static List<int> Starts(IReadOnlyList<UnspelledNote> notes)
    {
        var starts = new List<int>();
        for (var i = 0; i < notes.Count; i++)
            if (i == 0 || notes[i].Onset != notes[i - 1].Onset) starts.Add(i);
        return starts;
    }
}
