using System.CommandLine;
using System.Globalization;
using ScoreLens.Notation;
using ScoreLens.Reading;
using ScoreLens.TestKit.Corpus;
using ScoreLens.Theory;
using ScoreLens.Training;

namespace ScoreLens.Benchmarks.Symbols;

/// <summary>
/// Writes the experts' numerals as chord symbols over empty staves, reads them again, and compares key and numeral with the experts', by
/// the measure of the corpus's <c>evaluate.py</c>.
/// </summary>
internal static class NumeralsAsSymbolsCommand
{
    public static Command Create()
    {
        var only = new Option<string?>("--only") { Description = "Works whose path holds TEXT.", HelpName = "TEXT" };
        var sample = new Option<int>("--sample")
        {
            Description = "At most N works of each repertoire, spread evenly; 0 for all.",
            HelpName = "N",
            DefaultValueFactory = _ => 25,
        };
        var each = new Option<bool>("--each") { Description = "Print a line a work." };
        var command = new Command("numerals-as-symbols", "Reads chord symbols that were written from experts' numerals.") { only, sample,
            each };
        command.SetAction(parse =>
        {
            var works = CorpusWorks.In(CorpusWorks.DefaultFolder, parse.GetValue(only), parse.GetValue(sample));
            var groups = new Dictionary<string, Agreement>(StringComparer.Ordinal);
            var all = new Agreement();
            foreach (var (group, name, agreement) in works.AsParallel().AsOrdered().Select(Compare))
            {
                if (parse.GetValue(each)) Print(name, agreement);
                if (!groups.TryGetValue(group, out var sum)) groups[group] = sum = new Agreement();
                sum.Add(agreement);
                all.Add(agreement);
            }

            foreach (var (group, agreement) in groups) Print(group, agreement);
            Print("all", all);
        });
        return command;
    }

    private static (string Group, string Name, Agreement Agreement) Compare(CorpusWork work)
    {
        var reference = ReferenceWork.Load(work);
        var symbols = reference.Reading.Chords.Select(c => Symbol(c.Onset, c)).ToArray();
        var score = reference.Score with { Notes = [], Rests = [], Texts = [], ChordSymbols = symbols };
        var agreement = new Agreement();
        agreement.Add(CueAnalysis.Of(score), reference.Reading);
        return (work.Group(), work.Name, agreement);
    }

    private static ChordSymbol Symbol(Fraction onset, ChordReading chord)
    {
        if (chord.Numeral is not { } numeral) return new ChordSymbol(onset, 0, null, "none", null, []);
        var name = ChordName.Of(chord.Key, numeral);
        Tone[] tones = [.. numeral.Tones(chord.Key)];
        // A symbol spells an augmented sixth as the seventh chord that it sounds as.
        if (numeral.Quality.IsAugmentedSixth()) tones = [.. tones.SkipLast(1), name.Root + -2];
        return new ChordSymbol(onset, 0, name.Root, "major", name.Bass, tones);
    }

    private static void Print(string name, Agreement agreement)
    {
        var figures = string.Join(", ", Agreement.Fields.Select(f =>
            $"{f} {agreement[f].ToString("0.000", CultureInfo.InvariantCulture)}"));
        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture, $"{name}: {agreement.Works} works, {agreement.Quarters.ToDouble():0} quarter notes, {figures}"));
    }
}
