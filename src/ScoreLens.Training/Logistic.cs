namespace ScoreLens.Training;

/// <summary>Logistic regression by Newton's method, with weights.</summary>
internal static class Logistic
{
    private const int Rounds = 30;
    private const double Ridge = 1e-3;

    /// <summary>The coefficients under which the rows that are right are most probable.</summary>
    public static double[] Fit(IReadOnlyList<(double[] Evidence, bool Right, double Weight)> rows)
    {
        var size = rows[0].Evidence.Length;
        var total = rows.Sum(r => r.Weight);
        var coefficients = new double[size];
        for (var round = 0; round < Rounds; round++)
        {
            var gradient = coefficients.Select(c => -Ridge * c).ToArray();
            var curvature = new double[size, size];
            for (var i = 0; i < size; i++) curvature[i, i] = Ridge;
            foreach (var (x, right, weight) in rows)
            {
                var p = 1 / (1 + Math.Exp(-x.Zip(coefficients, (a, b) => a * b).Sum()));
                for (var i = 0; i < size; i++)
                {
                    gradient[i] += weight / total * ((right ? 1 : 0) - p) * x[i];
                    for (var j = 0; j < size; j++) curvature[i, j] += weight / total * p * (1 - p) * x[i] * x[j];
                }
            }

            var step = Solve(curvature, gradient);
            for (var i = 0; i < size; i++) coefficients[i] += step[i];
        }

        return coefficients;
    }

    // Elimination without pivots: the curvature is positive definite.
    private static double[] Solve(double[,] matrix, double[] right)
    {
        var size = right.Length;
        for (var i = 0; i < size; i++)
        {
            for (var j = i + 1; j < size; j++)
            {
                var factor = matrix[j, i] / matrix[i, i];
                for (var k = i; k < size; k++) matrix[j, k] -= factor * matrix[i, k];
                right[j] -= factor * right[i];
            }
        }

        var solution = new double[size];
        for (var i = size - 1; i >= 0; i--)
        {
            var sum = right[i];
            for (var k = i + 1; k < size; k++) sum -= matrix[i, k] * solution[k];
            solution[i] = sum / matrix[i, i];
        }

        return solution;
    }
}
