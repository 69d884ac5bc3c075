using System.Globalization;
using System.Text;
using ScoreLens.Theory;

namespace ScoreLens.Benchmarks.Homework;

/// <summary>
/// A class of thirty invented students who did one exercise, each in their own way and with their own mistakes: the files
/// under <c>testdata/homework</c>, always the same.
/// </summary>
internal static class HomeworkClass
{
    private const string Title = "Chorale exercise in G";

    // Invented names, common in several languages; nobody is meant.
    private static readonly string[] Names =
    [
        "ada", "ben", "carla", "dmitri", "elif", "farid", "greta", "hugo", "ines", "jonas", "kaya", "leon", "mira", "nils", "olga",
        "pablo", "quentin", "rosa", "sami", "tara", "ugo", "vera", "wim", "xenia", "yusuf", "zoe", "anton", "bianca", "cyrus", "dora",
    ];

    /// <summary>Writes every file.</summary>
    public static void Write(string folder)
    {
        var work = Directory.CreateDirectory(Path.Combine(folder, "class")).FullName;
        File.WriteAllText(Path.Combine(folder, "given.musicxml"), ExerciseXml.Write(Title, null, null));
        var clean = new Realisation(Exercise.Chords, new Random(1)).Find()
            ?? throw new InvalidOperationException("The exercise cannot be realised.");
        File.WriteAllText(Path.Combine(folder, "model.musicxml"), ExerciseXml.Write(Title, clean, Labels(0)));
        var planted = new StringBuilder("submission,kind,measure,beat\n");
        for (var s = 0; s < Names.Length; s++) WriteStudent(work, s, planted);
        File.WriteAllText(Path.Combine(folder, "planted.csv"), planted.ToString());
    }

    private static void WriteStudent(string folder, int student, StringBuilder planted)
    {
        var name = Names[student];
        var path = Path.Combine(folder, $"{name}.musicxml");
        var random = new Random(100 + student);
        var labels = Labels(student % 5);
        switch (student)
        {
            case 13:
                File.WriteAllText(path, ExerciseXml.Write(Title, null, null));
                planted.Append(name).Append(",empty,,\n");
                return;
            case 17:
                File.WriteAllText(path, ExerciseXml.Write(Title, null, null)[..900]);
                planted.Append(name).Append(",unreadable,,\n");
                return;
            case 21:
                File.WriteAllText(Path.Combine(folder, $"{name}.pdf"), "%PDF-1.4\n% An invented stand-in for a scan.\n");
                planted.Append(name).Append(",wrong-file,,\n");
                return;
            case 24:
                File.WriteAllText(path, OtherPiece());
                planted.Append(name).Append(",wrong-piece,,\n");
                return;
        }

        var realisation = new Realisation(Exercise.Chords, random);
        var inner = realisation.Find()!;
        if (student % 3 != 0)
        {
            var faults = Enum.GetValues<PlantedFault>();
            var fault = faults[random.Next(faults.Length)];
            foreach (var at in Enumerable.Range(1, Exercise.Chords.Count - 1).OrderBy(_ => random.Next()))
            {
                if (realisation.Find(fault, at) is not { } careless) continue;
                inner = careless;
                planted.Append(name).Append(',').Append(Kind(fault)).Append(',').Append(Place(at)).Append('\n');
                break;
            }
        }

        // The better half mislabels one chord, the others up to five; some leave labels out.
        for (var wrong = student % 2 == 0 ? student % 3 : random.Next(2, 6); wrong > 0; wrong--)
        {
            var at = random.Next(1, Exercise.Chords.Count);
            if (labels[at].Contains(':', StringComparison.Ordinal) || !Mislabel(labels, at, random, out var kind)) continue;
            planted.Append(name).Append(',').Append(kind).Append(',').Append(Place(at)).Append('\n');
        }

        File.WriteAllText(path, ExerciseXml.Write(Title, inner, labels));
    }

    private static bool Mislabel(string[] labels, int at, Random random, out string kind)
    {
        var chord = Exercise.Chords[at];
        kind = "";
        if (labels[at] != Label(at, Array.IndexOf([0, 1, 2, 3, 4], HabitOf(labels)))) return false;
        switch (random.Next(4))
        {
            case 0:
                labels[at] = "";
                kind = "label-missing";
                return true;
            case 1 when chord.Numeral is { Kind: NumeralKind.Plain, Inversion: 1 or 3 }:
                labels[at] = new Numeral(chord.Numeral.Degree, chord.Numeral.Quality, 0, chord.Numeral.Alteration, chord.Numeral.Target)
                    .ToString();
                kind = "wrong-inversion";
                return true;
            case 2 when chord.Numeral is { Kind: NumeralKind.Plain, Quality: ChordQuality.DominantSeventh, Inversion: 0 }:
                labels[at] = chord.Numeral.ToString().Replace("7", "", StringComparison.Ordinal);
                kind = "wrong-quality";
                return true;
            default:
                labels[at] = chord.Numeral.ToString() == "iii6" ? "vi" : "iii6";
                kind = "wrong-degree";
                return true;
        }
    }

    private static int HabitOf(string[] labels) => Enumerable.Range(0, 5).First(h => Label(0, h) == labels[0]);

    public static string[] Labels(int habit) => [.. Enumerable.Range(0, Exercise.Chords.Count).Select(i => Label(i, habit))];

    private static string Label(int at, int habit)
    {
        var chord = Exercise.Chords[at];
        var changes = at == 0 || Exercise.Chords[at - 1].Key != chord.Key;
        var text = habit switch
        {
            1 => chord.Numeral.ToDisplayString(),
            2 => Stacked(chord.Numeral.ToString()),
            3 => chord.Numeral.ToString().Replace("Cad64", "I64", StringComparison.Ordinal).Replace("N6", "bII6", StringComparison.Ordinal),
            4 => chord.Numeral.ToString().Replace("Cad64", "Ic", StringComparison.Ordinal)
                .Replace("viio6", "viiob", StringComparison.Ordinal),
            _ => chord.Numeral.ToString(),
        };
        return changes ? $"{chord.Key.Tonic}{(habit == 2 ? " major" : "")}: {text}" : text;
    }

    private static string Stacked(string plain) =>
        plain.Replace("65", "6/5", StringComparison.Ordinal).Replace("42", "4/2", StringComparison.Ordinal)
            .Replace("64", "6/4", StringComparison.Ordinal).Replace('o', '°');

    private static string Kind(PlantedFault fault) => fault switch
    {
        PlantedFault.ParallelFifths => "parallel-fifths",
        PlantedFault.ParallelOctaves => "parallel-octaves",
        PlantedFault.SeventhUnresolved => "seventh-unresolved",
        PlantedFault.DoubledLeadingTone => "doubled-leading-tone",
        PlantedFault.MissingThird => "missing-third",
        _ => "spacing",
    };

    private static string Place(int at)
    {
        var quarters = Exercise.Chords.Take(at).Sum(c => c.Quarters);
        return string.Create(CultureInfo.InvariantCulture, $"{(quarters / 4) + 1},{(quarters % 4) + 1}");
    }

    // The same kind of file with another tune: somebody handed in last week's work.
    public static string OtherPiece()
    {
        const string letters = "ABCDEFG", others = "DGFBCAE";
        var text = ExerciseXml.Write("Last week's exercise", null, null);
        return string.Concat(text.Split("<step>").Select((part, i) => i == 0 ? part : "<step>"
            + others[letters.IndexOf(part[0], StringComparison.Ordinal)] + part[1..]));
    }
}
