using ScoreLens.Marking.Assignments;

namespace ScoreLens.Marking.Wording;

/// <summary>How criteria read.</summary>
internal static class CriterionWords
{
    /// <summary>Inside a sentence: <c>part writing</c>.</summary>
    public static string Name(Criterion criterion) => criterion.Name().Replace('-', ' ');

    /// <summary>As a title: <c>Part writing</c>.</summary>
    public static string Title(Criterion criterion) => Amounts.Capital(Name(criterion));
}
