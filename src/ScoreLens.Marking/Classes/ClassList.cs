using System.Security.Cryptography;
using ScoreLens.Marking.Wording;

namespace ScoreLens.Marking.Classes;

/// <summary>A file that was handed in.</summary>
/// <param name="Path">The file.</param>
/// <param name="Place">Its path below the class's folder, slashes between its parts; tells whose it is.</param>
/// <param name="Time">When it was last written, in local time.</param>
public sealed record HandedInFile(string Path, string Place, DateTime Time)
{
    /// <summary>A file as it lies on disk.</summary>
    public static HandedInFile Of(string path, string place) => new(path, place, File.GetLastWriteTime(path));
}

/// <summary>A student of the class and what was handed in.</summary>
/// <param name="Name">The student's name.</param>
/// <param name="Identifier">What the gradebook knows the student by; may be empty.</param>
/// <param name="File">The file that counts; null where nothing was handed in.</param>
/// <param name="Observations">What a teacher should know: handed in twice, the same file as somebody else's, not on the roster.</param>
public sealed record ClassMember(string Name, string Identifier, HandedInFile? File, IReadOnlyList<string> Observations);

/// <summary>Who handed in what: files put together by student, with a roster or without.</summary>
public static class ClassList
{
    /// <summary>The members of a class: those of the roster in its order, then those who are not on it.</summary>
    /// <param name="files">The files.</param>
    /// <param name="roster">The roster; null where there is none.</param>
    /// <param name="namesMissing">Whether students of the roster without a file are listed.</param>
    public static IReadOnlyList<ClassMember> Of(IReadOnlyList<HandedInFile> files, Roster? roster, bool namesMissing = true)
    {
        ArgumentNullException.ThrowIfNull(files);
        var names = StudentNames.Of([.. files.Select(f => f.Place)]);
        var byStudent = files.GroupBy(f => Key(names[f.Place], roster), StringComparer.Ordinal)
            .ToDictionary(g => g.Key, g => g.ToList(), StringComparer.Ordinal);
        var members = new List<ClassMember>();
        foreach (var student in roster?.Students ?? [])
        {
            if (byStudent.Remove(Key(student.File, roster), out var own)) members.Add(Member(student.Name, student.Identifier, own, []));
            else if (namesMissing) members.Add(new ClassMember(student.Name, student.Identifier, null, []));
        }

        string[] extra = roster is null ? [] : [ClassWords.NotOnRoster];
        var others = files.Select(f => Key(names[f.Place], roster)).Distinct().Where(byStudent.ContainsKey)
            .Select(k => Member(names[byStudent[k][0].Place], "", byStudent[k], extra));
        return WithCopies([.. members, .. others]);
    }

    private static string Key(string name, Roster? roster) => StudentNames.Plain(roster?.Find(name)?.File ?? name);

    // The latest counts; of files of one time the last by name.
    private static ClassMember Member(string name, string identifier, List<HandedInFile> files, string[] observations)
    {
        var inOrder = files.OrderBy(f => f.Time).ThenBy(f => f.Place, StringComparer.Ordinal).ToList();
        if (files.Count > 1) observations = [.. observations, ClassWords.HandedInTwice(inOrder)];
        return new ClassMember(name, identifier, inOrder[^1], observations);
    }

    private static List<ClassMember> WithCopies(List<ClassMember> members)
    {
        var digests = members.Where(m => m.File is not null).GroupBy(m => Digest(m.File!.Path))
            .Where(g => g.Key.Length > 0 && g.Count() > 1);
        foreach (var group in digests)
        {
            foreach (var member in group)
            {
                var others = group.Where(o => o != member).Select(o => o.Name);
                members[members.IndexOf(member)] = member with { Observations = [.. member.Observations, ClassWords.SameFile(others)] };
            }
        }

        return members;
    }

    private static string Digest(string path)
    {
        try
        {
            using var stream = File.OpenRead(path);
            return stream.Length == 0 ? "" : Convert.ToHexString(SHA256.HashData(stream));
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            // What cannot be opened is reported where it is marked.
            return "";
        }
    }
}
