using ScoreLens.Output.Tables;

namespace ScoreLens.TestKit;

/// <summary>The rows of a table by RFC 4180, quoted cells included, as cells by the name of their column.</summary>
internal static class CsvFile
{
    /// <summary>The named columns of a file.</summary>
    /// <exception cref="Notation.ScoreFormatException">A column is missing, or the file is no such table.</exception>
    public static IReadOnlyList<IReadOnlyDictionary<string, string>> Load(string path, params string[] columns)
    {
        using var reader = File.OpenText(path);
        return Read(reader, columns);
    }

    /// <summary>The named columns of a text.</summary>
    /// <exception cref="Notation.ScoreFormatException">A column is missing, or the text is no such table.</exception>
    public static IReadOnlyList<IReadOnlyDictionary<string, string>> Read(TextReader reader, params string[] columns) =>
        CsvText.Read<IReadOnlyDictionary<string, string>>(reader, columns, row =>
            columns.ToDictionary(c => c, c => row.Text(c), StringComparer.Ordinal));
}
