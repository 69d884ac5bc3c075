using System.Text;
using ScoreLens.Marking.PartWriting;
using ScoreLens.Notation;
using ScoreLens.Reading;
using ScoreLens.Sonorities;

namespace ScoreLens.Benchmarks.Homework;

/// <summary>
/// A class of forty invented submissions as real ones are, written into a folder: what is to come of each is written down beforehand
/// in <c>messy-class.csv</c>.
/// </summary>
internal static class MessyClass
{
    /// <summary>Writes the class and its roster.</summary>
    /// <param name="folder">Where the class goes.</param>
    /// <param name="students">Student and case, in order.</param>
    public static void Write(string folder, IReadOnlyList<(string Student, string Case)> students)
    {
        var roster = new StringBuilder("name,identifier\n");
        for (var i = 0; i < students.Count; i++)
        {
            var (student, what) = students[i];
            if (what != "not on the roster") roster.Append(student).Append(',').Append(1000 + i).Append('\n');
            // The same file of two students has one seed.
            var xml = what == "the same file" ? Clean(500, 0) : Clean(600 + i, i % 5);
            Hand(Path.Combine(folder, "class"), student, what, xml);
        }

        File.WriteAllText(Path.Combine(folder, "roster.csv"), roster.ToString());
    }

    private static void Hand(string folder, string student, string what, string xml)
    {
        var place = Path.Combine(folder, $"{student}.musicxml");
        Directory.CreateDirectory(folder);
        switch (what)
        {
            case "nothing handed in": return;
            case "in a folder":
                Directory.CreateDirectory(Path.Combine(folder, student));
                File.WriteAllText(Path.Combine(folder, student, "chorale final.musicxml"), xml);
                return;
            case "handed in twice":
                Directory.CreateDirectory(Path.Combine(folder, student));
                File.WriteAllText(Path.Combine(folder, student, "first.musicxml"), MessyScore.Labelled(xml, (_, _) => "I"));
                File.WriteAllText(Path.Combine(folder, student, "second.musicxml"), xml);
                File.SetLastWriteTime(Path.Combine(folder, student, "first.musicxml"), DateTime.Now.AddDays(-1));
                return;
            case "a PDF":
                File.WriteAllText(Path.Combine(folder, $"{student}.pdf"), "%PDF-1.4\n% An invented stand-in for a scan.\n");
                return;
        }

        File.WriteAllText(place, what switch
        {
            "pickup" => MessyScore.WithPickup(xml),
            "transposed" => MessyScore.Transposed(xml),
            "without the last measure" => MessyScore.WithoutEnd(xml),
            "first half repeated" => MessyScore.Repeated(xml),
            "other note values" => MessyScore.InLongNotes(xml),
            "parts from the bass up" => MessyScore.FromTheBass(xml),
            "chords on two staves" => MessyScore.ForPiano(xml),
            "every third label is a question mark" => MessyScore.Labelled(xml, (text, i) => i % 3 == 1 && !HasKey(text) ? "?" : text),
            "punctuation behind labels" => MessyScore.Labelled(xml, (text, i) => text + (i % 2 == 0 ? "." : "!")),
            "keys in brackets" => MessyScore.Labelled(xml, (text, _) => text.Replace("G: ", "[G] ", StringComparison.Ordinal)
                .Replace("D: ", "[D] ", StringComparison.Ordinal)),
            "chord symbols in place of numerals" => MessyScore.Labelled(xml, (_, i) =>
                Theory.ChordName.Of(Exercise.Chords[i].Key, Exercise.Chords[i].Numeral).ToString()),
            "function letters in place of numerals" => MessyScore.Labelled(xml, (_, i) => Exercise.Chords[i]
                .Numeral.Degree switch
            { 1 => "T", 4 => "S", 2 => "Sp", 6 => "Tp", _ => "D" }),
            "capitals only" => MessyScore.Labelled(xml, (text, _) => Capitals(text)),
            "no key is written" => MessyScore.Labelled(xml, (text, _) => HasKey(text)
                ? text[(text.IndexOf(':', StringComparison.Ordinal) + 2)..] : text),
            "I under every chord" => MessyScore.Labelled(xml, (_, i) => i == 0 ? "G: I" : "I"),
            "no labels" => MessyScore.Labelled(xml, (_, _) => ""),
            "nothing added" => ExerciseXml.Write("Chorale exercise in G", null, null),
            "cut off" => xml[..900],
            "an empty file" => "",
            "another piece" => HomeworkClass.OtherPiece(),
            _ => xml,
        });
    }

    private static string Clean(int seed, int habit)
    {
        var realisation = new Realisation(Exercise.Chords, new Random(seed));
        while (true)
        {
            var inner = realisation.Find() ?? throw new InvalidOperationException("The exercise cannot be realised.");
            var xml = ExerciseXml.Write("Chorale exercise in G", inner, HomeworkClass.Labels(habit));
            if (IsFaultless(xml)) return xml;
        }
    }

    // The realisation allows doublings that a strict teacher would remark on.
    private static bool IsFaultless(string xml)
    {
        var score = ScoreFile.Parse(Encoding.UTF8.GetBytes(xml)).Score;
        var onset = Theory.Fraction.Zero;
        var chords = new List<ChordReading>();
        foreach (var chord in Exercise.Chords)
        {
            chords.Add(new ChordReading(onset, chord.Quarters, chord.Key, chord.Numeral, 1, []));
            onset += chord.Quarters;
        }

        var reading = new HarmonicReading(chords[0].Key, chords);
        return PartWritingCheck.Run(score, SonorityFinder.Find(score), reading, PartWritingOptions.Default).Count == 0;
    }

    private static bool HasKey(string text) => text.Contains(':', StringComparison.Ordinal);

    private static string Capitals(string text) =>
        string.Concat(text.Select(c => c is 'i' or 'v' ? char.ToUpperInvariant(c) : c)).Replace("VIIo", "VII", StringComparison.Ordinal)
            .Replace("VII°", "VII", StringComparison.Ordinal);
}
