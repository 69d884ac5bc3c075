using ScoreLens.Theory;

namespace ScoreLens.TestKit.Truth;

/// <summary>A row of <c>chords.csv</c> as it was written, read back without the library's own table reader.</summary>
internal sealed record TableRow(
    Fraction Onset, Fraction End, string Measure, Key Key, Numeral? Numeral, string Device, string Target, string Resolution, string Reason)
{
    private static readonly string[] Columns =
        ["onset", "duration", "measure", "key", "numeral", "device", "target", "resolution", "reason"];

    /// <summary>The rows of a table that name a chord, in order.</summary>
    public static IReadOnlyList<TableRow> Read(TextReader table) =>
        [.. CsvFile.Read(table, Columns).Select(Parse).Where(r => r.Numeral is not null)];

    /// <summary>The pitch class of the root, 0 to 11.</summary>
    public int Root => Numeral!.Root(Key).PitchClass;

    /// <summary>The pitch class of the bass, 0 to 11.</summary>
    public int Bass => Numeral!.Bass(Key).PitchClass;

    /// <summary>The pitch classes of the chord as the numeral has them.</summary>
    public IReadOnlyList<int> Members => [.. Numeral!.Tones(Key).Select(t => t.PitchClass)];

    public ChordQuality Quality => Numeral!.Quality;

    public bool IsDiminished => Quality is ChordQuality.Diminished or ChordQuality.DiminishedSeventh or ChordQuality.HalfDiminishedSeventh;

    /// <summary>Whether the triad is a major one, with or without a seventh.</summary>
    public bool IsMajor => Quality is ChordQuality.Major or ChordQuality.DominantSeventh or ChordQuality.MajorSeventh;

    public bool IsMinor => Quality is ChordQuality.Minor or ChordQuality.MinorSeventh or ChordQuality.MinorMajorSeventh;

    /// <summary>Whether another row is the same harmony, in another inversion or with a seventh more.</summary>
    public bool IsSameHarmony(TableRow other)
    {
        if (Quality == ChordQuality.DiminishedSeventh && other.Quality == ChordQuality.DiminishedSeventh)
            return Members.Order().SequenceEqual(other.Members.Order());
        if (Quality.IsAugmentedSixth() && other.Quality.IsAugmentedSixth()) return Members[0] == other.Members[0];
        if (Numeral!.Kind == NumeralKind.CadentialSixFour || other.Numeral!.Kind == NumeralKind.CadentialSixFour)
            return Numeral == other.Numeral && Key == other.Key;
        return Root == other.Root && Members.Take(3).All(other.Members.Contains);
    }

    private static TableRow Parse(IReadOnlyDictionary<string, string> cells)
    {
        var onset = Fraction.Parse(cells["onset"]);
        var key = Key.Parse(cells["key"]);
        return new TableRow(
            onset, onset + Fraction.Parse(cells["duration"]), cells["measure"], key,
            cells["numeral"].Length == 0 ? null : Numeral.Parse(cells["numeral"]),
            cells["device"], cells["target"], cells["resolution"], cells["reason"]);
    }
}
