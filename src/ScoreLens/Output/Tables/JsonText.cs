using System.Text.Encodings.Web;
using System.Text.Json;

namespace ScoreLens.Output.Tables;

/// <summary>
/// Tables as JSON: UTF-8, what is empty in a table is null, and a number that has no exact decimal is a string <c>a/b</c>.
/// </summary>
internal static class JsonText
{
    private static JsonWriterOptions Options => new() { Indented = true, Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    public static byte[] Document(Action<Utf8JsonWriter> write)
    {
        using var stream = new MemoryStream();
        using (var json = new Utf8JsonWriter(stream, Options)) write(json);
        return stream.ToArray();
    }

    /// <summary>Text, or null where there is none.</summary>
    public static void Text(Utf8JsonWriter json, string name, string? text)
    {
        if (string.IsNullOrEmpty(text)) json.WriteNull(name);
        else json.WriteString(name, text);
    }

    /// <summary>A number as the tables write it.</summary>
    public static void Number(Utf8JsonWriter json, string name, string number)
    {
        json.WritePropertyName(name);
        if (number.Contains('/', StringComparison.Ordinal)) json.WriteStringValue(number);
        else json.WriteRawValue(number);
    }
}
