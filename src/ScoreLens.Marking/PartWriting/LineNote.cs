using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Marking.PartWriting;

/// <summary>A note of a voice, its ties joined.</summary>
/// <param name="Voice">The voice, from 0, the highest first.</param>
/// <param name="Place">Place in its voice, from 0.</param>
/// <param name="Note">The note.</param>
internal sealed record LineNote(int Voice, int Place, SoundingNote Note)
{
    public Pitch Pitch => Note.Pitch;

    public Fraction Onset => Note.Onset;

    public Fraction End => Note.End;
}
