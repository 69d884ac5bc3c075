using System.Globalization;
using System.Numerics;
using System.Text;
using Xunit;
using static ScoreLens.Tests.Cli.ScratchFolder;

namespace ScoreLens.Tests.Cli;

/// <summary>
/// What audit, compare and the phrases' table say is derived again from chords.csv by code that shares nothing with the
/// program: its own CSV reader, its own fractions, its own sums.
/// </summary>
public sealed class AuditTests
{
    public static TheoryData<string> Scores => [.. Directory.EnumerateFiles(Places.TestData, "*.musicxml", SearchOption.AllDirectories)
        .Select(f => Path.GetRelativePath(Places.TestData, f))
        .Where(f => !f.StartsWith("homework", StringComparison.Ordinal) && !f.StartsWith("exercises", StringComparison.Ordinal))
        .Order(StringComparer.Ordinal)];

    [Theory]
    [MemberData(nameof(Scores))]
    public void Phrases_shares_and_verdicts_follow_from_the_table_of_chords(string score)
    {
        using var folder = new ScratchFolder();
        var name = Path.GetFileNameWithoutExtension(score);
        Assert.Equal(0, Run("annotate", Path.Combine(Places.TestData, score), "--out", folder.At("out"), "--band", "10-25").Status);
        var table = folder.At("out", name + ".chords.csv");
        var chords = Table.Read(File.ReadAllText(table));
        var phrases = Table.Read(File.ReadAllText(folder.At("out", name + ".phrases.csv")));
        var (status, output, _) = Run("audit", table, "--band", "10-25", "--csv");
        var audit = Table.Read(output);
        Assert.NotEmpty(phrases);
        Assert.Equal(phrases.Count, audit.Count);
        var left = false;
        for (var i = 0; i < phrases.Count; i++)
        {
            var (start, end) = (Ratio.Parse(phrases[i]["start"]), Ratio.Parse(phrases[i]["end"]));
            // Phrases follow each other without gap or overlap.
            if (i > 0) Assert.Equal(Ratio.Parse(phrases[i - 1]["end"]), start);
            Assert.True(start < end);
            var derived = Derive(chords, start, end);
            var verdict = derived.Outside * new Ratio(100, 1) > derived.Quarters * new Ratio(25, 1) ? "above"
                : derived.Outside * new Ratio(100, 1) < derived.Quarters * new Ratio(10, 1) ? "below" : "within";
            left |= verdict != "within";
            Assert.Equal(derived.Quarters, Ratio.Parse(phrases[i]["quarters"]));
            Assert.Equal(derived.Count.ToString(CultureInfo.InvariantCulture), phrases[i]["chords"]);
            foreach (var row in (Dictionary<string, string>[])[phrases[i], audit[i]])
            {
                Near(derived.Outside, derived.Quarters, row["outside_time"]);
                Near(derived.Home, derived.Quarters, row["outside_home_time"]);
                Near(new Ratio(derived.OutsideCount, 1), new Ratio(derived.Count, 1), row["outside_chords"]);
                Assert.Equal(verdict, row["verdict"]);
            }

            foreach (var (device, time) in derived.Devices) Near(time, derived.Quarters, phrases[i][device]);
            var listed = audit[i]["chords"].Split("; ", StringSplitOptions.RemoveEmptyEntries).Select(c => c.Split(' ')[0]);
            Assert.Equal(derived.Numerals, listed);
            Assert.Equal(derived.HeldOver, audit[i]["held_over"].Split(' ')[0]);
            foreach (var chord in chords)
            {
                var onset = Ratio.Parse(chord["onset"]);
                if (!(onset < start) && onset < end) Assert.Equal(phrases[i]["phrase"], chord["phrase"]);
            }
        }

        Assert.Equal(left ? 1 : 0, status);
        Assert.Equal(output, Run("audit", Path.Combine(Places.TestData, score), "--band", "10-25", "--csv").Output);
    }

    [Fact]
    public void Compare_adds_up_to_the_tables_of_chords_in_the_given_order()
    {
        using var folder = new ScratchFolder();
        var scores = Scores.Select(s => Path.Combine(Places.TestData, s.Data)).Reverse().ToArray();
        var (status, output, error) = Run(["compare", .. scores, "--out", folder.At("out")]);
        Assert.Equal((0, ""), (status, error));
        Assert.StartsWith("<!DOCTYPE html>", File.ReadAllText(folder.At("out", "comparison.page.html")),
            StringComparison.OrdinalIgnoreCase);
        var rows = Table.Read(File.ReadAllText(folder.At("out", "comparison.csv")));
        Assert.Equal(scores.Select(Path.GetFileNameWithoutExtension), rows.Select(r => r["cue"]));
        for (var i = 0; i < rows.Count; i++)
        {
            Assert.Contains(rows[i]["cue"], output, StringComparison.Ordinal);
            Run("annotate", scores[i], "--out", folder.At("tables"));
            var chords = Table.Read(File.ReadAllText(folder.At("tables", rows[i]["cue"] + ".chords.csv")));
            var derived = Derive(chords, new Ratio(0, 1), new Ratio(1_000_000, 1));
            Near(derived.Outside, derived.Quarters, rows[i]["outside_time"]);
            Near(derived.Home, derived.Quarters, rows[i]["outside_home_time"]);
            foreach (var (device, time) in derived.Devices) Near(time, derived.Quarters, rows[i][device]);
        }

        var again = Run(["compare", .. rows.Select(r => folder.At("tables", r["cue"] + ".chords.csv")), "--out", folder.At("again")]);
        Assert.Equal(0, again.Status);
        var fromTables = Table.Read(File.ReadAllText(folder.At("again", "comparison.csv")));
        Assert.Equal(rows.Select(r => (r["cue"], r["outside_time"], r["verdict"], r["characteristic"])),
            fromTables.Select(r => (r["cue"], r["outside_time"], r["verdict"], r["characteristic"])));
    }

    [Fact]
    public void A_band_that_holds_every_phrase_gives_status_0_and_one_line()
    {
        var (status, output, _) = Run("audit", Path.Combine(Places.TestData, "lamplight.musicxml"), "--band", "0-100");
        Assert.Equal(0, status);
        Assert.Contains("within 0-100 %", output.Split('\n')[0], StringComparison.Ordinal);
        Assert.DoesNotContain("above", output, StringComparison.Ordinal);
    }

    [Fact]
    public void Plain_phrases_in_a_row_are_one_line()
    {
        var (status, output, _) = Run("audit", Path.Combine(Places.TestData, "lamplight.musicxml"), "--band", "90-100");
        Assert.Equal(1, status);
        Assert.Single(output.Split('\n'), line => line.TrimStart().StartsWith("below", StringComparison.Ordinal));
    }

    [Fact]
    public void A_table_of_phrases_in_place_of_chords_is_refused_with_what_to_do()
    {
        using var folder = new ScratchFolder();
        Run("annotate", folder.Score("cue.musicxml"), "--out", folder.At("out"));
        var (status, _, error) = Run("audit", folder.At("out", "cue.phrases.csv"));
        Assert.Equal(3, status);
        Assert.Contains("chords.csv", error, StringComparison.Ordinal);
    }

    private static Sums Derive(IReadOnlyList<Dictionary<string, string>> chords, Ratio start, Ratio end)
    {
        var sums = new Sums();
        foreach (var chord in chords)
        {
            var from = Ratio.Parse(chord["onset"]);
            var to = from + Ratio.Parse(chord["duration"]);
            if (chord["numeral"].Length == 0 || !(start < to) || !(from < end)) continue;
            var begins = !(from < start);
            var time = (to < end ? to : end) + ((begins ? from : start) * new Ratio(-1, 1));
            sums.Quarters += time;
            if (begins) sums.Count++;
            if (chord["outside_home"] == "1") sums.Home += time;
            if (chord["device"].Length == 0) continue;
            sums.Outside += time;
            if (begins) sums.OutsideCount++;
            sums.Devices[chord["device"]] = sums.Devices.GetValueOrDefault(chord["device"], new Ratio(0, 1)) + time;
            if (begins) sums.Numerals.Add(chord["numeral"]);
            else if (sums.HeldOver.Length == 0) sums.HeldOver = chord["numeral"];
        }

        return sums;
    }

    private static void Near(Ratio part, Ratio whole, string cell)
    {
        var share = whole.Top.IsZero ? 0 : (double)(part.Top * whole.Bottom) / (double)(part.Bottom * whole.Top);
        Assert.Equal(share, double.Parse(cell, CultureInfo.InvariantCulture), 6);
    }

    private sealed class Sums
    {
        public Ratio Quarters { get; set; } = new(0, 1);

        public Ratio Outside { get; set; } = new(0, 1);

        public Ratio Home { get; set; } = new(0, 1);

        public int Count { get; set; }

        public int OutsideCount { get; set; }

        public Dictionary<string, Ratio> Devices { get; } = [];

        public List<string> Numerals { get; } = [];

        public string HeldOver { get; set; } = "";
    }

    private readonly record struct Ratio
    {
        public Ratio(BigInteger top, BigInteger bottom)
        {
            var common = BigInteger.GreatestCommonDivisor(top, bottom);
            (Top, Bottom) = (top / common, bottom / common);
        }

        public BigInteger Top { get; }

        public BigInteger Bottom { get; }

        public static Ratio operator +(Ratio a, Ratio b) => new((a.Top * b.Bottom) + (b.Top * a.Bottom), a.Bottom * b.Bottom);

        public static Ratio operator *(Ratio a, Ratio b) => new(a.Top * b.Top, a.Bottom * b.Bottom);

        public static bool operator <(Ratio a, Ratio b) => a.Top * b.Bottom < b.Top * a.Bottom;

        public static bool operator >(Ratio a, Ratio b) => b < a;

        public static Ratio Parse(string text)
        {
            if (text.Split('/') is [var top, var bottom]) return new Ratio(BigInteger.Parse(top, CultureInfo.InvariantCulture),
                BigInteger.Parse(bottom, CultureInfo.InvariantCulture));
            var point = text.IndexOf('.', StringComparison.Ordinal);
            return point < 0
                ? new Ratio(BigInteger.Parse(text, CultureInfo.InvariantCulture), 1)
                : new Ratio(BigInteger.Parse(text.Remove(point, 1), CultureInfo.InvariantCulture),
                    BigInteger.Pow(10, text.Length - point - 1));
        }
    }

    private static class Table
    {
        public static IReadOnlyList<Dictionary<string, string>> Read(string text)
        {
            var rows = new List<List<string>> { new() };
            var cell = new StringBuilder();
            var quoted = false;
            for (var i = 0; i < text.Length; i++)
            {
                var c = text[i];
                if (quoted && c == '"' && i + 1 < text.Length && text[i + 1] == '"') cell.Append(text[++i]);
                else if (c == '"') quoted = !quoted;
                else if (!quoted && c is ',' or '\n')
                {
                    rows[^1].Add(cell.ToString());
                    cell.Clear();
                    if (c == '\n') rows.Add([]);
                }
                else if (quoted || c != '\r') cell.Append(c);
            }

            return [.. rows.Skip(1).Where(r => r.Count > 1).Select(r => rows[0].Zip(r).ToDictionary(p => p.First, p => p.Second))];
        }
    }
}
