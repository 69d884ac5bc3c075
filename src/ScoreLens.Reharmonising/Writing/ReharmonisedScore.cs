using ScoreLens.Notation;
using ScoreLens.Notation.MusicXml;
using ScoreLens.Output.Annotation;
using ScoreLens.Output.Midi;

namespace ScoreLens.Reharmonising.Writing;

/// <summary>Writes an alternative into the score that it was found for, and as a file to listen to.</summary>
public static class ReharmonisedScore
{
    /// <summary>
    /// The document with the alternative's notes in it: their pitches and accidentals change between the characters of the original, and
    /// chord symbols and figures of the span are taken out. Labels of ours are taken out too, since they name the old chord.
    /// </summary>
    /// <param name="source">The document that the score was read from.</param>
    /// <param name="score">The score, read without labels of ours.</param>
    /// <param name="alternative">An alternative that can be written.</param>
    /// <returns>The bytes of a file of the same kind: XML, or a compressed package of which only the score has changed.</returns>
    /// <exception cref="InvalidOperationException">The alternative cannot be written; its rewriting says why.</exception>
    /// <exception cref="ArgumentException">The score was not read from this document.</exception>
    public static byte[] MusicXml(MusicXmlDocument source, Score score, Alternative alternative)
    {
        ArgumentNullException.ThrowIfNull(source);
        ArgumentNullException.ThrowIfNull(score);
        ArgumentNullException.ThrowIfNull(alternative);
        if (!alternative.Rewriting.IsPossible) throw new InvalidOperationException(alternative.Rewriting.Obstacle);
        var plain = AnnotatedScore.Unlabelled(source);
        var writer = new PitchWriter(ScoreMarkup.Of(plain), score, alternative.Rewriting);
        return ScorePackage.Bytes(plain.WithSource(writer.Write()));
    }

    /// <summary>The score with the alternative as a Standard MIDI File of type 1, a track a part, 120 quarter notes a minute.</summary>
    /// <exception cref="InvalidOperationException">The alternative cannot be written; its rewriting says why.</exception>
    public static byte[] Midi(Score score, Alternative alternative)
    {
        ArgumentNullException.ThrowIfNull(alternative);
        return MidiWriter.Write(alternative.Rewriting.ApplyTo(score));
    }
}
