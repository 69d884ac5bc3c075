using ScoreLens.Theory;

namespace ScoreLens.Reading.Model;

/// <summary>
/// The numerals that the model knows, and where the factors whose sum is the score of a pair of key and numeral stand in its
/// output: key, root, bass, target, quality, inversion, numeral without inversion, then 'a new chord' and 'a new key'.
/// </summary>
internal sealed class NumeralVocabulary
{
    private const int Places = SonorityFeatures.Places;
    private readonly Shape[][] _shapes;

    public NumeralVocabulary(NumeralClass[] classes)
    {
        Classes = classes;
        Numerals = [.. classes.Select(c => c.ToNumeral() ?? throw new InvalidDataException("The model knows a numeral that cannot be written."))];
        var numbers = new Dictionary<NumeralClass, int>();
        foreach (var c in classes) numbers.TryAdd(c with { Inversion = 0 }, numbers.Count);

        RootAt = 2 * Places;
        BassAt = RootAt + Places;
        TargetAt = BassAt + Places;
        QualityAt = TargetAt + Places + 1;
        InversionAt = QualityAt + Enum.GetValues<ChordQuality>().Length;
        NumeralAt = InversionAt + 4;
        NewChordAt = NumeralAt + numbers.Count;
        NewKeyAt = NewChordAt + 1;
        Outputs = NewKeyAt + 1;
        OfMode = [[.. Indices(Mode.Major)], [.. Indices(Mode.Minor)]];
        IndexInMode = new int[classes.Length];
        foreach (var list in OfMode)
            foreach (var (at, entry) in list.Index()) IndexInMode[entry] = at;
        _shapes = [.. OfMode.Select(list => list.Select(i => ShapeOf(classes[i])).ToArray())];

        Shape ShapeOf(NumeralClass c) => new(
            c.Root, c.Bass, c.Target, QualityAt + (int)c.Quality, InversionAt + c.Inversion, NumeralAt + numbers[c with { Inversion = 0 }]);

        IEnumerable<int> Indices(Mode mode) => Enumerable.Range(0, classes.Length).Where(i => classes[i].Mode == mode);
    }

    public IReadOnlyList<NumeralClass> Classes { get; }

    public IReadOnlyList<Numeral> Numerals { get; }

    /// <summary>Indices of the classes of major keys, then of minor keys.</summary>
    public int[][] OfMode { get; }

    /// <summary>For every class its place in its mode's list.</summary>
    public int[] IndexInMode { get; }

    public int RootAt { get; }

    public int BassAt { get; }

    public int TargetAt { get; }

    public int QualityAt { get; }

    public int InversionAt { get; }

    public int NumeralAt { get; }

    public int NewChordAt { get; }

    public int NewKeyAt { get; }

    public int Outputs { get; }

    /// <summary>Score of a key: the factor of its mode and the place of its tonic.</summary>
    public static float KeyScore(ReadOnlySpan<float> factors, Mode mode, int tonic) => factors[((int)mode * Places) + tonic];

    /// <summary>What the scores of a mode's numerals have whatever the tonic, in the order of its list.</summary>
    public void FixedScores(ReadOnlySpan<float> factors, int mode, Span<float> scores)
    {
        foreach (var (i, shape) in _shapes[mode].Index())
            scores[i] = factors[shape.Quality] + factors[shape.Inversion] + factors[shape.Numeral];
    }

    /// <summary>The scores of a mode's numerals over a tonic, from the fixed ones.</summary>
    public void Scores(ReadOnlySpan<float> factors, ReadOnlySpan<float> fixedScores, int mode, int tonic, Span<float> scores)
    {
        var key = KeyScore(factors, (Mode)mode, tonic);
        var shapes = _shapes[mode];
        for (var i = 0; i < shapes.Length; i++)
        {
            ref readonly var shape = ref shapes[i];
            scores[i] = key + fixedScores[i] + factors[RootAt + Place(tonic + shape.Root)] + factors[BassAt + Place(tonic + shape.Bass)]
                + factors[TargetAt + (shape.Target is { } target ? Place(tonic + target) : Places)];
        }
    }

    private static int Place(int place) => Math.Clamp(place, 0, Places - 1);

    /// <summary>Where a numeral finds its factors: places relative to the tonic, and fixed indices.</summary>
    private readonly record struct Shape(int Root, int Bass, int? Target, int Quality, int Inversion, int Numeral);
}
