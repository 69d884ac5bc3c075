using System.Globalization;
using System.Reflection;
using ScoreLens.Theory;

namespace ScoreLens.Reharmonising.Experts;

/// <summary>
/// What experts have at places like one, learned from the open part of the corpus: a table of weights under which the chord that stands in
/// the music is the most probable among those of the vocabulary. Chords outside the key weigh as much in learning as those of the key, so
/// that how much colour there is stays the band's to say. How it is learned: docs/reharmonising.md.
/// </summary>
internal sealed class ExpertChoices
{
    private const string Resource = "ScoreLens.Reharmonising.Experts.choices.csv", Word = "Word";

    private readonly Dictionary<Feature, double> _weights;
    private readonly Dictionary<Mode, Numeral[]> _vocabulary;

    /// <summary>A table of choices.</summary>
    /// <param name="vocabulary">The chords of each mode, in root position, the most frequent first.</param>
    /// <param name="weights">The weight of each feature; what is not in it weighs nothing.</param>
    public ExpertChoices(IReadOnlyDictionary<Mode, IReadOnlyList<Numeral>> vocabulary, IReadOnlyDictionary<Feature, double> weights)
    {
        _weights = new Dictionary<Feature, double>(weights);
        _vocabulary = vocabulary.ToDictionary(v => v.Key, v => v.Value.ToArray());
    }

    /// <summary>The table that ships.</summary>
    public static ExpertChoices Default { get; } = Load();

    /// <summary>The chords that stand in the music learned from, in a mode, in root position, the most frequent first.</summary>
    public IReadOnlyList<Numeral> Vocabulary(Mode mode) => _vocabulary[mode];

    /// <summary>What speaks for a chord at a place: the logarithm of its probability, but for a part that all chords share.</summary>
    public double Weigh(PlaceEvidence place, ChordClass chord)
    {
        double sum = 0;
        foreach (var (feature, value) in Feature.Of(place, chord))
            if (_weights.TryGetValue(feature, out var weight)) sum += weight * value;
        return sum;
    }

    /// <summary>The probabilities of the vocabulary's chords at a place.</summary>
    public ChoicesAt At(PlaceEvidence place)
    {
        var key = new Key(new Tone(0), place.Mode);
        var classes = Vocabulary(place.Mode).Select(n => ChordClass.Of(key, key, n)).ToArray();
        return new ChoicesAt(this, place, [.. classes], classes.Sum(c => Math.Exp(Weigh(place, c))));
    }

    /// <summary>Reads a table as <see cref="Write"/> writes it.</summary>
    public static ExpertChoices Read(TextReader reader)
    {
        ArgumentNullException.ThrowIfNull(reader);
        var vocabulary = new Dictionary<Mode, IReadOnlyList<Numeral>> { [Mode.Major] = [], [Mode.Minor] = [] };
        var weights = new Dictionary<Feature, double>();
        reader.ReadLine();
        while (reader.ReadLine() is { } line)
        {
            var cells = line.Split(',');
            var mode = Enum.Parse<Mode>(cells[1]);
            if (cells[0] == Word)
            {
                vocabulary[mode] = [.. vocabulary[mode], Numeral.TryParse(cells[2], mode, out var word) ? word
                    : throw new FormatException($"'{cells[2]}' is not a Roman numeral.")];
                continue;
            }

            var numbers = cells[2].Split(' ').Select(n => int.Parse(n, CultureInfo.InvariantCulture)).Concat([0, 0, 0, 0]).ToArray();
            weights[new Feature(Enum.Parse<FeatureKind>(cells[0]), mode, numbers[0], numbers[1], numbers[2], numbers[3])] =
                double.Parse(cells[3], CultureInfo.InvariantCulture);
        }

        return new ExpertChoices(vocabulary, weights);
    }

    /// <summary>
    /// Writes the table: a row a chord of the vocabulary, then a row a feature with its numbers and its weight.
    /// </summary>
    public void Write(TextWriter writer)
    {
        ArgumentNullException.ThrowIfNull(writer);
        writer.Write("about,mode,numbers,weight\n");
        foreach (var (mode, words) in _vocabulary.OrderBy(v => v.Key))
            foreach (var word in words) writer.Write($"{Word},{mode},{word},\n");
        foreach (var (f, weight) in _weights.OrderBy(w => (w.Key.Kind, w.Key.Mode, w.Key.A, w.Key.B, w.Key.C, w.Key.D)))
            writer.Write(string.Create(CultureInfo.InvariantCulture, $"{f.Kind},{f.Mode},{f.A} {f.B} {f.C} {f.D},{weight:0.##}\n"));
    }

    private static ExpertChoices Load()
    {
        using var stream = Assembly.GetExecutingAssembly().GetManifestResourceStream(Resource)
            ?? throw new InvalidOperationException($"The resource {Resource} is missing.");
        using var reader = new StreamReader(stream);
        return Read(reader);
    }
}

/// <summary>What experts have at one place.</summary>
/// <param name="choices">The table.</param>
/// <param name="place">The place.</param>
/// <param name="vocabulary">The chords of the vocabulary.</param>
/// <param name="sum">What they weigh together.</param>
internal sealed class ChoicesAt(ExpertChoices choices, PlaceEvidence place, HashSet<ChordClass> vocabulary, double sum)
{
    /// <summary>The probability of a chord, whatever its figures, 0..1; 0 where experts have it nowhere.</summary>
    public double Of(Key key, Numeral numeral)
    {
        var chord = ChordClass.Of(key, key, numeral);
        return vocabulary.Contains(chord) ? Math.Min(1, Math.Exp(choices.Weigh(place, chord)) / sum) : 0;
    }
}
