using ArchUnitNET.Domain;
using ArchUnitNET.Loader;
using ArchUnitNET.xUnitV3;
using ScoreLens.Marking;
using ScoreLens.Pages;
using ScoreLens.Reharmonising;
using Xunit;
using static ArchUnitNET.Fluent.ArchRuleDefinition;

namespace ScoreLens.Tests.Repository;

/// <summary>
/// The rooms of the library build on each other in one direction, as DEVELOPERS.md says. Between assemblies the compiler keeps the order;
/// inside one this test does, on the types that each type uses.
/// </summary>
public sealed class LayerTests
{
    private static readonly Architecture House = new ArchLoader()
        .LoadAssemblies(typeof(CueAnalysis).Assembly, typeof(CuePage).Assembly, typeof(Marker).Assembly, typeof(Reharmoniser).Assembly)
            .Build();

    // The rooms in order, and what each may know besides itself.
    private static readonly Dictionary<string, string[]> Allowed = new(StringComparer.Ordinal)
    {
        ["Theory"] = [],
        ["Notation"] = ["Theory"],
        ["Sonorities"] = ["Theory", "Notation"],
        ["Grouping"] = ["Theory", "Notation", "Sonorities"],
        ["Reading.Model"] = ["Theory", "Notation", "Sonorities", "Grouping"],
        ["Reading"] = ["Theory", "Notation", "Sonorities", "Grouping", "Reading.Model"],
        ["Phrases"] = ["Theory", "Notation", "Sonorities", "Grouping", "Reading"],
        ["Keys"] = ["Theory", "Reading", "Phrases"],
        ["Devices"] = ["Theory", "Sonorities", "Reading", "Phrases"],
        ["Density"] = ["Keys", "Theory", "Notation", "Reading", "Devices", "Phrases"],
        ["Wording"] = ["Theory", "Notation", "Reading", "Devices", "Phrases", "Density"],
        ["Output"] = ["Keys", "Theory", "Notation", "Sonorities", "Reading", "Devices", "Phrases", "Density", "Wording"],
    };

    // Files are read by Notation, and tables by Output; no stage between them touches the disk.
    private static readonly string[] TouchesNoFiles = ["Theory", "Sonorities", "Grouping", "Reading", "Keys", "Devices", "Phrases",
        "Density",
        "Wording", "Reharmonising", "Pages"];

    public static TheoryData<string> Rooms => [.. Allowed.Keys];

    public static TheoryData<string> RoomsWithoutFiles => [.. TouchesNoFiles];

    [Theory]
    [MemberData(nameof(Rooms))]
    public void A_room_knows_only_those_that_it_builds_on(string room)
    {
        var forbidden = Allowed.Keys.Where(other => other != room && !Allowed[room].Contains(other)
            && !(room == "Reading" && other == "Reading.Model")).ToArray();
        foreach (var other in forbidden)
        {
            Types().That().ResideInNamespaceMatching(In(room)).Should().NotDependOnAny(Types().That().ResideInNamespaceMatching(In(other)))
                .Because($"{room} does not build on {other}").Check(House);
        }
    }

    [Fact]
    public void Every_room_is_in_the_table()
    {
        var rooms = typeof(CueAnalysis).Assembly.GetTypes().Select(t => t.Namespace ?? "")
            .Where(n => n.StartsWith("ScoreLens.", StringComparison.Ordinal))
            .Select(n => n.Split('.')[1]).Distinct(StringComparer.Ordinal).ToArray();
        Assert.NotEmpty(rooms);
        Assert.All(rooms, room => Assert.Contains(room, Allowed.Keys));
    }

    [Theory]
    [MemberData(nameof(RoomsWithoutFiles))]
    public void Analysis_reads_and_writes_no_files(string room)
    {
        var types = typeof(CueAnalysis).Assembly.GetTypes().Concat(typeof(CuePage).Assembly.GetTypes())
            .Concat(typeof(Reharmoniser).Assembly.GetTypes())
            .Count(t => t.Namespace == "ScoreLens." + room);
        Assert.True(types > 0, $"There is no room {room}.");
        Types().That().ResideInNamespaceMatching(In(room))
            .Should().NotDependOnAny(Types(true).That()
                .HaveFullNameMatching(@"^System\.IO\.(File|Directory|FileStream|FileInfo|DirectoryInfo)$"))
            .Because("only Notation, tables, assignments and the command line touch the disk").Check(House);
    }

    // Reading's inner rooms belong to it, but for the model, which knows nothing of the search or the refinements.
    private static string In(string room) => room == "Reading"
        ? @"^ScoreLens\.Reading(\.(Search|Refinement|Written))?$"
        : @"^ScoreLens\." + room.Replace(".", @"\.", StringComparison.Ordinal) + @"(\..*)?$";
}
