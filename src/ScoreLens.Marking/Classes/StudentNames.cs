using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;

namespace ScoreLens.Marking.Classes;

/// <summary>Whose work a file is, by where it lies and what it is called.</summary>
internal static partial class StudentNames
{
    // With more files than these a folder is a class of its own: one student does not hand in so often.
    private const int MostOfOneStudent = 3;

    /// <summary>
    /// The name of the student of each file: of files that lie in the class's own folder, the file's name; of files in a folder
    /// inside it, that folder's. A folder with more than three files, or with folders inside, is a class of its own.
    /// </summary>
    /// <param name="files">Files, each with its path below the class's folder, slashes between its parts.</param>
    public static IReadOnlyDictionary<string, string> Of(IReadOnlyCollection<string> files)
    {
        var perFolder = files.GroupBy(FolderOf).ToDictionary(g => g.Key, g => g.Count(), StringComparer.Ordinal);
        return files.ToDictionary(f => f, f =>
        {
            var folder = FolderOf(f);
            var isClass = folder.Length == 0 || perFolder[folder] > MostOfOneStudent
                || perFolder.Keys.Any(k => k.StartsWith(folder + "/", StringComparison.Ordinal));
            return isClass ? WithoutCopyNumber(Path.GetFileNameWithoutExtension(f)) : folder[(folder.LastIndexOf('/') + 1)..];
        }, StringComparer.Ordinal);
    }

    /// <summary>A name with neither accents, capitals, blanks nor punctuation, to compare names with.</summary>
    public static string Plain(string name)
    {
        var letters = name.Normalize(NormalizationForm.FormD)
            .Where(c => CharUnicodeInfo.GetUnicodeCategory(c) != UnicodeCategory.NonSpacingMark && char.IsLetterOrDigit(c));
        return string.Concat(letters).ToUpperInvariant();
    }

    // What a browser or a learning platform adds where a file of that name is there already.
    private static string WithoutCopyNumber(string name) => CopyPattern().Replace(name, "");

    private static string FolderOf(string file) => file.LastIndexOf('/') is >= 0 and var slash ? file[..slash] : "";

    [GeneratedRegex(@"\s*\(\d+\)$")]
    private static partial Regex CopyPattern();
}
