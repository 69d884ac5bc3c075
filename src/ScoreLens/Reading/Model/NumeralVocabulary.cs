using System.Runtime.CompilerServices;
using ScoreLens.Theory;

namespace ScoreLens.Reading.Model;

/// <summary>
/// The numerals that the model knows, and where the factors whose sum is the score of a pair of key and numeral stand in its
/// output: key, root, bass, target, quality, inversion, numeral without inversion, then 'a new chord' and 'a new key'. After the numerals
/// that were learned stand some that were met too seldom: their score is the sum of all factors but the numeral's own.
/// </summary>
internal sealed class NumeralVocabulary
{
    private const int Places = SonorityFeatures.Places;

    // How far below the likeliest numeral one that was not learned is taken to be, in nats; chosen on the validation works.
    private const float Unlearned = 3;

    /// <summary>Where the factors of the qualities start, whatever the numerals.</summary>
    public const int FirstQuality = (5 * Places) + 1;

    private readonly NumeralClass[] _classes;
    private readonly int[] _basses;
    private readonly NumeralShape[][] _shapes;
    private readonly NumeralOffsets[][] _offsets;
    private readonly int _learned;

    // How far from the tonic roots, basses and targets lie, at most.
    private readonly int _reach;

    /// <param name="learned">The classes that the model has factors for, in the order of its output.</param>
    public NumeralVocabulary(NumeralClass[] learned)
    {
        _learned = learned.Length;
        NumeralClass[] classes = [.. learned, .. Seldom().Except(learned)];
        _classes = classes;
        _basses = [.. classes.Select(c => c.Bass)];
        Numerals = [.. classes.Select(c => c.ToNumeral()
            ?? throw new InvalidDataException("The model knows a numeral that cannot be written."))];
        var numbers = new Dictionary<NumeralClass, int>();
        foreach (var c in learned) numbers.TryAdd(c with { Inversion = 0 }, numbers.Count);

        RootAt = 2 * Places;
        BassAt = RootAt + Places;
        TargetAt = BassAt + Places;
        QualityAt = FirstQuality;
        InversionAt = QualityAt + Enum.GetValues<ChordQuality>().Length;
        NumeralAt = InversionAt + 4;
        NewChordAt = NumeralAt + numbers.Count;
        NewKeyAt = NewChordAt + 1;
        Outputs = NewKeyAt + 1;
        NumeralFactors = [(RootAt, BassAt), (BassAt, TargetAt), (TargetAt, QualityAt), (QualityAt, InversionAt), (InversionAt, NumeralAt),
            (NumeralAt, NewChordAt)];
        OfMode = [Indices(Mode.Major, 0, _learned), Indices(Mode.Minor, 0, _learned)];
        UnlearnedOfMode = [Indices(Mode.Major, _learned, classes.Length), Indices(Mode.Minor, _learned, classes.Length)];
        Tones = new NumeralTones(classes, OfMode.Zip(UnlearnedOfMode, (first, then) => (int[])[.. first, .. then]));
        IndexInMode = new int[_learned];
        foreach (var list in OfMode)
            foreach (var (at, entry) in list.Index()) IndexInMode[entry] = at;
        _shapes = [.. OfMode.Select(list => list.Select(i => ShapeOf(classes[i])).ToArray())];
        _reach = learned.Max(c => Math.Max(Math.Max(Math.Abs(c.Root), Math.Abs(c.Bass)), Math.Abs(c.Target ?? 0)));
        var row = Places + (2 * _reach);
        SpreadLength = (3 * row) + Places;
        _offsets = [.. OfMode.Select(list => list.Select(i => OffsetsOf(classes[i])).ToArray())];
        GroupsOfMode = [.. _shapes.Zip(_offsets, (shapes, offsets) => new NumeralGroups(shapes.Zip(offsets)))];

        NumeralShape ShapeOf(NumeralClass c) => new(QualityAt + (int)c.Quality, InversionAt + c.Inversion, NumeralAt
            + numbers[c with { Inversion = 0 }]);

        NumeralOffsets OffsetsOf(NumeralClass c) => new(
            _reach + c.Root, row + _reach + c.Bass, c.Target is { } target ? (2 * row) + _reach + target : 3 * row);

        int[] Indices(Mode mode, int from, int to) => [.. Enumerable.Range(from, to - from).Where(i => classes[i].Mode == mode)];
    }

    public IReadOnlyList<NumeralClass> Classes => _classes;

    public IReadOnlyList<Numeral> Numerals { get; }

    /// <summary>Indices of the learned classes of major keys, then of minor keys.</summary>
    public int[][] OfMode { get; }

    /// <summary>Indices of the classes that were not learned, of major keys, then of minor keys.</summary>
    public int[][] UnlearnedOfMode { get; }

    /// <summary>The tones of all classes; those of a mode that were learned stand before those that were not.</summary>
    public NumeralTones Tones { get; }

    /// <summary>For every learned class its place in its mode's list.</summary>
    public int[] IndexInMode { get; }

    /// <summary>The learned classes of major keys, then of minor keys, grouped for their sums.</summary>
    public NumeralGroups[] GroupsOfMode { get; }

    /// <summary>Where each kind of factor of a numeral starts and ends: a score has one of each beside the key's.</summary>
    public (int Start, int End)[] NumeralFactors { get; }

    public int RootAt { get; }

    public int BassAt { get; }

    public int TargetAt { get; }

    public int QualityAt { get; }

    public int InversionAt { get; }

    public int NumeralAt { get; }

    public int NewChordAt { get; }

    public int NewKeyAt { get; }

    public int Outputs { get; }

    /// <summary>Length of what <see cref="Spread"/> lays out.</summary>
    public int SpreadLength { get; }

    /// <summary>Score of a key: the factor of its mode and the place of its tonic.</summary>
    public static float KeyScore(ReadOnlySpan<float> factors, Mode mode, int tonic) => factors[((int)mode * Places) + tonic];

    /// <summary>What the scores of a mode's numerals have whatever the tonic, in the order of its list.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void FixedScores(ReadOnlySpan<float> factors, int mode, Span<float> scores)
    {
        var shapes = _shapes[mode];
        for (var i = 0; i < shapes.Length; i++)
        {
            ref readonly var shape = ref shapes[i];
            scores[i] = factors[shape.Quality] + factors[shape.Inversion] + factors[shape.Numeral];
        }
    }

    /// <summary>
    /// Lays out the factors of root, bass and target, or their exponentials: the outermost places are repeated as far as any numeral
    /// reaches from any tonic, and 'no target' is said for every tonic, so that no place must be looked at twice.
    /// </summary>
    /// <param name="factors">The factors of a vertical.</param>
    /// <param name="spread">Takes <see cref="SpreadLength"/> values.</param>
    public void Spread<T>(ReadOnlySpan<T> factors, Span<T> spread)
    {
        var row = Places + (2 * _reach);
        SpreadRow(factors.Slice(RootAt, Places), spread[..row]);
        SpreadRow(factors.Slice(BassAt, Places), spread.Slice(row, row));
        SpreadRow(factors.Slice(TargetAt, Places), spread.Slice(2 * row, row));
        spread.Slice(3 * row, Places).Fill(factors[TargetAt + Places]);
    }

    /// <summary>The scores of a mode's numerals over a tonic, from the fixed ones and the spread factors.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void Scores(ReadOnlySpan<float> factors, ReadOnlySpan<float> spread, ReadOnlySpan<float> fixedScores, int mode, int tonic,
        Span<float> scores)
    {
        var key = KeyScore(factors, (Mode)mode, tonic);
        var above = spread[tonic..];
        var offsets = _offsets[mode].AsSpan();
        fixedScores = fixedScores[..offsets.Length];
        scores = scores[..offsets.Length];
        for (var i = 0; i < offsets.Length; i++)
        {
            ref readonly var at = ref offsets[i];
            scores[i] = key + fixedScores[i] + above[at.Root] + above[at.Bass] + above[at.Target];
        }
    }

    /// <summary>The bass of a numeral in fifths above the tonic.</summary>
    public int BassOf(int entry) => _basses[entry];

    /// <summary>Whether the model has a factor of its own for a numeral.</summary>
    public bool IsLearned(int entry) => entry < _learned;

    /// <summary>
    /// The score of any one numeral over a tonic; for one that was learned it is that of <see cref="Scores"/>, to the last bit.
    /// </summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public float Score(ReadOnlySpan<float> factors, int entry, int tonic)
    {
        ref readonly var c = ref _classes[entry];
        var key = KeyScore(factors, c.Mode, tonic);
        float own;
        if (IsLearned(entry))
        {
            var shape = _shapes[(int)c.Mode][IndexInMode[entry]];
            own = key + (factors[shape.Quality] + factors[shape.Inversion] + factors[shape.Numeral]);
        }
        else
        {
            var likeliest = Exponentials.Top(factors[NumeralAt..NewChordAt]);
            own = key + likeliest - Unlearned + factors[QualityAt + (int)c.Quality] + factors[InversionAt + c.Inversion];
        }

        return own + factors[RootAt + Place(tonic + c.Root)] + factors[BassAt + Place(tonic + _basses[entry])]
            + factors[TargetAt + (c.Target is { } target ? Place(tonic + target) : Places)];
    }

    // Major and minor triads on every degree, raised or lowered, and the predominant sevenths that a degree may have of its own.
    private static IEnumerable<NumeralClass> Seldom() =>
        from mode in Enum.GetValues<Mode>()
        from root in Enumerable.Range(-7, 17)
        from quality in (ChordQuality[])[ChordQuality.Major, ChordQuality.Minor, ChordQuality.HalfDiminishedSeventh,
            ChordQuality.MinorSeventh]
        from inversion in Enumerable.Range(0, quality.Members().Length)
        let numeral = new NumeralClass(mode, root, quality.IsSeventh() ? root - 2 : null, quality, inversion)
        where numeral.ToNumeral() is not null
        select numeral;

    private void SpreadRow<T>(ReadOnlySpan<T> places, Span<T> row)
    {
        row[.._reach].Fill(places[0]);
        places.CopyTo(row[_reach..]);
        row[(_reach + Places)..].Fill(places[^1]);
    }

    private static int Place(int place) => Math.Clamp(place, 0, Places - 1);
}
