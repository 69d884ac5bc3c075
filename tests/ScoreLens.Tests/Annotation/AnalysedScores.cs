using System.Collections.Concurrent;
using ScoreLens.Notation.MusicXml;

namespace ScoreLens.Tests.Annotation;

/// <summary>Our own invented scores, each read once however many tests of a class ask for it: reading is what takes the time.</summary>
public sealed class AnalysedScores
{
    private readonly ConcurrentDictionary<string, Lazy<(MusicXmlDocument Document, CueAnalysis Analysis)>> _read =
        new(StringComparer.Ordinal);

    /// <summary>The names of the cues, below the folder of test data.</summary>
    public static IEnumerable<string> Cues =>
        Directory.EnumerateFiles(Path.Combine(Places.TestData, "cues"), "*.musicxml").Select(f => $"cues/{Path.GetFileName(f)}")
            .Order(StringComparer.Ordinal);

    /// <summary>A score by its name.</summary>
    internal (MusicXmlDocument Document, CueAnalysis Analysis) Of(string name) => _read.GetOrAdd(name, n => new(() =>
    {
        var document = MusicXmlDocument.Load(Path.Combine(Places.TestData, n));
        return (document, CueAnalysis.Of(MusicXmlReader.Read(document)));
    })).Value;
}
