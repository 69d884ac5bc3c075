using ScoreLens.Theory;

namespace ScoreLens.Reading.Model;

/// <summary>
/// The numerals that the model knows, and where the factors whose sum is the score of a pair of key and numeral stand in its
/// output: key, root, bass, target, quality, inversion, numeral without inversion, then 'a new chord' and 'a new key'.
/// </summary>
internal sealed class NumeralVocabulary
{
    private const int Places = SonorityFeatures.Places;
    private readonly int[] _numeralFactor;

    public NumeralVocabulary(NumeralClass[] classes)
    {
        Classes = classes;
        Numerals = [.. classes.Select(c => c.ToNumeral() ?? throw new InvalidDataException("The model knows a numeral that cannot be written."))];
        var numbers = new Dictionary<NumeralClass, int>();
        _numeralFactor = new int[classes.Length];
        for (var i = 0; i < classes.Length; i++)
        {
            var root = classes[i] with { Inversion = 0 };
            if (!numbers.TryGetValue(root, out _numeralFactor[i])) numbers[root] = _numeralFactor[i] = numbers.Count;
        }

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

        IEnumerable<int> Indices(Mode mode) => Enumerable.Range(0, classes.Length).Where(i => classes[i].Mode == mode);
    }

    public IReadOnlyList<NumeralClass> Classes { get; }

    public IReadOnlyList<Numeral> Numerals { get; }

    /// <summary>Indices of the classes of major keys, then of minor keys.</summary>
    public int[][] OfMode { get; }

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

    /// <summary>What a numeral's score has whatever the tonic.</summary>
    public float FixedScore(ReadOnlySpan<float> factors, int entry)
    {
        var c = Classes[entry];
        return factors[QualityAt + (int)c.Quality] + factors[InversionAt + c.Inversion] + factors[NumeralAt + _numeralFactor[entry]];
    }

    /// <summary>What a numeral's score has by the places of its root, bass and target.</summary>
    public float PlacedScore(ReadOnlySpan<float> factors, int entry, int tonic)
    {
        var c = Classes[entry];
        return factors[RootAt + Place(tonic + c.Root)] + factors[BassAt + Place(tonic + c.Bass)]
            + factors[TargetAt + (c.Target is { } target ? Place(tonic + target) : Places)];
    }

    private static int Place(int place) => Math.Clamp(place, 0, Places - 1);
}
