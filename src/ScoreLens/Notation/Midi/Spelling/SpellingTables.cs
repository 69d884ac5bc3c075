using System.Globalization;
using System.Text;

namespace ScoreLens.Notation.Midi.Spelling;

/// <summary>
/// What spelling goes by, counted and learned from scores whose spelling is known (<c>spelling.txt</c>; the benchmark <c>midi --learn</c>
/// writes it from the open corpus).
/// </summary>
/// <param name="Profile">Logarithm of how often a tone lies so many fifths from the key's centre, -15 to 15.</param>
/// <param name="Moves">Logarithm of how often the centre moves so many fifths from one onset to the next, -12 to 12.</param>
/// <param name="Signatures">Logarithm of how often the centre lies so many fifths from the signature's major tonic, -12 to 12.</param>
/// <param name="Weights">
/// For every <see cref="SpellingRelation"/> what speaks for a name that lies so many fifths from what stands in that relation, -20 to 20.
/// </param>
internal sealed record SpellingTables(double[] Profile, double[] Moves, double[] Signatures, double[][] Weights)
{
    /// <summary>The farthest a tone is counted from its centre, in fifths.</summary>
    public const int TonesReach = 15;

    /// <summary>The farthest a centre moves or lies from its signature.</summary>
    public const int CentresReach = 12;

    /// <summary>The farthest that <see cref="Weights"/> tell intervals apart.</summary>
    public const int IntervalsReach = 20;

    private const string Resource = "ScoreLens.Notation.Midi.spelling.txt";

    private static readonly Lazy<SpellingTables> Shipped = new(Load);

    /// <summary>The relations, in order.</summary>
    public static IReadOnlyList<SpellingRelation> Relations { get; } = Enum.GetValues<SpellingRelation>();

    /// <summary>The tables that the library carries.</summary>
    public static SpellingTables Default => Shipped.Value;

    /// <summary>What an interval in a relation says.</summary>
    public double Weight(SpellingRelation relation, int fifths) =>
        Weights[(int)relation][Math.Clamp(fifths, -IntervalsReach, IntervalsReach) + IntervalsReach];

    /// <summary>A row of a table that reaches as far on both sides: its value at a distance, the outermost beyond its end.</summary>
    public static double At(double[] row, int distance)
    {
        var reach = row.Length / 2;
        return row[Math.Clamp(distance, -reach, reach) + reach];
    }

    /// <summary>The tables as text, a row a line: its name and its values.</summary>
    public string Write()
    {
        var text = new StringBuilder();
        Row(nameof(Profile), Profile);
        Row(nameof(Moves), Moves);
        Row(nameof(Signatures), Signatures);
        foreach (var relation in Relations) Row(relation.ToString(), Weights[(int)relation]);
        return text.ToString();

        void Row(string name, double[] values)
        {
            text.Append(name);
            foreach (var value in values) text.Append(' ').Append(value.ToString("0.###", CultureInfo.InvariantCulture));
            text.Append('\n');
        }
    }

    /// <summary>Reads what <see cref="Write"/> wrote.</summary>
    /// <exception cref="InvalidDataException">A row is missing or too short.</exception>
    public static SpellingTables Read(TextReader text)
    {
        var rows = new Dictionary<string, double[]>(StringComparer.Ordinal);
        while (text.ReadLine() is { } line)
        {
            var words = line.Split(' ', StringSplitOptions.RemoveEmptyEntries);
            if (words.Length > 1) rows[words[0]] = [.. words[1..].Select(w => double.Parse(w, CultureInfo.InvariantCulture))];
        }

        return new SpellingTables(
            Row(nameof(Profile), TonesReach),
            Row(nameof(Moves), CentresReach),
            Row(nameof(Signatures), CentresReach),
            [.. Relations.Select(r => Row(r.ToString(), IntervalsReach))]);

        double[] Row(string name, int reach) => rows.TryGetValue(name, out var row) && row.Length == (2 * reach) + 1 ? row
            : throw new InvalidDataException($"The tables of spelling lack the row {name}.");
    }

    private static SpellingTables Load()
    {
        using var stream = typeof(SpellingTables).Assembly.GetManifestResourceStream(Resource)
            ?? throw new InvalidOperationException("The tables of spelling are missing from the library.");
        using var text = new StreamReader(stream);
        return Read(text);
    }
}
