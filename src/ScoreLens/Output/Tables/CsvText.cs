using System.Globalization;
using CsvHelper;
using ScoreLens.Notation;

namespace ScoreLens.Output.Tables;

/// <summary>Tables as text by RFC 4180: comma, CRLF, quotes where a cell needs them.</summary>
internal static class CsvText
{
    public static void Write(TextWriter writer, IReadOnlyList<string> columns, IEnumerable<IReadOnlyList<string>> rows)
    {
        ArgumentNullException.ThrowIfNull(writer);
        using var csv = CsvWriter.Create(writer, new CsvWriterOptions(), leaveOpen: true);
        foreach (var row in rows.Prepend(columns)) csv.WriteRecord([.. row]);
    }

    public static IReadOnlyList<T> Read<T>(TextReader reader, IReadOnlyList<string> required, Func<CsvRow, T> read)
    {
        ArgumentNullException.ThrowIfNull(reader);
        var rows = new List<T>();
        var options = new CsvReaderOptions { MalformedData = CsvMalformedDataHandling.Throw, TrackLineNumbers = true };
        using var csv = CsvReader.Create(reader, options, leaveOpen: true);
        try
        {
            csv.ReadHeader();
            foreach (var name in required)
            {
                if (!csv.TryGetFieldIndex(name, out _))
                    throw new ScoreFormatException($"The table has no column '{name}'; its first line must name the columns.", "line 1");
            }

            while (csv.Read()) rows.Add(read(new CsvRow(csv)));
        }
        catch (CsvFormatException e)
        {
            throw new ScoreFormatException("The table is not valid CSV; save it again as comma-separated UTF-8.", $"line {e.LineNumber}",
                e);
        }

        return rows;
    }
}

/// <summary>The row at which a table's reader stands.</summary>
internal readonly struct CsvRow(CsvReader csv)
{
    public delegate bool TryParse<T>(string text, IFormatProvider? provider, out T value);

    /// <summary>The cell of a column; empty where the table has no such column.</summary>
    public string Text(string column) => csv.TryGetFieldIndex(column, out var i) && i < csv.FieldCount ? csv.GetString(i).Trim() : "";

    public bool Has(string column) => Text(column).Length > 0;

    public T Value<T>(string column, TryParse<T> parse, string expected) =>
        parse(Text(column), CultureInfo.InvariantCulture, out var value) ? value : throw Wrong(column, expected);

    public T Name<T>(string column, Func<T, string> nameOf)
        where T : struct, Enum
    {
        var text = Text(column);
        foreach (var candidate in Enum.GetValues<T>())
            if (nameOf(candidate) == text) return candidate;
        throw Wrong(column, $"one of {string.Join(", ", Enum.GetValues<T>().Select(nameOf).Where(n => n.Length > 0))}");
    }

    public double Share(string column)
    {
        var share = Value<double>(column, double.TryParse, "a number from 0 to 1");
        return share is >= 0 and <= 1 ? share : throw Wrong(column, "a number from 0 to 1");
    }

    public ScoreFormatException Wrong(string column, string expected) =>
        new($"'{Text(column)}' in column {column} is not {expected}.", $"line {csv.LineNumber}");
}
