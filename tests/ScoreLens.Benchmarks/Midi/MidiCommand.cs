using System.CommandLine;
using System.Globalization;
using ScoreLens.Notation;
using ScoreLens.Notation.Midi;
using ScoreLens.Output.Midi;
using ScoreLens.Sonorities;
using ScoreLens.TestKit.Corpus;
using ScoreLens.Theory;
using ScoreLens.Training;

namespace ScoreLens.Benchmarks.Midi;

/// <summary>
/// Writes every score of the open corpus as MIDI, reads it back and measures what a reader of MIDI can lose: onsets and
/// lengths, exactly and after a player's uneven timing, and the spelling of pitches, with and without key signatures.
/// </summary>
internal static class MidiCommand
{
    public static Command Create()
    {
        var folder = new Argument<string>("FOLDER")
        {
            Description = "A folder of scores.",
            DefaultValueFactory = _ => Path.Combine(CorpusWorks.DefaultFolder, "open"),
        };
        var sample = new Option<int>("--sample")
        {
            Description = "At most so many works of each repertoire; all where it is 0.",
            HelpName = "N"
        };
        var numerals = new Option<bool>("--numerals")
        {
            Description = "Print instead how often key and numeral are the expert's: of the "
            + "score, of its MIDI file, and of that played unevenly."
        };
        var losses = new Option<bool>("--losses")
        {
            Description = "Print instead what each thing costs that a MIDI file lacks: the score without it, and the MIDI file with it.",
        };
        var learn = new Option<string?>("--learn")
        {
            Description = "Learn the tables of spelling from the works that are to be learned from, and write them to FILE.",
            HelpName = "FILE",
        };
        var errors = new Option<int?>("--errors")
        {
            Description = "Print instead the notes that are spelled wrong by kind, and N examples of each kind.",
            HelpName = "N",
        };
        var split = new Option<Split?>("--split") { Description = "Works by their part in learning: train, validation, measure." };
        var command = new Command("midi", "Writes the corpus as MIDI, reads it back, and prints the share of right onsets and of right "
            + "spellings.") { folder, sample, numerals, losses, errors, split, learn };
        command.SetAction(parse =>
        {
            var path = Path.GetFullPath(parse.GetRequiredValue(folder));
            if (!Directory.Exists(path))
            {
                Console.WriteLine($"skipped: there is no folder {path}");
                return;
            }

            var part = parse.GetValue(split);
            var works = CorpusWorks.In(path, null, parse.GetValue(sample), work => part is null || work.Split == part);
            if (parse.GetValue(learn) is { } file) File.WriteAllText(file, SpellingLessons.Learn(works).Write());
            else if (parse.GetValue(losses)) MidiLosses.Report(works);
            else if (parse.GetValue(numerals)) ReportNumerals(works);
            else if (parse.GetValue(errors) is { } examples) SpellingErrors.Report(works, examples);
            else Report(works);
        });
        return command;
    }

    private static void Report(IReadOnlyList<CorpusWork> works)
    {
        Console.WriteLine("repertoire     works    notes  onsets  lengths  played: onsets  spelled with keys  or as a whole passage  without keys");
        var all = new Counts();
        foreach (var repertoire in works.GroupBy(w => w.Group()))
        {
            var counts = new Counts();
            foreach (var work in repertoire) counts.Add(ScoreFile.Load(work.ScorePath).Score);
            Print(repertoire.Key, counts);
            all.Add(counts);
        }

        Print("all", all);
    }

    private static void ReportNumerals(IReadOnlyList<CorpusWork> works)
    {
        string[] kinds = ["score", "midi", "played"];
        var all = kinds.Select(_ => new Agreement()).ToArray();
        foreach (var repertoire in works.GroupBy(w => w.Group()))
        {
            var sums = kinds.Select(_ => new Agreement()).ToArray();
            foreach (var read in repertoire.AsParallel().AsOrdered().Select(Numerals))
            {
                for (var i = 0; i < sums.Length; i++)
                {
                    sums[i].Add(read[i]);
                    all[i].Add(read[i]);
                }
            }

            Print(repertoire.Key, sums);
        }

        Print("all", all);

        void Print(string name, Agreement[] sums) => Console.WriteLine($"{name}, {sums[0].Works} works: "
            + string.Join("; ", kinds.Zip(sums, (kind, sum) =>
            string.Create(CultureInfo.InvariantCulture, $"{kind} key {sum["key"]:.000} numeral {sum["numeral"]:.000}"))));
    }

    private static Agreement[] Numerals(CorpusWork work)
    {
        var reference = ReferenceWork.Load(work);
        Score[] scores = [reference.Score, MidiReader.Read(MidiWriter.Write(reference.Score)),
            MidiReader.Read(MidiWriter.Write(UnevenTiming.Of(reference.Score)))];
        return [.. scores.Select(score =>
        {
            var agreement = new Agreement();
            agreement.Add(CueAnalysis.Of(score), reference.Reading);
            return agreement;
        })];
    }

    private static void Print(string name, Counts c) => Console.WriteLine(string.Create(
        CultureInfo.InvariantCulture,
        $"{name,-14} {c.Works,5} {c.Notes,8}  {Share(c.Onsets, c.Notes)}   {Share(c.Lengths, c.Notes)}           "
            + $"{Share(c.Played, c.Notes)}              {Share(c.SpelledWithKeys, c.Onsets)}                   "
            + $"{Share(c.SpelledWithKeys + c.InPassages, c.Onsets)}         {Share(c.Spelled, c.Onsets)}"));

    private static string Share(long part, long whole) =>
        whole == 0 ? "    -" : ((double)part / whole).ToString(".0000", CultureInfo.InvariantCulture);

    private sealed class Counts
    {
        public int Works { get; private set; }

        public long Notes { get; private set; }

        public long Onsets { get; private set; }

        public long Lengths { get; private set; }

        public long Played { get; private set; }

        public long SpelledWithKeys { get; private set; }

        public long InPassages { get; private set; }

        public long Spelled { get; private set; }

        public void Add(Counts other)
        {
            Works += other.Works;
            Notes += other.Notes;
            Onsets += other.Onsets;
            Lengths += other.Lengths;
            Played += other.Played;
            SpelledWithKeys += other.SpelledWithKeys;
            InPassages += other.InPassages;
            Spelled += other.Spelled;
        }

        public void Add(Score score)
        {
            Works++;
            // A part cannot play one key twice at a time, so that what two voices share is one sound.
            var written = SonorityFinder.JoinTies(score.Notes).DistinctBy(n => (n.Part, n.Pitch.Midi, n.Onset)).ToList();
            Notes += written.Count;
            var withKeys = Read(MidiWriter.Write(score));
            var without = Read(MidiWriter.Write(score, hasKeys: false));
            var played = Read(MidiWriter.Write(UnevenTiming.Of(score)));
            var spelled = new List<(Fraction, Pitch, Pitch)>();
            foreach (var note in written)
            {
                var place = (note.Part, note.Pitch.Midi, note.Onset);
                if (withKeys.TryGetValue(place, out var read))
                {
                    Onsets++;
                    if (read.End == note.End) Lengths++;
                    if (read.Pitch == note.Pitch) SpelledWithKeys++;
                    spelled.Add((note.Onset, note.Pitch, read.Pitch));
                }

                if (without.TryGetValue(place, out read) && read.Pitch == note.Pitch) Spelled++;
                if (played.ContainsKey(place)) Played++;
            }

            InPassages += EnharmonicPassages.Count(spelled);
        }

        private static Dictionary<(int Part, int Midi, Fraction Onset), Note> Read(byte[] midi)
        {
            var score = MidiReader.Read(midi);
            var parts = MidiLosses.PartsOf(score);
            return score.Notes.GroupBy(n => (parts[n.Part], n.Pitch.Midi, n.Onset)).ToDictionary(g => g.Key, g => g.First());
        }
    }
}
