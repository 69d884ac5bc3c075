using ScoreLens.Notation;
using ScoreLens.Theory;

namespace ScoreLens.Tests.Symbols;

/// <summary>Charts for tests: chord symbols over empty staves, a measure of four quarter notes between two bars.</summary>
internal static class Charts
{
    /// <summary>The chart as a score: <c>Dm7 G7 | Cmaj7 |</c>, symbols of a measure in equal shares; <c>%</c> repeats the
    /// measure.</summary>
    public static Score Score(int signature, string chart)
    {
        var measures = new List<Measure>();
        var symbols = new List<ChordSymbol>();
        foreach (var text in chart.Split('|', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries))
        {
            var start = new Fraction(4 * measures.Count);
            measures.Add(new Measure(measures.Count, $"{measures.Count + 1}", start, 4, TimeSignature.Common, signature));
            if (text == "%") continue;
            var names = text.Split(' ', StringSplitOptions.RemoveEmptyEntries);
            for (var i = 0; i < names.Length; i++) symbols.Add(Symbol(start + new Fraction(4 * i, names.Length), names[i]));
        }

        return new Score("Chart", [new Part(0, "P1", "", 1)], measures, [], symbols, [], []);
    }

    /// <summary>The reading of a chart, a text a chord: numeral, then the device and what it is applied to, if any.</summary>
    public static string[] Read(int signature, string chart) =>
        [.. CueAnalysis.Of(Score(signature, chart)).Chords.Select(c =>
            $"{c.Reading.Numeral}{(c.Device is { } d ? $" {ScoreLens.Devices.DeviceNames.Name(d)}" : "")}")];

    /// <summary>The keys of a chart, each once where it follows itself.</summary>
    public static string[] Keys(int signature, string chart)
    {
        var keys = CueAnalysis.Of(Score(signature, chart)).Chords.Select(c => c.Reading.Key.ToString()).ToArray();
        return [.. keys.Where((k, i) => i == 0 || keys[i - 1] != k)];
    }

    private static ChordSymbol Symbol(Fraction onset, string text)
    {
        if (SymbolText.IsNoChord(text)) return new ChordSymbol(onset, 0, null, "none", null, []);
        var chord = SymbolText.Read(text) ?? throw new FormatException($"'{text}' is no chord symbol.");
        return new ChordSymbol(onset, 0, chord.Root, "other", chord.Bass, chord.Tones);
    }
}
