namespace ScoreLens.Marking.Assignments;

/// <summary>Finds the known word that a mistyped one is most like.</summary>
internal static class NearestName
{
    /// <summary>The nearest known word; null where none is near: two letters off, or a third of it.</summary>
    public static string? Of(string text, IReadOnlyCollection<string> known)
    {
        var nearest = known.Select(k => (Name: k, Distance: Distance(text, k))).OrderBy(p => p.Distance).FirstOrDefault();
        return nearest.Name is not null && nearest.Distance <= Math.Max(2, nearest.Name.Length / 3) ? nearest.Name : null;
    }

    // Levenshtein's edit distance.
    private static int Distance(string a, string b)
    {
        var row = Enumerable.Range(0, b.Length + 1).ToArray();
        for (var i = 1; i <= a.Length; i++)
        {
            var diagonal = row[0];
            row[0] = i;
            for (var j = 1; j <= b.Length; j++)
            {
                var above = row[j];
                var isSame = char.ToLowerInvariant(a[i - 1]) == char.ToLowerInvariant(b[j - 1]);
                row[j] = Math.Min(Math.Min(above, row[j - 1]) + 1, diagonal + (isSame ? 0 : 1));
                diagonal = above;
            }
        }

        return row[^1];
    }
}
