using System.Globalization;
using ScoreLens.Theory;
using YamlDotNet.RepresentationModel;

namespace ScoreLens.Marking.Assignments;

/// <summary>
/// A table of an assignment file, read key by key. What is wrong is collected with its line instead of thrown, so that a
/// teacher sees every problem at once; a value that is wrong reads as absent.
/// </summary>
internal sealed class YamlTable
{
    private readonly YamlMappingNode? _node;
    private readonly List<AssignmentProblem> _problems;

    /// <summary>Opens a table and refuses keys that it does not know.</summary>
    public YamlTable(YamlNode? node, string name, List<AssignmentProblem> problems, IReadOnlyCollection<string> known)
    {
        _problems = problems;
        if (node is null or YamlScalarNode { Value: null or "" }) return;
        if (node is not YamlMappingNode mapping)
        {
            Problem(node, $"{name} takes a table of its own (key: value), indented under it.");
            return;
        }

        _node = mapping;
        foreach (var key in mapping.Children.Keys)
        {
            var text = (key as YamlScalarNode)?.Value ?? "";
            if (!known.Contains(text)) Problem(key, $"{(name.Length == 0 ? "an assignment" : name)} has no key "
                + $"'{text}'{Suggestion(text, known)}");
        }
    }

    /// <summary>Whether the table was written.</summary>
    public bool Exists => _node is not null;

    /// <summary>The keys that were written, in order.</summary>
    public IEnumerable<string> Keys => _node?.Children.Keys.OfType<YamlScalarNode>().Select(k => k.Value ?? "") ?? [];

    /// <summary>The value of a key, or null.</summary>
    public YamlNode? this[string key] =>
        _node is not null && _node.Children.TryGetValue(new YamlScalarNode(key), out var value) ? value : null;

    /// <summary>A text; null where absent.</summary>
    public string? Text(string key)
    {
        switch (this[key])
        {
            case null or YamlScalarNode { Value: null or "" }: return null;
            case YamlScalarNode scalar: return scalar.Value!.Trim();
            case var other:
                Problem(other, $"{key} takes one text.");
                return null;
        }
    }

    /// <summary>A number between two bounds; the default where absent.</summary>
    public double Number(string key, double otherwise, double lowest = 0, double highest = 100_000)
    {
        if (Text(key) is not { } text) return otherwise;
        if (double.TryParse(text, NumberStyles.AllowDecimalPoint | NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture,
            out var number)
            && number >= lowest && number <= highest) return number;
        Problem(this[key]!, $"{key} takes a number from {Plain(lowest)} to {Plain(highest)}, not '{text}'.");
        return otherwise;
    }

    /// <summary>A whole number between two bounds.</summary>
    public int Whole(string key, int otherwise, int lowest, int highest)
    {
        if (Text(key) is not { } text) return otherwise;
        if (int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var number) && number >= lowest
            && number <= highest) return number;
        Problem(this[key]!, $"{key} takes a whole number from {lowest} to {highest}, not '{text}'.");
        return otherwise;
    }

    /// <summary>A length in quarter notes.</summary>
    public Fraction Quarters(string key, Fraction otherwise)
    {
        if (Text(key) is not { } text) return otherwise;
        if (Fraction.TryParse(text, CultureInfo.InvariantCulture, out var value) && value.Sign >= 0) return value;
        Problem(this[key]!, $"{key} takes a number of quarter notes such as 0.5 or 1/3, not '{text}'.");
        return otherwise;
    }

    /// <summary>Yes or no.</summary>
    public bool Flag(string key, bool otherwise)
    {
        if (Text(key) is not { } text) return otherwise;
        if (TryFlag(text, out var flag)) return flag;
        Problem(this[key]!, $"{key} takes yes or no, not '{text}'.");
        return otherwise;
    }

    /// <summary>One of several words.</summary>
    public T Choice<T>(string key, T otherwise, params (string Name, T Value)[] choices)
    {
        if (Text(key) is not { } text) return otherwise;
        foreach (var (name, value) in choices)
            if (name == text) return value;
        var names = choices.Select(c => c.Name).ToList();
        Problem(this[key]!, $"{key} takes {string.Join(" or ", names)}, not '{text}'{Suggestion(text, names)}");
        return otherwise;
    }

    /// <summary>A table inside.</summary>
    public YamlTable Table(string key, params string[] known) => new(this[key], key, _problems, known);

    /// <summary>The items of a list; a single value is a list of one.</summary>
    public IEnumerable<YamlNode> Items(string key) => this[key] switch
    {
        null or YamlScalarNode { Value: null or "" } => [],
        YamlSequenceNode sequence => sequence.Children,
        var one => [one],
    };

    /// <summary>A list of texts.</summary>
    public IReadOnlyList<string> Texts(string key)
    {
        var texts = new List<string>();
        foreach (var item in Items(key))
        {
            if (item is YamlScalarNode { Value: { Length: > 0 } value }) texts.Add(value.Trim());
            else Problem(item, $"{key} takes a list of texts; put a text with a colon in quotation marks.");
        }

        return texts;
    }

    /// <summary>Notes a problem at a value.</summary>
    public void Problem(YamlNode at, string message) => _problems.Add(new AssignmentProblem(at.Start.Line, message));

    /// <summary>Reads yes, no, on, off, true or false.</summary>
    public static bool TryFlag(string text, out bool flag)
    {
        flag = text.ToLowerInvariant() is "yes" or "on" or "true";
        return flag || text.ToLowerInvariant() is "no" or "off" or "false";
    }

    /// <summary>The end of a sentence that names the nearest known word, or all of them where none is near.</summary>
    public static string Suggestion(string text, IReadOnlyCollection<string> known)
    {
        if (NearestName.Of(text, known) is { } nearest) return $"; did you mean '{nearest}'?";
        return known.Count is > 0 and <= 12 ? $"; it may be {string.Join(", ", known)}." : ".";
    }

    private static string Plain(double number) => number.ToString(CultureInfo.InvariantCulture);
}
