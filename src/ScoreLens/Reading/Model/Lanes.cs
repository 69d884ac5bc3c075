using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace ScoreLens.Reading.Model;

/// <summary>
/// A row of sums of a panel of a <see cref="PackedMatrix"/>: one, two or three vectors, as fields, so that the compiler keeps each in a
/// register; an array would lie in memory.
/// </summary>
internal interface ILanes<TSelf>
    where TSelf : struct, ILanes<TSelf>
{
    /// <summary>How many numbers.</summary>
    static abstract int Length { get; }

    /// <summary>Takes them from where they lie one after the other.</summary>
    static abstract TSelf Load(ref float from);

    /// <summary>The sums with the weights, times one number of the input, added to them.</summary>
    static abstract TSelf Add(TSelf sums, TSelf weights, Vector256<float> input);

    /// <summary>Two rows of sums added.</summary>
    static abstract TSelf Sum(TSelf a, TSelf b);

    /// <summary>Writes them, none below a floor.</summary>
    static abstract void Store(TSelf sums, Vector256<float> floor, ref float to);
}

/// <summary>Eight numbers.</summary>
internal readonly struct OneLane(Vector256<float> first) : ILanes<OneLane>
{
    private readonly Vector256<float> _first = first;

    public static int Length => 8;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static OneLane Load(ref float from) => new(Vector256.LoadUnsafe(ref from));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static OneLane Add(OneLane sums, OneLane weights, Vector256<float> input) =>
        new(Vector256.FusedMultiplyAdd(input, weights._first, sums._first));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static OneLane Sum(OneLane a, OneLane b) => new(a._first + b._first);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static void Store(OneLane sums, Vector256<float> floor, ref float to) => Vector256.MaxNative(sums._first, floor)
        .StoreUnsafe(ref to);
}

/// <summary>Sixteen numbers.</summary>
internal readonly struct TwoLanes(Vector256<float> first, Vector256<float> second) : ILanes<TwoLanes>
{
    private readonly Vector256<float> _first = first, _second = second;

    public static int Length => 16;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static TwoLanes Load(ref float from) => new(Vector256.LoadUnsafe(ref from), Vector256.LoadUnsafe(ref from, 8));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static TwoLanes Add(TwoLanes sums, TwoLanes weights, Vector256<float> input) => new(
        Vector256.FusedMultiplyAdd(input, weights._first, sums._first),
        Vector256.FusedMultiplyAdd(input, weights._second, sums._second));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static TwoLanes Sum(TwoLanes a, TwoLanes b) => new(a._first + b._first, a._second + b._second);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static void Store(TwoLanes sums, Vector256<float> floor, ref float to)
    {
        Vector256.MaxNative(sums._first, floor).StoreUnsafe(ref to);
        Vector256.MaxNative(sums._second, floor).StoreUnsafe(ref to, 8);
    }
}

/// <summary>Twenty-four numbers.</summary>
internal readonly struct ThreeLanes(Vector256<float> first, Vector256<float> second, Vector256<float> third) : ILanes<ThreeLanes>
{
    private readonly Vector256<float> _first = first, _second = second, _third = third;

    public static int Length => 24;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static ThreeLanes Load(ref float from) =>
        new(Vector256.LoadUnsafe(ref from), Vector256.LoadUnsafe(ref from, 8), Vector256.LoadUnsafe(ref from, 16));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static ThreeLanes Add(ThreeLanes sums, ThreeLanes weights, Vector256<float> input) => new(
        Vector256.FusedMultiplyAdd(input, weights._first, sums._first),
        Vector256.FusedMultiplyAdd(input, weights._second, sums._second),
        Vector256.FusedMultiplyAdd(input, weights._third, sums._third));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static ThreeLanes Sum(ThreeLanes a, ThreeLanes b) => new(a._first + b._first, a._second + b._second, a._third + b._third);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static void Store(ThreeLanes sums, Vector256<float> floor, ref float to)
    {
        Vector256.MaxNative(sums._first, floor).StoreUnsafe(ref to);
        Vector256.MaxNative(sums._second, floor).StoreUnsafe(ref to, 8);
        Vector256.MaxNative(sums._third, floor).StoreUnsafe(ref to, 16);
    }
}
