using System.Globalization;
using ScoreLens.Notation;
using ScoreLens.Output.Tables;

namespace ScoreLens.Marking.Classes;

/// <summary>A student on a roster.</summary>
/// <param name="Name">The student's name.</param>
/// <param name="Identifier">What the gradebook knows the student by; empty where the roster gives none.</param>
/// <param name="File">The name of the student's folder or file, without ending; the student's name where the roster gives none.</param>
public sealed record RosterEntry(string Name, string Identifier, string File);

/// <summary>The students of a class, from a table with the columns <c>name</c> and, if wanted, <c>identifier</c> and <c>file</c>.</summary>
/// <param name="Students">The students in the order of the table.</param>
public sealed record Roster(IReadOnlyList<RosterEntry> Students)
{
    /// <summary>Reads a table.</summary>
    /// <exception cref="ScoreFormatException">The table has no column <c>name</c>, a row without a name, or one name twice.</exception>
    public static Roster Read(TextReader reader)
    {
        var students = CsvText.Read(reader, ["name"], row => row.Has("name")
            ? new RosterEntry(row.Text("name"), row.Text("identifier"), row.Has("file") ? row.Text("file") : row.Text("name"))
            : throw row.Wrong("name", "a student's name"));
        if (students.GroupBy(s => StudentNames.Plain(s.File)).FirstOrDefault(g => g.Count() > 1) is { } twice)
        {
            var names = string.Join(" and ", twice.Select(s => $"'{s.Name}'"));
            throw new ScoreFormatException($"The roster cannot tell {names} apart; give each a file of its own in the column 'file'.");
        }

        return new Roster(students);
    }

    /// <summary>The student whose folder or file has a name, however it is spaced and capitalised; null where there is none.</summary>
    public RosterEntry? Find(string name)
    {
        var plain = StudentNames.Plain(name);
        return Students.FirstOrDefault(s => StudentNames.Plain(s.File) == plain || StudentNames.Plain(s.Name) == plain);
    }

    /// <inheritdoc/>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{Students.Count} students");
}
