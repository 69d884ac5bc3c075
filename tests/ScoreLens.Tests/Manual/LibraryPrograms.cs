using System.Globalization;
using System.Text.RegularExpressions;
using ScoreLens.Density;
using ScoreLens.Keys;
using ScoreLens.Notation;
using ScoreLens.Output.Annotation;
using ScoreLens.Output.Tables;
using ScoreLens.Phrases;
using ScoreLens.Tests.Cli;
using ScoreLens.Theory;
using ScoreLens.Wording;
using Xunit;

namespace ScoreLens.Tests.Manual;

/// <summary>
/// The programs of docs/library.md: each runs here, from the repository's folder, and the page shows it as it stands between the marks.
/// </summary>
public sealed partial class LibraryPrograms
{
    private const string Source = "tests/ScoreLens.Tests/Manual/LibraryPrograms.cs";

    public static TheoryData<string> Names => ["open", "look", "write", "compare", "theory"];

    [Theory]
    [MemberData(nameof(Names))]
    public void The_page_shows_what_runs_here(string name)
    {
        var ran = File.ReadAllLines(At(Source)).SkipWhile(l => l.Trim() != $"//// {name}").Skip(1)
            .TakeWhile(l => l.Trim() != "//// end").Select(l => l.Length > 8 ? PlacePattern().Replace(l[8..], "$1") : "");
        var shown = File.ReadAllLines(At("docs/library.md")).SkipWhile(l => l != $"## {Heading(name)}")
            .SkipWhile(l => l != "```csharp").Skip(1).TakeWhile(l => l != "```");
        Assert.Equal(ran, shown);
    }

    [Fact]
    public void Open()
    {
        using var Console = new StringWriter(CultureInfo.InvariantCulture);
        //// open
        using var stream = File.OpenRead(At("testdata/lamplight.musicxml"));
        try
        {
            var file = ScoreFile.Load(stream);
            foreach (var warning in file.Warnings) Console.WriteLine(warning.ToDisplayString());
            Console.WriteLine($"{file.Score.Title}: {file.Score.Measures.Count} measures");
        }
        catch (ScoreFormatException problem)
        {
            Console.WriteLine($"This file cannot be read: {problem.Message}");
        }
        //// end
        Assert.Contains("12 measures", Console.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void Look()
    {
        using var Console = new StringWriter(CultureInfo.InvariantCulture);
        //// look
        var analysis = CueAnalysis.Of(ScoreFile.Load(At("testdata/lamplight.musicxml")).Score);
        foreach (var phrase in analysis.Phrases)
            Console.WriteLine($"phrase {phrase.Number} ends in {phrase.Key} with {phrase.Cadence.Name()}");
        foreach (var row in ChordRow.Of(analysis).Where(r => r.Chord.IsOutside))
            Console.WriteLine($"m. {row.Measure}: {row.Numeral} in {row.Chord.Reading.Key}. {ReasonText.Of(row.Chord.Reason)}");
        var shares = SharesByKeys.Of(analysis);
        Console.WriteLine($"outside the key: {ShareText.Percent(shares.Chosen)}; {KeysText.Shares(shares)}");
        //// end
        Assert.Contains("Ger65 in F major. ", Console.ToString(), StringComparison.Ordinal);
        Assert.Contains("phrase 3 ends in F major with PAC", Console.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void Write()
    {
        using var scratch = new ScratchFolder();
        var folder = scratch.Root;
        //// write
        var file = ScoreFile.Load(At("testdata/lamplight.musicxml"));
        var analysis = CueAnalysis.Of(file.Score, KeyRule.Confirm);
        var options = LabelOptions.Default with { Labels = LabelKinds.Numerals | LabelKinds.Devices };
        if (file.MusicXml is { } document)
            File.WriteAllBytes(Path.Combine(folder, "lamplight.annotated.musicxml"), AnnotatedScore.Write(document, analysis, options));
        using (var table = File.CreateText(Path.Combine(folder, "lamplight.chords.csv")))
            ChordTable.Write(ChordRow.Of(analysis), table);
        //// end
        Assert.Equal(2, Directory.GetFiles(folder).Length);
    }

    [Fact]
    public void Compare()
    {
        using var Console = new StringWriter(CultureInfo.InvariantCulture);
        //// compare
        var cues = Directory.GetFiles(At("testdata/cues"), "*.musicxml").Order(StringComparer.Ordinal)
            .Select(path => TabledCue.Of(Path.GetFileNameWithoutExtension(path), CueAnalysis.Of(ScoreFile.Load(path).Score)));
        foreach (var row in ComparisonRow.Of([.. cues], Band.Default))
            Console.WriteLine($"{row.Cue.Name}: {ShareText.Percent(row.Density.Whole.OutsideTime)}, {row.Density.Verdict.Name()} the band");
        //// end
        Assert.Contains("2m1-the-storm-stair: 37.5 %, above the band", Console.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void Theory()
    {
        using var Console = new StringWriter(CultureInfo.InvariantCulture);
        //// theory
        var key = Key.Parse("C minor");
        var sixth = Numeral.Parse("Ger65");
        Console.WriteLine($"{sixth} in {key}: {string.Join(' ', sixth.Tones(key))}");
        if (!Numeral.TryParse("V65/V", key.Mode, out var dominant)) return;
        Console.WriteLine($"{dominant} in {key}: {ChordName.Of(key, dominant)}");
        //// end
        Assert.Contains("Ger65 in C minor: ", Console.ToString(), StringComparison.Ordinal);
        Assert.Contains("V65/V in C minor: D7/F#", Console.ToString(), StringComparison.Ordinal);
    }

    private static string Heading(string name) => name switch
    {
        "open" => "Open a score",
        "look" => "Look at what was found",
        "write" => "Write labels and tables",
        "compare" => "Compare cues",
        "theory" => "Numerals and keys alone",
        _ => throw new ArgumentOutOfRangeException(nameof(name), name, "Unknown program."),
    };

    // The page is read from the repository's folder, the tests run elsewhere.
    [GeneratedRegex(@"\bAt\((""[^""]+"")\)")]
    private static partial Regex PlacePattern();

    private static string At(string path) => Path.Combine(Places.Root, path);
}
