using ScoreLens.Notation.Midi;
using ScoreLens.Notation.MusicXml;

namespace ScoreLens.Notation;

/// <summary>A score read from a file, with the MusicXML document that a writer can add labels to.</summary>
/// <param name="Score">The score.</param>
/// <param name="MusicXml">The document that it was read from; null where the file was not MusicXML.</param>
public sealed record ScoreFile(Score Score, MusicXmlDocument? MusicXml)
{
    /// <summary>The endings of file names that hold scores, with the dot, in lower case.</summary>
    public static IReadOnlyList<string> Extensions { get; } = [".musicxml", ".xml", ".mxl", ".mid", ".midi"];

    /// <summary>What was read all the same, and should be put right in the file.</summary>
    public IReadOnlyList<ScoreWarning> Warnings => MusicXml?.Warnings ?? MidiWarnings;

    /// <summary>The bytes of the Standard MIDI File that the score was read from; empty where it was none.</summary>
    public ReadOnlyMemory<byte> Midi { get; private init; }

    private IReadOnlyList<ScoreWarning> MidiWarnings { get; init; } = [];

    /// <summary>
    /// One movement of it as a file of its own, with its start at zero; the file itself where it holds that movement alone.
    /// </summary>
    /// <param name="movement">The number of the movement, from 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">The score has no such movement.</exception>
    public ScoreFile Only(int movement)
    {
        var movements = Score.Movements;
        var found = movements.FirstOrDefault(m => m.Number == movement)
            ?? throw new ArgumentOutOfRangeException(nameof(movement), movement, $"The score has {movements.Count} movements.");
        if (movements.Count == 1) return this;
        // Only a MusicXML file has measure numbers that begin again.
        var document = MovementDocument.Of(MusicXml!, found);
        return this with { Score = MusicXmlReader.Read(document), MusicXml = document };
    }

    /// <summary>Reads a file. The format is told by the content, not by the name.</summary>
    /// <param name="path">The file.</param>
    /// <param name="options">How it is read; null for the usual way.</param>
    /// <param name="cancellationToken">Gives the reading up.</param>
    /// <exception cref="ScoreFormatException">The file is not a score that can be read.</exception>
    /// <exception cref="IOException">The file cannot be opened.</exception>
    /// <exception cref="UnauthorizedAccessException">The file may not be opened.</exception>
    /// <exception cref="OperationCanceledException">The reading was given up.</exception>
    public static ScoreFile Load(string path, ScoreReadOptions? options = null, CancellationToken cancellationToken = default)
    {
        var bytes = (options ?? ScoreReadOptions.Default).Limits.Read(path, cancellationToken);
        try
        {
            return Parse(bytes, options, cancellationToken);
        }
        catch (ScoreFormatException e) when (bytes.Length > 0 && Path.GetExtension(path).ToUpperInvariant() is ".MID" or ".MIDI"
            && !MidiReader.IsMidi(bytes))
        {
            // Who named it so expects to hear of MIDI, not of XML.
            throw new ScoreFormatException("This is no Standard MIDI File, whose header is missing, and no MusicXML either; export it "
                + "again.", inner: e);
        }
    }

    /// <summary>Reads a stream from where it stands to its end; it is left open.</summary>
    /// <param name="stream">The stream; need not be able to seek.</param>
    /// <param name="options">How it is read; null for the usual way.</param>
    /// <param name="cancellationToken">Gives the reading up.</param>
    /// <exception cref="ScoreFormatException">The stream does not hold a score that can be read.</exception>
    /// <exception cref="IOException">The stream cannot be read.</exception>
    /// <exception cref="OperationCanceledException">The reading was given up.</exception>
    public static ScoreFile Load(Stream stream, ScoreReadOptions? options = null, CancellationToken cancellationToken = default)
    {
        ArgumentNullException.ThrowIfNull(stream);
        return Parse((options ?? ScoreReadOptions.Default).Limits.Read(stream, cancellationToken), options, cancellationToken);
    }

    /// <summary>Reads the bytes of a file.</summary>
    /// <param name="bytes">The bytes.</param>
    /// <param name="options">How they are read; null for the usual way.</param>
    /// <param name="cancellationToken">Gives the reading up.</param>
    /// <exception cref="ScoreFormatException">The bytes are not a score that can be read.</exception>
    /// <exception cref="OperationCanceledException">The reading was given up.</exception>
    public static ScoreFile Parse(byte[] bytes, ScoreReadOptions? options = null, CancellationToken cancellationToken = default)
    {
        ArgumentNullException.ThrowIfNull(bytes);
        cancellationToken.ThrowIfCancellationRequested();
        var limits = (options ?? ScoreReadOptions.Default).Limits;
        if (bytes.LongLength > limits.MaxFileBytes)
            throw new ScoreFormatException("The file is larger than a score can be; it is not read.");
        if (MidiReader.IsMidi(bytes))
            return new ScoreFile(MidiReader.Read(bytes, limits, out var warnings, cancellationToken), null) { Midi = bytes, MidiWarnings = warnings };
        var document = MusicXmlDocument.Parse(bytes, limits, cancellationToken);
        return new ScoreFile(MusicXmlReader.Read(document, options, cancellationToken), document);
    }
}
