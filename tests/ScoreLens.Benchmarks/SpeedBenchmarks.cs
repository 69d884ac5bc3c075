using System.Globalization;
using BenchmarkDotNet.Attributes;
using ScoreLens.Density;
using ScoreLens.Notation;
using ScoreLens.Output.Tables;

namespace ScoreLens.Benchmarks;

/// <summary>Reading, analysing and writing of one invented score.</summary>
[MemoryDiagnoser]
public class SpeedBenchmarks
{
    private byte[] _bytes = [];
    private Score _score = new("", [], [], [], [], [], []);
    private CueAnalysis? _analysis;

    /// <summary>Length of the score.</summary>
    [Params(100, 1000)]
    public int Measures { get; set; }

    /// <summary>Makes the score and what the later stages start from.</summary>
    [GlobalSetup]
    public void Setup()
    {
        _bytes = InventedScore.Write(Measures);
        _score = Read();
        _analysis = Analyse();
    }

    /// <summary>From bytes to a score.</summary>
    [Benchmark]
    public Score Read() => ScoreFile.Parse(_bytes).Score;

    /// <summary>From a score to chords, devices and phrases.</summary>
    [Benchmark]
    public CueAnalysis Analyse() => CueAnalysis.Of(_score);

    /// <summary>From an analysis to both tables and the JSON document.</summary>
    [Benchmark]
    public int Write()
    {
        var density = CueDensity.Of(_analysis!, Band.Default);
        using var text = new StringWriter(CultureInfo.InvariantCulture);
        ChordTable.Write(ChordRow.Of(_analysis!), text);
        PhraseTable.Write(PhraseRow.Of(_analysis!, density), text);
        return text.GetStringBuilder().Length + AnalysisJson.Write(_analysis!, density).Length;
    }
}
