namespace ScoreLens.Reharmonising;

/// <summary>
/// Work on several items at a time, with results in the items' order. PLINQ does the same, but cannot be compiled natively.
/// </summary>
internal static class InParallel
{
    /// <summary>What becomes of each item.</summary>
    /// <exception cref="OperationCanceledException">The work was given up.</exception>
    public static TResult[] Map<T, TResult>(IEnumerable<T> items, Func<T, TResult> of, CancellationToken cancellationToken)
    {
        T[] all = [.. items];
        var results = new TResult[all.Length];
        Parallel.For(0, all.Length, new ParallelOptions { CancellationToken = cancellationToken }, i => results[i] = of(all[i]));
        return results;
    }
}
