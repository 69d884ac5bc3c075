using System.CommandLine;
using System.Globalization;
using ScoreLens.Density;
using ScoreLens.Devices;
using ScoreLens.Output.Tables;
using ScoreLens.Theory;

namespace ScoreLens.Benchmarks;

/// <summary>
/// Compares the tables that <c>annotate</c> wrote before a change to the program and after it: for what share of the time key, numeral or
/// device changed, score by score, and on request each place.
/// </summary>
internal static class ChangesCommand
{
    private const string Suffix = ".chords.csv";

    public static Command Create()
    {
        var before = new Argument<string>("BEFORE") { Description = "A folder that the earlier program's annotate has written." };
        var after = new Argument<string>("AFTER") { Description = "A folder that the present one's has written, from the same scores." };
        var list = new Option<bool>("--list") { Description = "Prints each changed place." };
        var command = new Command("changes", "Compares the chords.csv of two folders and prints what changed in the readings.")
        {
            before, after, list,
        };
        command.SetAction(parse =>
        {
            var (old, now) = (Tables(parse.GetRequiredValue(before)), Tables(parse.GetRequiredValue(after)));
            foreach (var name in old.Keys.Except(now.Keys)) Console.WriteLine($"{name}: only before");
            foreach (var name in now.Keys.Except(old.Keys)) Console.WriteLine($"{name}: only after");
            var (all, changed, scores) = (0.0, 0.0, 0);
            foreach (var name in old.Keys.Where(now.ContainsKey))
            {
                var stretches = Stretches(Read(old[name]), Read(now[name])).ToArray();
                var (total, other) = (stretches.Sum(s => s.Length), stretches.Where(s => s.IsChanged).Sum(s => s.Length));
                (all, changed) = (all + total, changed + other);
                if (other <= 0) continue;
                scores++;
                Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{name}: {100 * other / total:0.0} % of the time"));
                if (!parse.GetValue(list)) continue;
                foreach (var stretch in stretches.Where(s => s.IsChanged)) Console.WriteLine($"  {stretch}");
            }

            Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
                $"{scores} of {old.Keys.Count(now.ContainsKey)} scores changed, in {(all > 0 ? 100 * changed / all : 0):0.00} % of all time"));
        });
        return command;
    }

    private static SortedDictionary<string, string> Tables(string folder) => new(
        Directory.GetFiles(folder, $"*{Suffix}", SearchOption.AllDirectories).ToDictionary(
            f => Path.GetRelativePath(folder, f)[..^Suffix.Length].Replace('\\', '/'), StringComparer.Ordinal), StringComparer.Ordinal);

    private static IReadOnlyList<ChordRow> Read(string table)
    {
        using var text = File.OpenText(table);
        return ChordTable.Read(text);
    }

    // The time cut wherever a chord begins in either table.
    private static IEnumerable<Stretch> Stretches(IReadOnlyList<ChordRow> before, IReadOnlyList<ChordRow> after)
    {
        Fraction[] cuts =
        [
            .. before.Concat(after).SelectMany(r => new[] { r.Chord.Reading.Onset, r.Chord.Reading.End }).Distinct().Order(),
        ];
        int old = 0, now = 0;
        for (var i = 0; i + 1 < cuts.Length; i++)
        {
            while (old < before.Count && before[old].Chord.Reading.End <= cuts[i]) old++;
            while (now < after.Count && after[now].Chord.Reading.End <= cuts[i]) now++;
            yield return new Stretch(cuts[i], cuts[i + 1], At(before, old, cuts[i]), At(after, now, cuts[i]));
        }
    }

    private static ChordRow? At(IReadOnlyList<ChordRow> rows, int place, Fraction time) =>
        place < rows.Count && rows[place].Chord.Reading.Onset <= time ? rows[place] : null;

    private sealed record Stretch(Fraction From, Fraction To, ChordRow? Before, ChordRow? After)
    {
        public double Length => (To - From).ToDouble();

        public bool IsChanged => Named(Before) != Named(After);

        public override string ToString() =>
            $"m. {(After ?? Before)?.Measure}, quarter {From} to {To}: {Named(Before)} -> {Named(After)}";

        private static string Named(ChordRow? row) => row is null ? "nothing"
            : $"{row.Numeral} in {row.Chord.Reading.Key}{(row.Chord.Device is { } device ? $" ({device.Name()})" : "")}";
    }
}
