using ScoreLens.Theory;

namespace ScoreLens.Training;

/// <summary>Which part a work has in learning.</summary>
internal enum Split
{
    /// <summary>Learned from.</summary>
    Train,

    /// <summary>Open, but kept out: choices are made on these.</summary>
    Validation,

    /// <summary>Noncommercial: measured only.</summary>
    Measure,
}

/// <summary>One reference label: an expert's key and numeral over a stretch of time.</summary>
internal sealed record ReferenceLabel(Fraction Onset, Fraction Duration, Key Key, Numeral? Numeral);

/// <summary>A work of the evaluation corpus.</summary>
internal sealed record CorpusWork(string Name, string Folder)
{
    public string Repertoire => Name.Split('/')[^2];

    public string ScorePath => Path.Combine(Folder, "score.mxl");

    /// <summary>A tenth of the open works, drawn by a hash of the name, is kept for validation.</summary>
    public Split Split => !Name.StartsWith("open/", StringComparison.Ordinal) ? Split.Measure
        : StableHash.Of(Name) % 10 == 0 ? Split.Validation : Split.Train;

    /// <summary>Random numbers of the work's own, the same on every machine.</summary>
    public Random Random(int number) => new(unchecked((int)StableHash.Of($"{Name} {number}")));

    public static IReadOnlyList<CorpusWork> All(string corpus) =>
    [
        .. Directory.EnumerateFiles(corpus, "reference.csv", SearchOption.AllDirectories)
            .Select(f => Path.GetDirectoryName(f)!)
            .Where(d => File.Exists(Path.Combine(d, "score.mxl")))
            .Select(d => new CorpusWork(Path.GetRelativePath(corpus, d).Replace('\\', '/'), d))
            .OrderBy(w => w.Name, StringComparer.Ordinal),
    ];

    public IReadOnlyList<ReferenceLabel> Labels()
    {
        var labels = new List<ReferenceLabel>();
        // The references hold no quoted field: onset, duration, key, numeral.
        foreach (var line in File.ReadLines(Path.Combine(Folder, "reference.csv")).Skip(1))
        {
            if (line.Split(',') is not [var onset, var duration, var keyText, var text, ..]) continue;
            var key = Key.Parse(keyText);
            var numeral = Numeral.TryParseByScale(text, key.Mode, out var n) ? n : null;
            labels.Add(new(Fraction.Parse(onset), Fraction.Parse(duration), key, numeral));
        }

        return [.. labels.OrderBy(l => l.Onset)];
    }

}

/// <summary>A hash of text that is the same on every machine (FNV-1a), unlike the runtime's own.</summary>
internal static class StableHash
{
    /// <summary>The hash of a text.</summary>
    public static uint Of(string text)
    {
        var hash = 2166136261u;
        foreach (var c in text) hash = unchecked((hash ^ c) * 16777619u);
        return hash;
    }
}
