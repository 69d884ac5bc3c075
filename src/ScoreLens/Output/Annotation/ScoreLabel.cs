using ScoreLens.Theory;

namespace ScoreLens.Output.Annotation;

/// <summary>Something to be written into a score at a place.</summary>
/// <param name="Part">Index of the part, from 0.</param>
/// <param name="Staff">Staff inside the part, from 1.</param>
/// <param name="Onset">Quarter notes from the start of the score.</param>
internal abstract record ScoreLabel(int Part, int Staff, Fraction Onset)
{
    /// <summary>Colour as <c>#RRGGBB</c>; null for the program's own, black.</summary>
    public string? Colour { get; init; }
}

/// <summary>
/// One line of text in a lyric line of its own under the note that starts here; words below the staff where no note of the
/// staff starts. Lines are our own from 1 and come below the lines that the part has.
/// </summary>
internal sealed record LyricLabel(int Part, int Staff, Fraction Onset, string Text, int Line = 1) : ScoreLabel(Part, Staff, Onset);

/// <summary>One line of text as words above or below the staff.</summary>
internal sealed record WordsLabel(int Part, int Staff, Fraction Onset, string Text, bool IsAbove = false) : ScoreLabel(Part, Staff, Onset)
{
    /// <summary>Whether it goes on in the line of the words before it, instead of a line of its own.</summary>
    public bool Continues { get; init; }
}

/// <summary>A chord symbol above the staff, given at concert pitch and written in the part's own pitch.</summary>
internal sealed record ChordSymbolLabel(int Part, int Staff, Fraction Onset, ChordName Chord) : ScoreLabel(Part, Staff, Onset)
{
    /// <summary>How its quality is spelled.</summary>
    public SymbolSpelling Spelling { get; init; }
}

/// <summary>
/// A Roman numeral as harmony below the staff, with its local key at concert pitch, which is printed where
/// it is to be shown, as at its start.
/// </summary>
internal sealed record NumeralLabel(int Part, int Staff, Fraction Onset, Key Key, Numeral Numeral, bool ShowsKey = false)
    : ScoreLabel(Part, Staff, Onset);

/// <summary>Notes to be coloured: those of a pitch in a voice that start from a time on and before another.</summary>
/// <param name="Part">Index of the part, from 0.</param>
/// <param name="Staff">Staff inside the part, from 1.</param>
/// <param name="Voice">Voice name inside the part.</param>
/// <param name="Pitch">Concert pitch.</param>
/// <param name="Onset">Quarter notes from the start of the score.</param>
/// <param name="End">Where the sound ends, so that the notes tied to the first are coloured too.</param>
/// <param name="Colour">Colour as <c>#RRGGBB</c>.</param>
internal sealed record NoteColour(int Part, int Staff, string Voice, Pitch Pitch, Fraction Onset, Fraction End, string Colour)
{
    /// <summary>The colour of a sounding note with all that is tied to it.</summary>
    public static NoteColour Of(Sonorities.SoundingNote note, string colour) =>
        new(note.Part, note.Staff, note.Voice, note.Pitch, note.Onset, note.End, colour);
}

/// <summary>Everything that is to be written into a score in one go.</summary>
/// <param name="Layer">
/// Who writes, one word: writing a layer replaces what the same layer wrote before and leaves the others in place.
/// </param>
/// <param name="Labels">The labels; those of one place are written in this order.</param>
/// <param name="Colours">Notes to be coloured.</param>
internal sealed record LabelPlan(string Layer, IReadOnlyList<ScoreLabel> Labels, IReadOnlyList<NoteColour> Colours);
