using ScoreLens.Notation;
using ScoreLens.Notation.MusicXml;
using ScoreLens.Output.Annotation;
using ScoreLens.Output.Midi;

namespace ScoreLens.Reharmonising.Writing;

/// <summary>Writes alternatives into the score that they were found for, and as a file to listen to.</summary>
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
        ArgumentNullException.ThrowIfNull(alternative);
        return MusicXml(source, score, [alternative.Rewriting]);
    }

    /// <summary>The same for several rewritings at once, no two of which share a note.</summary>
    /// <param name="source">The document that the score was read from.</param>
    /// <param name="score">The score, read without labels of ours.</param>
    /// <param name="rewritings">What is written.</param>
    /// <returns>The bytes of a file of the same kind: XML, or a compressed package of which only the score has changed.</returns>
    /// <exception cref="InvalidOperationException">One cannot be written; it says why.</exception>
    /// <exception cref="ArgumentException">The score was not read from this document.</exception>
    public static byte[] MusicXml(MusicXmlDocument source, Score score, IReadOnlyList<Rewriting> rewritings)
    {
        ArgumentNullException.ThrowIfNull(source);
        ArgumentNullException.ThrowIfNull(score);
        ArgumentNullException.ThrowIfNull(rewritings);
        if (rewritings.FirstOrDefault(r => !r.IsPossible) is { } blocked) throw new InvalidOperationException(blocked.Obstacle);
        var plain = AnnotatedScore.Unlabelled(source);
        var writer = new PitchWriter(plain, score, rewritings);
        return plain.WithSource(writer.Write()).ToBytes();
    }

    /// <summary>The score with the alternative as a Standard MIDI File of type 1, a track a part, at its tempos, else 120 quarter notes a
    /// minute.</summary>
    /// <exception cref="InvalidOperationException">The alternative cannot be written; its rewriting says why.</exception>
    public static byte[] Midi(Score score, Alternative alternative)
    {
        ArgumentNullException.ThrowIfNull(alternative);
        return Midi(score, [alternative.Rewriting]);
    }

    /// <summary>The same for several rewritings at once; for none, the score as it is, to compare with.</summary>
    /// <exception cref="InvalidOperationException">One cannot be written; it says why.</exception>
    public static byte[] Midi(Score score, IReadOnlyList<Rewriting> rewritings)
    {
        ArgumentNullException.ThrowIfNull(rewritings);
        return MidiWriter.Write(rewritings.Aggregate(score, (written, rewriting) => rewriting.ApplyTo(written)));
    }
}
