using System.Diagnostics;
using System.Globalization;
using System.Text.Json;
using ScoreLens.Theory;
using Xunit;

namespace ScoreLens.Tests.Theory;

/// <summary>
/// Numerals mean what the corpus's <c>evaluate.py</c> says they mean: every form in the experts' references is read by both, and
/// what we write is read by the script as the same chord.
/// </summary>
public sealed class EvaluateScriptTests
{
    private const string Script = """
        import csv, glob, importlib.util, json, os, sys
        spec = importlib.util.spec_from_file_location('evaluate', sys.argv[1]); ev = importlib.util.module_from_spec(spec); spec.loader.exec_module(ev)
        def show(c):
            return None if c is None else dict(root=c.root, quality=c.quality, inversion=c.inv, applied=c.applied)
        if len(sys.argv) > 2:
            seen = set()
            for path in glob.glob(os.path.join(sys.argv[2], '**', 'reference.csv'), recursive=True):
                for row in csv.DictReader(open(path, encoding='utf-8-sig', newline='')):
                    if row['numeral'].strip(): seen.add((row['numeral'].strip(), row['key'].split()[1].lower()))
            print(json.dumps([dict(text=t, mode=m, chord=show(ev.parse_numeral(t, 0, m))) for t, m in sorted(seen)]))
        else:
            print(json.dumps([show(ev.parse_numeral(q['text'], 0, q['mode'], explicit=True)) for q in json.load(sys.stdin)]))
        """;

    [Fact]
    public void Every_numeral_of_the_references_is_read_as_the_script_reads_it()
    {
        var corpus = SharedFiles.At("corpus");
        var references = Run([SharedFiles.At("corpus", "evaluate.py"), corpus], "").EnumerateArray().ToList();
        Assert.True(references.Count > 500, $"only {references.Count} numerals were found");
        var wrong = new List<string>();
        foreach (var reference in references)
        {
            var (text, mode) = (reference.GetProperty("text").GetString()!, ModeOf(reference));
            var theirs = reference.GetProperty("chord");
            var ours = Numeral.TryParseByScale(text, mode, out var numeral) ? Describe(numeral, mode) : "no chord";
            if (ours != Describe(theirs)) wrong.Add($"{text} in {mode}: ours {ours}, theirs {Describe(theirs)}");
        }

        Assert.True(wrong.Count == 0, $"{wrong.Count} of {references.Count} numerals differ:\n{string.Join('\n', wrong.Take(40))}");
    }

    [Fact]
    public void Every_numeral_that_we_write_is_read_by_the_script_as_the_same_chord()
    {
        var script = SharedFiles.At("corpus", "evaluate.py");
        var numerals = Written().ToList();
        var questions = JsonSerializer.Serialize(numerals.Select(n =>
            new { text = n.Numeral.ToString(), mode = n.Mode == Mode.Major ? "major" : "minor" }));
        var answers = Run([script], questions).EnumerateArray().ToList();
        var wrong = numerals.Zip(answers)
            .Where(p => Describe(p.First.Numeral, p.First.Mode) != Describe(p.Second))
            .Select(p => $"{p.First.Numeral} in {p.First.Mode}: ours {Describe(p.First.Numeral, p.First.Mode)}, theirs "
                + $"{Describe(p.Second)}")
            .ToList();
        Assert.True(wrong.Count == 0, $"{wrong.Count} of {numerals.Count} numerals differ:\n{string.Join('\n', wrong.Take(40))}");
    }

    // Every degree, accidental, quality and inversion in both modes, and each once applied.
    private static IEnumerable<(Numeral Numeral, Mode Mode)> Written()
    {
        AppliedTarget?[] targets = [null, new(0, 5, Mode.Major), new(0, 2, Mode.Minor), new(-1, 6, Mode.Major), new(0, 7, Mode.Minor),
            new(0, 5, Mode.Major, new(0, 3, Mode.Minor))];
        foreach (var mode in (Mode[])[Mode.Major, Mode.Minor])
        {
            foreach (var target in targets)
            {
                var local = target?.Mode ?? mode;
                yield return (Numeral.CadentialSixFour(local, target), mode);
                foreach (var quality in Enum.GetValues<ChordQuality>())
                {
                    for (var inversion = 0; inversion < quality.Members().Length; inversion++)
                    {
                        if (quality.IsAugmentedSixth())
                        {
                            yield return (Numeral.AugmentedSixth(quality, inversion, target), mode);
                            continue;
                        }

                        for (var degree = 1; degree <= 7; degree++)
                            for (var alteration = -1; alteration <= 1; alteration++)
                                yield return (new Numeral(degree, quality, inversion, alteration, target), mode);
                    }
                }
            }
        }
    }

    private static Mode ModeOf(JsonElement reference) => reference.GetProperty("mode").GetString() == "minor" ? Mode.Minor : Mode.Major;

    private static string Describe(Numeral numeral, Mode mode)
    {
        // The script compares by fifths above the tonic; an augmented sixth's root is the raised fourth for both.
        var applied = numeral.Target is { } target ? $"{target.FifthsAbove(mode)}" : "none";
        return $"root {numeral.RootFifths(mode)} {Code(numeral.Quality)} inversion {numeral.Inversion} applied {applied}";
    }

    private static string Describe(JsonElement chord)
    {
        if (chord.ValueKind == JsonValueKind.Null) return "no chord";
        var applied = chord.GetProperty("applied");
        return $"root {chord.GetProperty("root").GetInt32()} {chord.GetProperty("quality").GetString()} inversion "
            + $"{chord.GetProperty("inversion").GetInt32()} "
            + (applied.ValueKind == JsonValueKind.Null ? "applied none" : string.Create(CultureInfo.InvariantCulture,
                $"applied {applied.GetInt32()}"));
    }

    private static string Code(ChordQuality quality) => quality switch
    {
        ChordQuality.Major => "M",
        ChordQuality.Minor => "m",
        ChordQuality.Diminished => "o",
        ChordQuality.Augmented => "+",
        ChordQuality.MajorSeventh => "M7",
        ChordQuality.DominantSeventh => "7",
        ChordQuality.MinorSeventh => "m7",
        ChordQuality.HalfDiminishedSeventh => "ø7",
        ChordQuality.DiminishedSeventh => "o7",
        ChordQuality.AugmentedSeventh => "+7",
        ChordQuality.AugmentedMajorSeventh => "+M7",
        ChordQuality.MinorMajorSeventh => "mM7",
        ChordQuality.ItalianSixth => "It",
        ChordQuality.FrenchSixth => "Fr",
        _ => "Ger",
    };

    private static JsonElement Run(string[] arguments, string input)
    {
        var start = new ProcessStartInfo("python3", ["-c", Script, .. arguments])
        {
            RedirectStandardInput = true,
            RedirectStandardOutput = true
        };
        Process? process = null;
        try
        {
            process = Process.Start(start);
        }
        catch (System.ComponentModel.Win32Exception)
        {
            Assert.Skip("python3 is not installed.");
        }

        using (process)
        {
            var output = process!.StandardOutput.ReadToEndAsync();
            process.StandardInput.Write(input);
            process.StandardInput.Close();
            process.WaitForExit();
            Assert.Equal(0, process.ExitCode);
            return JsonDocument.Parse(output.Result).RootElement.Clone();
        }
    }
}
