using ScoreLens.Theory;

namespace ScoreLens.Reading.Model;

/// <summary>
/// The numerals that the model knows, and where the factors whose sum is the score of a pair of key and numeral stand in its
/// output: key, root, bass, target, quality, inversion, numeral without inversion, then 'a new chord' and 'a new key'. After the numerals that
/// were learned stand some that were met too seldom: their score is the sum of all factors but the numeral's own.
/// </summary>
internal sealed class NumeralVocabulary
{
    private const int Places = SonorityFeatures.Places;

    // How far below the likeliest numeral one that was not learned is taken to be, in nats; chosen on the validation works.
    private const float Unlearned = 3;
    private readonly Shape[][] _shapes;
    private readonly int _learned;

    /// <param name="learned">The classes that the model has factors for, in the order of its output.</param>
    public NumeralVocabulary(NumeralClass[] learned)
    {
        _learned = learned.Length;
        NumeralClass[] classes = [.. learned, .. Seldom().Except(learned)];
        Classes = classes;
        Numerals = [.. classes.Select(c => c.ToNumeral() ?? throw new InvalidDataException("The model knows a numeral that cannot be written."))];
        var numbers = new Dictionary<NumeralClass, int>();
        foreach (var c in learned) numbers.TryAdd(c with { Inversion = 0 }, numbers.Count);

        RootAt = 2 * Places;
        BassAt = RootAt + Places;
        TargetAt = BassAt + Places;
        QualityAt = TargetAt + Places + 1;
        InversionAt = QualityAt + Enum.GetValues<ChordQuality>().Length;
        NumeralAt = InversionAt + 4;
        NewChordAt = NumeralAt + numbers.Count;
        NewKeyAt = NewChordAt + 1;
        Outputs = NewKeyAt + 1;
        OfMode = [Indices(Mode.Major, 0, _learned), Indices(Mode.Minor, 0, _learned)];
        UnlearnedOfMode = [Indices(Mode.Major, _learned, classes.Length), Indices(Mode.Minor, _learned, classes.Length)];
        IndexInMode = new int[_learned];
        foreach (var list in OfMode)
            foreach (var (at, entry) in list.Index()) IndexInMode[entry] = at;
        _shapes = [.. OfMode.Select(list => list.Select(i => ShapeOf(classes[i])).ToArray())];

        Shape ShapeOf(NumeralClass c) => new(
            c.Root, c.Bass, c.Target, QualityAt + (int)c.Quality, InversionAt + c.Inversion, NumeralAt + numbers[c with { Inversion = 0 }]);

        int[] Indices(Mode mode, int from, int to) => [.. Enumerable.Range(from, to - from).Where(i => classes[i].Mode == mode)];
    }

    public IReadOnlyList<NumeralClass> Classes { get; }

    public IReadOnlyList<Numeral> Numerals { get; }

    /// <summary>Indices of the learned classes of major keys, then of minor keys.</summary>
    public int[][] OfMode { get; }

    /// <summary>Indices of the classes that were not learned, of major keys, then of minor keys.</summary>
    public int[][] UnlearnedOfMode { get; }

    /// <summary>For every learned class its place in its mode's list.</summary>
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

    /// <summary>Whether the model has a factor of its own for a numeral.</summary>
    public bool IsLearned(int entry) => entry < _learned;

    /// <summary>The score of a numeral that was not learned, over a tonic, to be compared with those of <see cref="Scores"/>.</summary>
    public float UnlearnedScore(ReadOnlySpan<float> factors, int entry, int tonic)
    {
        var c = Classes[entry];
        var likeliest = System.Numerics.Tensors.TensorPrimitives.Max(factors[NumeralAt..NewChordAt]);
        return KeyScore(factors, c.Mode, tonic) + likeliest - Unlearned
            + factors[QualityAt + (int)c.Quality] + factors[InversionAt + c.Inversion]
            + factors[RootAt + Place(tonic + c.Root)] + factors[BassAt + Place(tonic + c.Bass)]
            + factors[TargetAt + (c.Target is { } target ? Place(tonic + target) : Places)];
    }

    // Major and minor triads on every degree, raised or lowered, and the predominant sevenths that a degree may have of its own.
    private static IEnumerable<NumeralClass> Seldom() =>
        from mode in Enum.GetValues<Mode>()
        from root in Enumerable.Range(-7, 17)
        from quality in (ChordQuality[])[ChordQuality.Major, ChordQuality.Minor, ChordQuality.HalfDiminishedSeventh, ChordQuality.MinorSeventh]
        from inversion in Enumerable.Range(0, quality.Members().Length)
        let numeral = new NumeralClass(mode, root, quality.IsSeventh() ? root - 2 : null, quality, inversion)
        where numeral.ToNumeral() is not null
        select numeral;

    private static int Place(int place) => Math.Clamp(place, 0, Places - 1);

    /// <summary>Where a numeral finds its factors: places relative to the tonic, and fixed indices.</summary>
    private readonly record struct Shape(int Root, int Bass, int? Target, int Quality, int Inversion, int Numeral);
}
