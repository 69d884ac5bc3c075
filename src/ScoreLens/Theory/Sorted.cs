namespace ScoreLens.Theory;

/// <summary>Binary search in what is sorted.</summary>
internal static class Sorted
{
    /// <summary>The first place from which on a condition holds; <paramref name="count"/> where it holds nowhere.</summary>
    /// <param name="count">Number of places, from 0.</param>
    /// <param name="holds">Whether it holds at a place; where it holds once, it holds at every place after.</param>
    public static int FirstWhere(int count, Func<int, bool> holds)
    {
        int low = 0, high = count;
        while (low < high)
        {
            var middle = (low + high) / 2;
            if (holds(middle)) high = middle;
            else low = middle + 1;
        }

        return low;
    }
}
