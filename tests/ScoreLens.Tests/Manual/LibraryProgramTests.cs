using System.Globalization;
using System.Text.RegularExpressions;
using ScoreLens.Manual;
using ScoreLens.Tests.Cli;
using Xunit;

namespace ScoreLens.Tests.Manual;

/// <summary>
/// The programs of docs/library.md, compiled in a project that sees the public surface alone: each runs, from the repository's folder, and
/// the page shows it as it stands there between the marks.
/// </summary>
public sealed partial class LibraryProgramTests
{
    private const string Source = "tests/ScoreLens.Manual/LibraryPrograms.cs";

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
    public void No_assembly_opens_its_internals_to_the_programs()
    {
        var programs = typeof(LibraryPrograms).Assembly.GetName().Name!;
        var opened = new[] { typeof(CueAnalysis) }.SelectMany(t => t.Assembly.GetCustomAttributes(false))
            .OfType<System.Runtime.CompilerServices.InternalsVisibleToAttribute>().Select(a => a.AssemblyName);
        Assert.DoesNotContain(programs, opened);
    }

    [Fact]
    public void Open() => Assert.Contains("12 measures", Printed(p => p.Open()), StringComparison.Ordinal);

    [Fact]
    public void Look()
    {
        var printed = Printed(p => p.Look());
        Assert.Contains("Ger65 in F major. ", printed, StringComparison.Ordinal);
        Assert.Contains("phrase 3 ends in F major with PAC", printed, StringComparison.Ordinal);
    }

    [Fact]
    public void Write()
    {
        using var scratch = new ScratchFolder();
        Printed(p => p.Write(), scratch.Root);
        Assert.Equal(2, Directory.GetFiles(scratch.Root).Length);
    }

    [Fact]
    public void Compare() =>
        Assert.Contains("2m1-the-storm-stair: 37.5 %, above the band", Printed(p => p.Compare()), StringComparison.Ordinal);

    [Fact]
    public void Theory()
    {
        var printed = Printed(p => p.Theory());
        Assert.Contains("Ger65 in C minor: ", printed, StringComparison.Ordinal);
        Assert.Contains("V65/V in C minor: D7/F#", printed, StringComparison.Ordinal);
    }

    private static string Printed(Action<LibraryPrograms> run, string folder = "")
    {
        using var output = new StringWriter(CultureInfo.InvariantCulture);
        run(new LibraryPrograms(output, Places.Root, folder));
        return output.ToString();
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
