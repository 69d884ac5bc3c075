using System.Globalization;
using ScoreLens.Marking.Classes;

namespace ScoreLens.Marking.Wording;

/// <summary>Sentences about who handed in what.</summary>
internal static class ClassWords
{
    public const string NotOnRoster = "Not on the roster.";

    public const string NothingHandedIn = "Nothing was handed in.";

    /// <summary>Which of several files counts.</summary>
    public static string HandedInTwice(IReadOnlyList<HandedInFile> inOrder)
    {
        var often = inOrder.Count == 2 ? "twice" : $"{inOrder.Count.ToString(CultureInfo.InvariantCulture)} times";
        var others = Amounts.List(inOrder.Take(inOrder.Count - 1).Select(f => f.Place));
        return $"Handed in {often}: {inOrder[^1].Place} counts, the latest; {others} {(inOrder.Count == 2 ? "does" : "do")} not.";
    }

    /// <summary>Who handed in the very same file.</summary>
    public static string SameFile(IEnumerable<string> others) => $"The same file as that of {Amounts.List(others)}.";
}
