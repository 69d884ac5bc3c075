using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace ScoreLens.Reading.Model;

/// <summary>
/// The numerals of a mode, those of one root and target together, and among them those of one bass. The exponential of a score is a
/// product of factors, and what many numerals have in common is multiplied once with their sum: what is the same over every tonic
/// once a vertical, bass and then root and target once a tonic. Immutable.
/// </summary>
internal sealed class NumeralGroups
{
    /// <summary>Tonics whose sums are taken at once.</summary>
    public const int Tonics = 8;

    private const int Lane = Tonics / 2;

    private readonly NumeralShape[] _shapes;
    private readonly Part[] _basses;
    private readonly Group[] _groups;

    /// <summary>Groups numerals given by where they find their factors.</summary>
    public NumeralGroups(IEnumerable<(NumeralShape Shape, NumeralOffsets Offsets)> numerals)
    {
        var groups = numerals.GroupBy(n => (n.Offsets.Root, n.Offsets.Target), (place, members) =>
            (place, Basses: members.GroupBy(n => n.Offsets.Bass).ToArray())).ToArray();
        _shapes = [.. groups.SelectMany(g => g.Basses).SelectMany(b => b).Select(n => n.Shape)];
        _basses = new Part[groups.Sum(g => g.Basses.Length)];
        _groups = new Group[groups.Length];
        int shapes = 0, basses = 0;
        foreach (var (at, (place, members)) in groups.Index())
        {
            foreach (var bass in members) _basses[basses++] = new Part(bass.Key, shapes += bass.Count());
            _groups[at] = new Group(place.Root, place.Target, basses);
        }
    }

    /// <summary>How many weights a vertical has.</summary>
    public int Weights => _basses.Length;

    /// <summary>The sum over the numerals of each root, target and bass of what is the same over every tonic.</summary>
    /// <param name="powers">The exponentials of a vertical's factors.</param>
    /// <param name="weights">Takes <see cref="Weights"/> sums.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void Weigh(ReadOnlySpan<double> powers, Span<double> weights)
    {
        var next = 0;
        for (var bass = 0; bass < _basses.Length; bass++)
        {
            double sum = 0;
            for (; next < _basses[bass].End; next++)
            {
                var shape = _shapes[next];
                sum += powers[shape.Quality] * powers[shape.Inversion] * powers[shape.Numeral];
            }

            weights[bass] = sum;
        }
    }

    /// <summary>The sums over all numerals over <see cref="Tonics"/> tonics that follow each other on the line of fifths.</summary>
    /// <param name="weights">What <see cref="Weigh"/> made of a vertical.</param>
    /// <param name="above">The spread exponentials of its factors, from the place of the first tonic on.</param>
    /// <param name="sums">Takes the sums.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void Sum(ReadOnlySpan<double> weights, ReadOnlySpan<double> above, Span<double> sums)
    {
        var (lower, upper) = (Vector256<double>.Zero, Vector256<double>.Zero);
        var next = 0;
        foreach (var group in _groups)
        {
            var (low, high) = (Vector256<double>.Zero, Vector256<double>.Zero);
            for (; next < group.End; next++)
            {
                var weight = Vector256.Create(weights[next]);
                var bass = above.Slice(_basses[next].Bass, Tonics);
                low = Vector256.FusedMultiplyAdd(weight, Vector256.Create(bass), low);
                high = Vector256.FusedMultiplyAdd(weight, Vector256.Create(bass[Lane..]), high);
            }

            var root = above.Slice(group.Root, Tonics);
            var target = above.Slice(group.Target, Tonics);
            lower = Vector256.FusedMultiplyAdd(low, Vector256.Create(root) * Vector256.Create(target), lower);
            upper = Vector256.FusedMultiplyAdd(high, Vector256.Create(root[Lane..]) * Vector256.Create(target[Lane..]), upper);
        }

        lower.CopyTo(sums);
        upper.CopyTo(sums[Lane..]);
    }

    // A bass, and where its numerals end.
    private readonly record struct Part(int Bass, int End);

    // A root with a target, and where its basses end.
    private readonly record struct Group(int Root, int Target, int End);
}

/// <summary>Where a numeral finds the factors that are the same over every tonic.</summary>
internal readonly record struct NumeralShape(int Quality, int Inversion, int Numeral);

/// <summary>Where a numeral finds its other factors in the spread ones, less the place of the tonic.</summary>
internal readonly record struct NumeralOffsets(int Root, int Bass, int Target);
