using System.Text.RegularExpressions;
using Xunit;

namespace ScoreLens.Tests.Repository;

/// <summary>The folders of the library build on each other in one direction, as DEVELOPERS.md says.</summary>
public sealed partial class DependencyTests
{
    // What a folder may know besides itself. Nothing but the command line knows Output.
    private static readonly Dictionary<string, string[]> Allowed = new(StringComparer.Ordinal)
    {
        ["Theory"] = [],
        ["Notation"] = ["Theory"],
        ["Sonorities"] = ["Theory", "Notation"],
        ["Grouping"] = ["Theory", "Notation", "Sonorities"],
        ["Reading"] = ["Theory", "Notation", "Sonorities", "Grouping"],
        ["Devices"] = ["Theory", "Sonorities", "Reading"],
        ["Phrases"] = ["Theory", "Notation", "Sonorities", "Grouping", "Reading"],
        ["Density"] = ["Theory", "Reading", "Devices", "Phrases"],
        ["Marking"] = ["Theory", "Notation", "Sonorities", "Reading", "Devices", "Phrases", "Density"],
        ["Reharmonising"] = ["Theory", "Notation", "Sonorities", "Reading", "Devices", "Phrases", "Density"],
        ["Output"] = ["Theory", "Notation", "Sonorities", "Reading", "Devices", "Phrases", "Density", "Marking", "Reharmonising"],
    };

    private static readonly string[] ReadsNoFiles = ["Theory", "Sonorities", "Grouping", "Reading", "Devices", "Phrases", "Density"];

    private static readonly string Library = Path.Combine(Places.Root, "src", "ScoreLens");

    public static TheoryData<string> Folders => [.. Directory.EnumerateDirectories(Library).Select(d => Path.GetFileName(d)!).Where(n => n is not ("bin" or "obj")).Order()];

    public static TheoryData<string> FoldersWithoutFiles => [.. ReadsNoFiles];

    [Theory]
    [MemberData(nameof(Folders))]
    public void A_folder_knows_only_those_that_it_builds_on(string folder)
    {
        Assert.True(Allowed.ContainsKey(folder), $"Say in this test and in DEVELOPERS.md what {folder} may know.");
        foreach (var (file, text) in Sources(folder))
        {
            foreach (Match match in NamespacePattern().Matches(text))
            {
                var known = match.Groups["folder"].Value;
                if (Allowed.ContainsKey(known) && known != folder)
                    Assert.True(Allowed[folder].Contains(known), $"{file} in {folder} must not know {known}.");
            }
        }
    }

    [Theory]
    [MemberData(nameof(FoldersWithoutFiles))]
    public void Analysis_reads_and_writes_no_files(string folder)
    {
        foreach (var (file, text) in Sources(folder))
            Assert.False(FilePattern().IsMatch(text), $"{file} in {folder} uses files; only Notation, Marking's assignments and the command line do.");
    }

    private static IEnumerable<(string File, string Text)> Sources(string folder) =>
        Directory.EnumerateFiles(Path.Combine(Library, folder), "*.cs", SearchOption.AllDirectories).Select(path => (Path.GetFileName(path), File.ReadAllText(path)));

    [GeneratedRegex(@"^using (static )?ScoreLens\.(?<folder>\w+)", RegexOptions.Multiline)]
    private static partial Regex NamespacePattern();

    [GeneratedRegex(@"\b(File|Directory|FileStream|FileInfo)\s*[.(]\s*\w")]
    private static partial Regex FilePattern();
}
