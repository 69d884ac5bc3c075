using ScoreLens.Notation;
using ScoreLens.Output.Annotation;
using ScoreLens.Output.Reduction;
using ScoreLens.Sonorities;
using ScoreLens.Tests.Annotation;
using ScoreLens.Tests.Pipeline;
using ScoreLens.Theory;
using Xunit;

namespace ScoreLens.Tests.Reduction;

public sealed class HarmonicReductionTests(AnalysedScores scores) : IClassFixture<AnalysedScores>
{
    // The smallest work of each of these.
    private static readonly string[] Kinds = ["chorales", "songs", "textbooks"];

    // Of the conformance scores those of durations, metres, key signatures, tuplets, pickups and overfull measures: what a reduction takes
    // over from a score. The others differ in what it leaves out.
    private static readonly string[] ConformanceKinds = ["03", "11", "13a", "13c", "21e", "23a", "23d", "46"];

    /// <summary>Our own invented scores, cues included.</summary>
    public static TheoryData<string> OwnScores => [.. Transformations.OwnScores, .. AnalysedScores.Cues];

    [Theory]
    [MemberData(nameof(OwnScores))]
    public void A_reduction_is_valid_and_reads_back_as_its_chords(string name) =>
        Assert.Empty(Reductions.Problems(Analyse(name)));

    [Fact]
    public void Analysed_works_and_conformance_scores_reduce_to_valid_scores_that_read_back_as_their_chords()
    {
        var works = Kinds.Select(kind => Places.Scores(Places.External("works", "open", kind)).MinBy(f => new FileInfo(f).Length)!);
        var conformance = Places.Scores(Places.External("conformance"))
            .Where(f => ConformanceKinds.Any(k => Path.GetFileName(f).StartsWith(k, StringComparison.Ordinal))).ToArray();
        Assert.True(conformance.Length >= 30, $"{conformance.Length} files");
        var problems = new List<string>();
        foreach (var file in works.Concat(conformance))
        {
            // None of them is refused; the conformance files are so small that some hold no chord.
            var name = $"{Path.GetFileName(Path.GetDirectoryName(file))}/{Path.GetFileName(file)}";
            problems.AddRange(Reductions.Problems(CueAnalysis.Of(ScoreFile.Load(file).Score)).Select(p => $"{name}: {p}"));
        }

        Assert.True(problems.Count == 0, string.Join("\n", problems));
    }

    // One in major, one in minor, one with devices of many kinds: every score here is read a second time.
    [Theory]
    [InlineData("lamplight.musicxml")]
    [InlineData("cues/2m1-the-storm-stair.musicxml")]
    [InlineData("cues/3m1-the-brass-arcade.musicxml")]
    public void The_reduction_alone_is_read_as_the_score_is(string name)
    {
        var analysis = Analyse(name);
        var again = CueAnalysis.Of(HarmonicReduction.Of(analysis).ToScore());
        var (same, all) = (Fraction.Zero, Fraction.Zero);
        foreach (var chord in analysis.Reading.Chords.Where(c => c.Numeral is not null))
        {
            all += chord.Duration;
            if (again.Reading.Chords.Any(c => c.Onset == chord.Onset && c.Key == chord.Key
                && c.Numeral == chord.Numeral)) same += chord.Duration;
        }

        Assert.True((same / all).ToDouble() >= 0.9, $"{same} of {all} quarter notes are read alike.");
    }

    [Fact]
    public void The_German_sixth_is_spelled_as_one_and_opens_to_the_octave()
    {
        // In C minor Ab and F# open to G: Aldwell and Schachter on augmented sixths.
        var chords = HarmonicReduction.Of(Analyse("cues/2m1-the-storm-stair.musicxml")).Chords;
        var place = chords.Index().First(c => c.Item.Chord.Reading.Numeral!.ToString() == "Ger65").Index;
        var (sixth, next) = (chords[place], chords[place + 1]);
        Assert.Equal("Ab", sixth.Bass.Tone.ToString());
        var raised = sixth.Upper.Index().Single(p => p.Item.Tone == Tone.Of('F', 1)).Index;
        Assert.Equal(sixth.Upper[raised].Midi + 1, next.Upper[raised].Midi);
        Assert.Equal(sixth.Bass.Midi - 1, next.Bass.Midi);
    }

    [Theory]
    [MemberData(nameof(OwnScores))]
    public void Voices_move_by_small_steps_and_tendency_tones_are_not_doubled(string name)
    {
        var chords = HarmonicReduction.Of(Analyse(name)).Chords;
        var moves = chords.Zip(chords.Skip(1)).SelectMany(p => p.First.Upper.Zip(p.Second.Upper, (a, b) => Math.Abs(a.Midi - b.Midi)))
            .ToArray();
        if (moves.Length > 0) Assert.True(moves.Average() <= 2, $"{moves.Average()} semitones a voice and chord");
        Every.Item(moves, m => Assert.True(m <= 7, $"a leap of {m} semitones"));
        Every.Item(chords, c => Assert.True(c.Upper.Append(c.Bass).Count(p => p.Tone == c.Chord.Reading.Key.Tonic + 5) <= 1,
            $"{c.Chord.Reading.Onset}: two leading tones"));
    }

    [Fact]
    public void A_chord_over_a_bar_line_is_tied_and_silence_is_a_rest()
    {
        var reading = new[] { ("I", 0, 6), ("V7", 10, 6) };
        var measures = Enumerable.Range(0, 4).Select(m => new Measure(m, $"{m + 1}", 4 * m, 4, TimeSignature.Common, 0)).ToArray();
        var score = new Score("Silence", [new Part(0, "P1", "", 1)], measures,
            [.. reading.Select(r => new Note(new Pitch(Tone.Of('G'), 4), r.Item2, r.Item3, 0, 1, "1", NoteMarks.None))], [], [], []);
        var key = new Key(Tone.Of('C'), Mode.Major);
        var analysis = CueAnalysis.Of(score, SonorityFinder.Find(score),
            new(key, [.. reading.Select(r => new ScoreLens.Reading.ChordReading(r.Item2, r.Item3, key, Numeral.Parse(r.Item1), 1, []))]));
        Assert.Empty(Reductions.Problems(analysis));
        var read = ScoreFile.Parse(ReductionScore.MusicXml(HarmonicReduction.Of(analysis), LabelOptions.Default)).Score;
        Assert.Equal(["0 4", "4 2", "10 2", "12 4"], read.Notes.Where(n => n.Staff == 2).Select(n => $"{n.Onset} {n.Duration}"));
        Assert.Equal(["6 2", "8 2"], read.Rests.Where(r => r.Staff == 2).Select(r => $"{r.Onset} {r.Duration}"));
    }

    [Fact]
    public void Musescore_exports_the_same_notes_and_lilypond_engraves_them()
    {
        var folder = Directory.CreateTempSubdirectory("scorelens-reduction").FullName;
        try
        {
            var xml = ReductionScore.MusicXml(HarmonicReduction.Of(Analyse("lamplight.musicxml")), LabelOptions.Default);
            File.WriteAllBytes(Path.Combine(folder, "reduction.musicxml"), xml);
            var run = Programs.Run(folder, "musescore3", "-o", "exported.musicxml", "reduction.musicxml");
            Assert.True(File.Exists(Path.Combine(folder, "exported.musicxml")), run.Output);
            Assert.Equal(Notes(ScoreFile.Parse(xml).Score), Notes(ScoreFile.Load(Path.Combine(folder, "exported.musicxml")).Score));
            Assert.Equal(0, Programs.Run(folder, "musicxml2ly", "-o", "reduction.ly", "reduction.musicxml").Status);
            Assert.Equal(0, Programs.Run(folder, "lilypond", "--png", "-o", "reduction", "reduction.ly").Status);
            Assert.True(File.Exists(Path.Combine(folder, "reduction.png")));
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static IEnumerable<string> Notes(Score score) => score.Notes.Select(n => $"{n.Onset} {n.Duration} {n.Staff} {n.Pitch}")
        .Order(StringComparer.Ordinal);

    private CueAnalysis Analyse(string name) => scores.Of(name).Analysis;
}
