using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using System.Runtime.Intrinsics.Arm;
using System.Runtime.Intrinsics.X86;

namespace ScoreLens.Reading.Model;

/// <summary>
/// Products of whole numbers in pairs, as the processor at hand does them fastest. All ways give the same numbers.
/// </summary>
internal static class Pairs
{
    /// <summary>Sixteen numbers of eight bits, with sixteen bits each.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<short> Widen(ref sbyte from)
    {
        var eight = Vector128.LoadUnsafe(ref from);
        if (Avx2.IsSupported) return Avx2.ConvertToVector256Int16(eight);
        var (lower, upper) = Vector128.Widen(eight);
        return Vector256.Create(lower, upper);
    }

    /// <summary>The products of sixteen numbers with sixteen others, each two neighbours added.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<int> Multiply(Vector256<short> a, Vector256<short> b) => Avx2.IsSupported ? Avx2.MultiplyAddAdjacent(a, b)
        : Vector256.Create(Multiply(a.GetLower(), b.GetLower()), Multiply(a.GetUpper(), b.GetUpper()));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector128<int> Multiply(Vector128<short> a, Vector128<short> b)
    {
        if (Sse2.IsSupported) return Sse2.MultiplyAddAdjacent(a, b);
        if (AdvSimd.Arm64.IsSupported)
            return AdvSimd.Arm64.AddPairwise(AdvSimd.MultiplyWideningLower(a.GetLower(), b.GetLower()), AdvSimd.MultiplyWideningUpper(a, b));
        return InPlainCode(a, b);
    }

    /// <summary>The same in plain code, for other processors; tests hold the quick ways to it.</summary>
    internal static Vector128<int> InPlainCode(Vector128<short> a, Vector128<short> b)
    {
        var sums = Vector128<int>.Zero;
        for (var i = 0; i < Vector128<int>.Count; i++) sums = sums.WithElement(i, (a[2 * i] * b[2 * i]) + (a[(2 * i) + 1] * b[(2 * i) + 1]));
        return sums;
    }
}
