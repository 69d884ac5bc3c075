using ScoreLens.Notation;
using ScoreLens.Notation.MusicXml;
using ScoreLens.Output.Annotation;

namespace ScoreLens.Cli.Shared;

/// <summary>Reads inputs as scores to analyse.</summary>
internal static class ScoreLoading
{
    /// <summary>
    /// Reads a score without the labels that an earlier run wrote into it, so that an analysis never reads its own chord symbols.
    /// The document that comes with it is the one on disk.
    /// </summary>
    /// <exception cref="ScoreFormatException">The file is not a score that can be read.</exception>
    public static ScoreFile Load(ScoreInput input)
    {
        var file = ScoreFile.Load(input.Path);
        if (file.MusicXml is not { } document) return file;
        var plain = AnnotatedScore.Unlabelled(document);
        return ReferenceEquals(plain, document) ? file : file with { Score = MusicXmlReader.Read(plain) };
    }
}
