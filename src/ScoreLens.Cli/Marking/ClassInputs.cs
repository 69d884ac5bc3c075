using ScoreLens.Cli.Shared;
using ScoreLens.Marking;
using ScoreLens.Marking.Classes;

namespace ScoreLens.Cli.Marking;

/// <summary>The inputs of a class, put together by student.</summary>
internal sealed class ClassInputs
{
    private readonly IReadOnlyList<ClassMember> _members;
    private readonly Dictionary<string, ScoreInput> _inputs;
    private readonly string _folder;

    private ClassInputs(IReadOnlyList<ClassMember> members, Dictionary<string, ScoreInput> inputs, string folder) =>
        (_members, _inputs, _folder) = (members, inputs, folder);

    /// <summary>The names of all students.</summary>
    public IReadOnlyList<string> Names => [.. _members.Select(m => m.Name)];

    /// <summary>The inputs that count, one a student.</summary>
    public IReadOnlyList<ScoreInput> Chosen => [.. _members.Where(m => m.File is not null).Select(m => _inputs[m.File!.Path])];

    /// <summary>Puts inputs together; files of the names of those that belong to the assignment are no students.</summary>
    public static ClassInputs Of(IReadOnlyList<ScoreInput> inputs, string folder, IEnumerable<string> others, Roster? roster)
    {
        var reserved = others.Select(Path.GetFileName).ToHashSet(StringComparer.OrdinalIgnoreCase);
        var students = inputs.Where(i => !reserved.Contains(Path.GetFileName(i.Path))).ToList();
        var files = students.Select(i => HandedInFile.Of(i.Path, Place(folder, i))).ToList();
        return new ClassInputs(ClassList.Of(files, roster), students.ToDictionary(i => i.Path), folder);
    }

    /// <summary>The student whose file an input is.</summary>
    public ClassMember MemberOf(ScoreInput input) => _members.First(m => m.File?.Path == input.Path);

    /// <summary>All submissions in the order of the class, the missing among them.</summary>
    public IReadOnlyList<MarkedSubmission> InOrder(IReadOnlyList<MarkedSubmission> marked, Marker marker)
    {
        var byName = marked.ToDictionary(m => m.Name);
        return [.. _members.Select(m => m.File is null ? marker.Missing(m) : byName.GetValueOrDefault(m.Name)).OfType<MarkedSubmission>()];
    }

    /// <summary>Address of a student's feedback page, relative to the class's page.</summary>
    public string FeedbackOf(string student) =>
        string.Join('/', Relative(InputOf(student), "feedback.html").Split('/').Select(Uri.EscapeDataString));

    /// <summary>The result files of submissions, below the class's folder.</summary>
    public IReadOnlyCollection<string> ResultsOf(IEnumerable<MarkedSubmission> submissions) =>
    [
        .. submissions.Where(s => s.IsMarked).Select(s => InputOf(s.Name))
            .SelectMany(i => new[] { Relative(i, "feedback.html"), Relative(i, "marked" + Path.GetExtension(i.Path)) }),
    ];

    private ScoreInput InputOf(string student) => _inputs[_members.First(m => m.Name == student).File!.Path];

    private string Relative(ScoreInput input, string ending) =>
        Path.GetRelativePath(_folder, Path.Combine(input.Folder, $"{input.Name}.{ending}")).Replace('\\', '/');

    private static string Place(string folder, ScoreInput input) =>
        Path.GetRelativePath(folder, Path.Combine(input.Folder, Path.GetFileName(input.Path))).Replace('\\', '/');
}
