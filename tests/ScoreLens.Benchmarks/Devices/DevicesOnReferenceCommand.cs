using System.CommandLine;
using System.Globalization;
using ScoreLens.Devices;
using ScoreLens.Notation;
using ScoreLens.Output.Tables;
using ScoreLens.Reading;
using ScoreLens.Sonorities;
using ScoreLens.TestKit.Corpus;
using ScoreLens.Theory;
using ScoreLens.Training;
using ScoreLens.Wording;

namespace ScoreLens.Benchmarks.Devices;

/// <summary>
/// The device stage alone on the corpus: the experts' numerals are the reading, and its devices are compared with those that the
/// same numerals state by the table of the corpus's <c>evaluate.py</c>, weighed by time.
/// </summary>
internal static class DevicesOnReferenceCommand
{
    private static readonly string[] Classes = ["applied", "mixture", "augmented-sixth", "neapolitan", "other", ""];

    public static Command Create()
    {
        var only = new Option<string?>("--only") { Description = "Works whose path holds TEXT.", HelpName = "TEXT" };
        var differences = new Option<bool>("--differences") { Description = "Print the numerals on which the two differ most." };
        var command = new Command("devices-on-reference",
            "Compares devices with those that experts' numerals state, chord by chord.") { only, differences };
        command.SetAction(parse =>
        {
            var works = CorpusWorks.In(CorpusWorks.DefaultFolder, parse.GetValue(only), 0);
            var counted = new List<(string Repertoire, string Work, ChordReading Chord, string Stated, string Found, string Sentence)>();
            foreach (var result in works.AsParallel().AsOrdered().Select(Compare)) counted.AddRange(result);
            foreach (var group in counted.GroupBy(c => c.Repertoire).Append(counted.GroupBy(_ => "all").Single()))
            {
                var total = group.Sum(c => c.Chord.Duration.ToDouble());
                Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{group.Key}: {total:0} quarter notes"));
                foreach (var name in Classes) Print(name.Length == 0 ? "diatonic" : name,
                    [.. group.Select(c => (c.Chord.Duration.ToDouble(), c.Stated == name, c.Found == name))]);
                Print("outside", [.. group.Select(c => (c.Chord.Duration.ToDouble(), c.Stated.Length > 0, c.Found.Length > 0))]);
            }

            if (!parse.GetValue(differences)) return;
            foreach (var group in counted.Where(c => c.Stated != c.Found)
                .GroupBy(c => (c.Chord.Key.Mode, Numeral: c.Chord.Numeral!.ToString(), c.Stated, c.Found))
                .OrderByDescending(g => g.Sum(c => c.Chord.Duration.ToDouble())).Take(120))
            {
                var time = group.Sum(c => c.Chord.Duration.ToDouble());
                var first = group.First();
                Console.WriteLine(string.Create(
                    CultureInfo.InvariantCulture,
                    $"{time,7:0.0} {group.Key.Mode} {group.Key.Numeral}: stated '{group.Key.Stated}', found '{group.Key.Found}'; "
                        + $"{first.Work} at {first.Chord.Onset}: {first.Sentence}"));
            }
        });
        return command;
    }

    private static List<(string, string, ChordReading, string, string, string)> Compare(CorpusWork work)
    {
        using var text = File.OpenText(work.ReferencePath());
        var chords = ChordTable.Read(text, seventhsOfScale: true).Select(row => row.Chord.Reading).ToArray();
        var home = chords.Length == 0 ? new Key(new Tone(0), Mode.Major) : chords.GroupBy(c => c.Key)
            .MaxBy(g => g.Sum(c => c.Duration.ToDouble()))!.Key;
        var tagged = DeviceFinder.Find(new HarmonicReading(home, chords), SonorityFinder.Find(ScoreFile.Load(work.ScorePath).Score));
        return [.. tagged.Where(t => t.Reading.Numeral is not null)
            .Select(t => (work.Group(), work.Name, t.Reading, StatedDevice.Of(t.Reading.Key, t.Reading.Numeral!), Class(t.Device),
                ReasonText.Of(t.Reason)))];
    }

    private static string Class(Device? device) => device switch
    {
        null => "",
        Device.AugmentedSixth => "augmented-sixth",
        Device.Neapolitan => "neapolitan",
        Device.SecondaryDominant or Device.SecondaryLeadingTone => "applied",
        Device.ModalMixture => "mixture",
        _ => "other",
    };

    private static void Print(string name, IReadOnlyList<(double Time, bool Stated, bool Found)> chords)
    {
        var stated = chords.Where(c => c.Stated).Sum(c => c.Time);
        var found = chords.Where(c => c.Found).Sum(c => c.Time);
        var both = chords.Where(c => c is { Stated: true, Found: true }).Sum(c => c.Time);
        if (stated + found == 0) return;
        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"  {name,-16} stated {stated,8:0.0} found {found,8:0.0}  precision {both / Math.Max(found, 1e-9):0.000}  recall "
                + $"{both / Math.Max(stated, 1e-9):0.000}"));
    }
}
