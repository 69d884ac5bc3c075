using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace ScoreLens.Reading.Model;

/// <summary>The hyperbolic tangent and the logistic curve of eight numbers at once, each within 1e-6.</summary>
internal static class Activation
{
    // Beyond this the hyperbolic tangent is one within 1e-7.
    private const float End = 8.5f;

    /// <summary>
    /// An odd fraction of polynomials, fitted to the function over ±8.5 by least squares, the points weighed anew until the largest
    /// error was least (1e-8 before rounding).
    /// </summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<float> Tanh(Vector256<float> x)
    {
        x = Vector256.MinNative(Vector256.MaxNative(x, Vector256.Create(-End)), Vector256.Create(End));
        var u = x * x;
        var above = Vector256.FusedMultiplyAdd(u, Vector256.Create(1.4130175e-8f), Vector256.Create(2.1144015e-5f));
        above = Vector256.FusedMultiplyAdd(above, u, Vector256.Create(3.5271999e-3f));
        above = Vector256.FusedMultiplyAdd(above, u, Vector256.Create(0.13407377f));
        above = Vector256.FusedMultiplyAdd(above, u, Vector256.Create(0.99999995f));
        var below = Vector256.FusedMultiplyAdd(u, Vector256.Create(8.0862921e-7f), Vector256.Create(3.3379345e-4f));
        below = Vector256.FusedMultiplyAdd(below, u, Vector256.Create(0.025996413f));
        below = Vector256.FusedMultiplyAdd(below, u, Vector256.Create(0.46740689f));
        below = Vector256.FusedMultiplyAdd(below, u, Vector256<float>.One);
        return x * above / below;
    }

    /// <summary>1 / (1 + e⁻ˣ): half of one more than the hyperbolic tangent of half of x.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<float> Sigmoid(Vector256<float> x)
    {
        var half = Vector256.Create(0.5f);
        return Vector256.FusedMultiplyAdd(Tanh(x * half), half, half);
    }
}
