using System.Globalization;
using System.Text;
using ScoreLens.Density;
using ScoreLens.Notation;
using ScoreLens.Notation.MusicXml;
using ScoreLens.Output.Midi;
using ScoreLens.Output.Tables;

namespace ScoreLens.TestKit.Fuzzing;

/// <summary>Makes mutants of real files; the same seed always gives the same bytes.</summary>
internal sealed class MutantFactory
{
    // Larger scores only take longer; what is in them is in the small ones too.
    private const int LargestSource = 60_000;

    private readonly (string Name, byte[] Bytes)[] _scores;
    private readonly Lazy<(string Name, byte[] Bytes)[]> _midis;
    private readonly Lazy<(string Name, string Text)[]> _tables;
    private readonly string _assignment = File.ReadAllText(Path.Combine(Places.TestData, "homework", "assignment.yaml"));

    public MutantFactory()
    {
        string[] folders = [Places.External("conformance"), Places.TestData, Places.External("works")];
        var scores = folders.SelectMany(Places.Scores).Where(IsScore).Select(f => (Name: Path.GetFileName(f), Bytes: Source(f)));
        _scores = [.. scores.Where(s => s.Bytes.Length < LargestSource)];
        _midis = new(() => [.. _scores.Where((_, i) => i % 8 == 0).Select(s => (s.Name, Midi(s.Bytes)))]);
        _tables = new(() => [.. Tables("lamplight.musicxml"), .. Tables("reed-tune.musicxml")]);
    }

    /// <summary>The mutant of a kind and seed.</summary>
    public Mutant Make(MutantKind kind, int seed)
    {
        var random = new Random(HashCode(kind, seed));
        switch (kind)
        {
            case MutantKind.MusicXml:
                var score = _scores[random.Next(_scores.Length)];
                return new(kind, seed, score.Name, XmlMutations.Apply(score.Bytes, random));
            case MutantKind.Midi:
                var midi = _midis.Value[random.Next(_midis.Value.Length)];
                return new(kind, seed, midi.Name, ByteMutations.Apply(midi.Bytes, random));
            case MutantKind.Assignment:
                return new(kind, seed, "assignment.yaml", Encoding.UTF8.GetBytes(LineMutations.Apply(_assignment, " :-[]", random)));
            default:
                var table = _tables.Value[random.Next(_tables.Value.Length)];
                return new(kind, seed, table.Name, Encoding.UTF8.GetBytes(LineMutations.Apply(table.Text, ",", random)));
        }
    }

    // Not .NET's own hash codes, which differ from run to run.
    private static int HashCode(MutantKind kind, int seed) => unchecked((seed * 31) + (int)kind);

    private static bool IsScore(string path) => Path.GetFileName(path) is not "rosa.musicxml" and not "nils.musicxml";

    private static byte[] Midi(byte[] score) => MidiWriter.Write(ScoreFile.Parse(score).Score);

    private static byte[] Source(string path) => MusicXmlDocument.Load(path).Source;

    private static IEnumerable<(string Name, string Text)> Tables(string name)
    {
        var analysis = CueAnalysis.Of(ScoreFile.Load(Path.Combine(Places.TestData, name)).Score);
        using var chords = new StringWriter(CultureInfo.InvariantCulture);
        ChordTable.Write(ChordRow.Of(analysis), chords);
        yield return ($"{name} chords", chords.ToString());
        using var phrases = new StringWriter(CultureInfo.InvariantCulture);
        PhraseTable.Write(PhraseRow.Of(analysis, CueDensity.Of(analysis, Band.Default)), phrases);
        yield return ($"{name} phrases", phrases.ToString());
    }
}
