using System.CommandLine;
using System.Globalization;
using ScoreLens.Devices;
using ScoreLens.Notation;
using ScoreLens.Notation.MusicXml;
using ScoreLens.Output.Annotation;
using ScoreLens.Reading;
using ScoreLens.Theory;

namespace ScoreLens.Benchmarks.Symbols;

/// <summary>
/// Reads lead sheets and holds the reading against their own chord symbols: for how much of the time the root is the written one, whether
/// anything is written over a symbol of the composer's, and how many of the written dominant sevenths from outside the signature's scale
/// that fall by a fifth or a semitone are tagged with a device.
/// </summary>
internal static class LeadSheetsCommand
{
    public static Command Create()
    {
        var folder = new Argument<string>("FOLDER") { Description = "Folder of lead sheets." };
        var list = new Option<bool>("--list") { Description = "List the falling dominant sevenths that have no device." };
        var each = new Option<bool>("--each") { Description = "Print a line a lead sheet." };
        var least = new Option<double>("--least")
        {
            Description = "Exit with 1 where the share of the time with the written root is "
            + "below this."
        };
        var command = new Command("leadsheets", "Holds the reading of lead sheets against their own chord symbols.") { folder, list, each,
            least };
        command.SetAction(parse =>
        {
            var all = new Count("all");
            var sheets = Places.Scores(Path.GetFullPath(parse.GetRequiredValue(folder)));
            foreach (var count in sheets.AsParallel().AsOrdered().Select(Of))
            {
                if (parse.GetValue(each)) Console.WriteLine(count);
                if (parse.GetValue(list)) foreach (var line in count.Untagged) Console.WriteLine($"{count.Name} {line}");
                all.Add(count);
            }

            Console.WriteLine(all);
            return all.Agreement < parse.GetValue(least) || all.WrittenOver > 0 ? 1 : 0;
        });
        return command;
    }

    private static Count Of(string path)
    {
        var file = ScoreFile.Load(path);
        var analysis = CueAnalysis.Of(file.Score);
        var count = new Count(Path.GetFileName(path));
        var symbols = file.Score.ChordSymbols.GroupBy(s => s.Onset).Select(g => g.First()).OrderBy(s => s.Onset).ToArray();
        for (var i = 0; i < symbols.Length; i++)
        {
            var end = i + 1 < symbols.Length ? symbols[i + 1].Onset : file.Score.End;
            if (symbols[i].Root is not { } root) continue;
            foreach (var chord in analysis.Chords.Where(c => c.Reading.Onset < end && c.Reading.End > symbols[i].Onset))
            {
                var time = Fraction.Min(end, chord.Reading.End) - Fraction.Max(symbols[i].Onset, chord.Reading.Onset);
                count.Time += time;
                if (chord.Reading.Numeral is { } numeral && ChordName.Of(chord.Reading.Key,
                    numeral).Root.IsEnharmonicWith(root)) count.Agreed += time;
            }

            var next = symbols.Skip(i + 1).FirstOrDefault(s => s.Root is { } r && !r.IsEnharmonicWith(root));
            if (IsChromaticDominant(file.Score, symbols[i]) && next is { Root: { } goal } && Tone.Semitones(goal, root) is 7 or 1)
                CountDominant(count, analysis, file.Score, symbols[i], next);
        }

        count.WrittenOver = WrittenOver(file, analysis);
        var keys = analysis.Chords.Where(c => c.Reading.Numeral is not null).Select(c => c.Reading.Key).ToArray();
        count.KeyChanges = keys.Zip(keys.Skip(1)).Count(p => p.First != p.Second);
        count.HomesOfSignature = analysis.Reading.HomeKey.Signature == file.Score.Measures[0].Signature ? 1 : 0;
        return count;
    }

    private static void CountDominant(Count count, CueAnalysis analysis, Score score, ChordSymbol symbol, ChordSymbol next)
    {
        var chord = analysis.Chords.Last(c => c.Reading.Onset <= symbol.Onset);
        var reading = chord.Reading;
        count.Dominants++;
        if (chord.Device is { } tagged)
        {
            count.Tagged++;
            count.Devices.Add($"{tagged.Name()} {chord.Resolution.Name()}".TrimEnd());
            if (tagged == Device.OtherChromatic) count.Untagged.Add(Line("other", reading));
            return;
        }

        var isDiatonic = reading.Numeral is { } numeral && Diatonic.Contains(reading.Key, numeral);
        if (isDiatonic) count.DiatonicOnes++;
        var why = isDiatonic ? "diatonic" : "missed";
        count.Untagged.Add(Line(why, reading));

        string Line(string said, ChordReading read) =>
            $"measure {score.MeasureAt(symbol.Onset).Number}: {symbol.Root} {symbol.Kind} to {next.Root} {next.Kind}, {said}: "
                + $"{read.Numeral} in {read.Key}";
    }

    // A major third and a minor seventh, with a tone that the signature's scale has not.
    private static bool IsChromaticDominant(Score score, ChordSymbol symbol)
    {
        if (symbol.Root is not { } root || !symbol.Tones.Contains(root + 4) || !symbol.Tones.Contains(root + -2)) return false;
        var scale = new Key(new Tone(score.MeasureAt(symbol.Onset).Signature), Mode.Major);
        return !scale.Contains(root + 4) || !scale.Contains(root + -2) || !scale.Contains(root);
    }

    // Symbols of ours at a place where a symbol of the composer's holds.
    private static int WrittenOver(ScoreFile file, CueAnalysis analysis)
    {
        if (file.MusicXml is not { } document) return 0;
        var annotated = AnnotatedScore.Write(document, analysis,
            LabelOptions.Default with { Labels = LabelOptions.Default.Labels | LabelKinds.Symbols });
        var symbols = MusicXmlReader.Read(MusicXmlDocument.Parse(annotated), new ScoreReadOptions { KeepsOwnLabels = true }).ChordSymbols;
        return symbols.Count(s => s.IsOwn && symbols.Any(o => !o.IsOwn && o.Onset <= s.Onset));
    }

    private sealed class Count(string name)
    {
        public string Name => name;

        public Fraction Time { get; set; }

        public Fraction Agreed { get; set; }

        public int WrittenOver { get; set; }

        public int Dominants { get; set; }

        public int Tagged { get; set; }

        public int DiatonicOnes { get; set; }

        public int Sheets { get; private set; } = 1;

        public int KeyChanges { get; set; }

        public int HomesOfSignature { get; set; }

        public List<string> Devices { get; } = [];

        public List<string> Untagged { get; } = [];

        public double Agreement => Time.Sign == 0 ? 1 : (Agreed / Time).ToDouble();

        public void Add(Count other)
        {
            Sheets = name == "all" && Time.Sign == 0 ? 1 : Sheets + 1;
            (Time, Agreed) = (Time + other.Time, Agreed + other.Agreed);
            WrittenOver += other.WrittenOver;
            Dominants += other.Dominants;
            Tagged += other.Tagged;
            DiatonicOnes += other.DiatonicOnes;
            KeyChanges += other.KeyChanges;
            HomesOfSignature += other.HomesOfSignature;
            Devices.AddRange(other.Devices);
            Untagged.AddRange(other.Untagged);
        }

        public override string ToString()
        {
            var asked = Dominants - DiatonicOnes;
            var devices = string.Join(", ", Devices.CountBy(d => d).OrderByDescending(d => d.Value).Select(d => $"{d.Key} {d.Value}"));
            return string.Create(CultureInfo.InvariantCulture,
                $"{name}: {Sheets} sheets, written root {Agreement:0.0000} of the time, {WrittenOver} symbols written over; "
                + $"{Dominants} falling chromatic dominant sevenths, {DiatonicOnes} diatonic in the local key, of the others "
                + $"{Tagged} of {asked} tagged ({(asked == 0 ? 1 : (double)Tagged / asked):0.000}): {devices}; "
                + $"home key of the signature {HomesOfSignature}, changes of key {KeyChanges}");
        }
    }
}
