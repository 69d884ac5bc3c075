using System.Globalization;
using System.Net;
using System.Runtime.CompilerServices;
using System.Text;

namespace ScoreLens.Pages;

/// <summary>A piece of HTML that is safe to write out: what was text when it went in cannot become markup.</summary>
internal readonly record struct Markup(string Html)
{
    public static readonly Markup Empty = new("");

    /// <summary>Builds a piece from a template; every value in it is written as text unless it is a <see cref="Markup"/> itself.</summary>
    public static Markup Of(MarkupHandler template) => new(template.ToHtml());

    /// <summary>Text, escaped for content and for quoted attributes.</summary>
    public static Markup Text(string? text) => new(WebUtility.HtmlEncode(Printable(text ?? "")));

    public static Markup Join(IEnumerable<Markup> parts) => new(string.Concat(parts.Select(p => p.Html ?? "")));

    /// <summary>The piece where a condition holds, else nothing.</summary>
    public static Markup When(bool condition, MarkupHandler template) => condition ? Of(template) : Empty;

    public override string ToString() => Html ?? "";

    /// <summary>Control characters have no place in HTML and would end up as errors of the page.</summary>
    private static string Printable(string text) =>
        text.Any(c => char.IsControl(c) && c is not ('\n' or '\t'))
            ? string.Concat(text.Where(c => !char.IsControl(c) || c is '\n' or '\t'))
            : text;
}

/// <summary>Collects an interpolated template and escapes its values.</summary>
[InterpolatedStringHandler]
internal readonly ref struct MarkupHandler(int literalLength, int formattedCount)
{
    private readonly StringBuilder _text = new(literalLength + (16 * formattedCount));

    public void AppendLiteral(string s) => _text.Append(s);

    public void AppendFormatted(Markup value) => _text.Append(value.Html);

    public void AppendFormatted(IEnumerable<Markup> values)
    {
        foreach (var value in values) _text.Append(value.Html);
    }

    public void AppendFormatted(string? value) => _text.Append(Markup.Text(value).Html);

    public void AppendFormatted<T>(T value, string? format = null)
        where T : IFormattable => _text.Append(Markup.Text(value.ToString(format, CultureInfo.InvariantCulture)).Html);

    public string ToHtml() => _text.ToString();
}
