using ScoreLens.Density;
using ScoreLens.Keys;
using ScoreLens.Notation;
using ScoreLens.Output.Annotation;
using ScoreLens.Output.Tables;
using ScoreLens.Phrases;
using ScoreLens.Theory;
using ScoreLens.Wording;

namespace ScoreLens.Manual;

/// <summary>
/// The programs of docs/library.md, as they stand there between the marks. They print to <paramref name="output"/>, read below
/// <paramref name="root"/>, the repository's folder, and write into <paramref name="folder"/>.
/// </summary>
public sealed class LibraryPrograms(TextWriter output, string root, string folder)
{
    // Stands for the console, so that the programs read as they would in a program of a user.
    private TextWriter Console { get; } = output;

    /// <summary>Opens a score and prints what it is.</summary>
    public void Open()
    {
        //// open
        using var stream = File.OpenRead(At("testdata/lamplight.musicxml"));
        try
        {
            var file = ScoreFile.Load(stream);
            foreach (var warning in file.Warnings) Console.WriteLine(warning.ToDisplayString());
            Console.WriteLine($"{file.Score.Title}: {file.Score.Measures.Count} measures");
        }
        catch (ScoreFormatException problem)
        {
            Console.WriteLine($"This file cannot be read: {problem.Message}");
        }
        //// end
    }

    /// <summary>Prints phrases, devices and shares of a cue.</summary>
    public void Look()
    {
        //// look
        var analysis = CueAnalysis.Of(ScoreFile.Load(At("testdata/lamplight.musicxml")).Score);
        foreach (var phrase in analysis.Phrases)
            Console.WriteLine($"phrase {phrase.Number} ends in {phrase.Key} with {phrase.Cadence.Name()}");
        foreach (var row in ChordRow.Of(analysis).Where(r => r.Chord.IsOutside))
            Console.WriteLine($"m. {row.Measure}: {row.Numeral} in {row.Chord.Reading.Key}. {ReasonText.Of(row.Chord.Reason)}");
        var shares = SharesByKeys.Of(analysis);
        Console.WriteLine($"outside the key: {ShareText.Percent(shares.Chosen)}; {KeysText.Shares(shares)}");
        //// end
    }

    /// <summary>Writes an annotated score and a table.</summary>
    public void Write()
    {
        //// write
        var file = ScoreFile.Load(At("testdata/lamplight.musicxml"));
        var analysis = CueAnalysis.Of(file.Score, KeyRule.Confirm);
        var options = LabelOptions.Default with { Labels = LabelKinds.Numerals | LabelKinds.Devices };
        if (file.MusicXml is { } document)
            File.WriteAllBytes(Path.Combine(folder, "lamplight.annotated.musicxml"), AnnotatedScore.Write(document, analysis, options));
        using (var table = File.CreateText(Path.Combine(folder, "lamplight.chords.csv")))
            ChordTable.Write(ChordRow.Of(analysis), table);
        //// end
    }

    /// <summary>Prints a line for each of several cues.</summary>
    public void Compare()
    {
        //// compare
        var cues = Directory.GetFiles(At("testdata/cues"), "*.musicxml").Order(StringComparer.Ordinal)
            .Select(path => TabledCue.Of(Path.GetFileNameWithoutExtension(path), CueAnalysis.Of(ScoreFile.Load(path).Score)));
        foreach (var row in ComparisonRow.Of([.. cues], Band.Default))
            Console.WriteLine($"{row.Cue.Name}: {ShareText.Percent(row.Density.Whole.OutsideTime)}, {row.Density.Verdict.Name()} the band");
        //// end
    }

    /// <summary>Prints the tones of numerals; needs no score.</summary>
    public void Theory()
    {
        //// theory
        var key = Key.Parse("C minor");
        var sixth = Numeral.Parse("Ger65");
        Console.WriteLine($"{sixth} in {key}: {string.Join(' ', sixth.Tones(key))}");
        if (!Numeral.TryParse("V65/V", key.Mode, out var dominant)) return;
        Console.WriteLine($"{dominant} in {key}: {ChordName.Of(key, dominant)}");
        //// end
    }

    // The page is read from the repository's folder, the programs run elsewhere.
    private string At(string path) => Path.Combine(root, path);
}
