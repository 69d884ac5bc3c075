using System.Text.Json.Serialization;

namespace ScoreLens.Pages;

/// <summary>
/// The writer of a page's data, generated when the library is compiled, so that a native build has it. Its encoder, the default one, writes
/// &lt;, &gt;, &amp; and quotes as \u escapes: data can neither end its script element nor begin a comment in it.
/// </summary>
[JsonSourceGenerationOptions(
    PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase, DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull)]
[JsonSerializable(typeof(PageData))]
[JsonSerializable(typeof(string))]
internal sealed partial class PageJson : JsonSerializerContext;
