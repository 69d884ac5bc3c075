using ScoreLens.Theory;

namespace ScoreLens.Notation;

/// <summary>A pitched note as it is written: tied notes are separate notes.</summary>
/// <param name="Pitch">Spelled concert pitch.</param>
/// <param name="Onset">Quarter notes from the start of the score.</param>
/// <param name="Duration">Quarter notes; zero for a grace note.</param>
/// <param name="Part">Index of its part.</param>
/// <param name="Staff">Staff inside the part, from 1.</param>
/// <param name="Voice">Voice name inside the part, as the file writes it; <c>1</c> where it writes none.</param>
/// <param name="Marks">Ties, grace, cue and the marks that show phrasing.</param>
public sealed record Note(Pitch Pitch, Fraction Onset, Fraction Duration, int Part, int Staff, string Voice, NoteMarks Marks)
{
    /// <summary>Where it ends as written.</summary>
    public Fraction End => Onset + Duration;

    /// <summary>Whether it continues a note before it, so that nothing is struck.</summary>
    public bool IsTiedFrom => Marks.HasFlag(NoteMarks.TieStop);

    /// <summary>Whether it is held into the next note.</summary>
    public bool IsTiedTo => Marks.HasFlag(NoteMarks.TieStart);

    /// <summary>Whether it counts as harmony: neither grace nor cue note, with a length.</summary>
    public bool IsHarmonic => (Marks & (NoteMarks.Grace | NoteMarks.Cue)) == 0 && Duration.Sign > 0;
}

/// <summary>What is marked on a note.</summary>
[Flags]
public enum NoteMarks
{
    /// <summary>Nothing is marked.</summary>
    None = 0,

    /// <summary>Tied to the next note of the same pitch.</summary>
    TieStart = 1,

    /// <summary>Tied from the note before.</summary>
    TieStop = 2,

    /// <summary>A grace note: no time of its own.</summary>
    Grace = 4,

    /// <summary>A cue note: belongs to another part.</summary>
    Cue = 8,

    /// <summary>Under a fermata.</summary>
    Fermata = 16,

    /// <summary>A slur begins here.</summary>
    SlurStart = 32,

    /// <summary>A slur ends here.</summary>
    SlurStop = 64,

    /// <summary>Follows a breath mark or caesura written on the note before, or carries one that ends it.</summary>
    BreathAfter = 128,

    /// <summary>Not spelled by the file (MIDI): the spelling is a guess.</summary>
    GuessedSpelling = 256,
}

/// <summary>A rest.</summary>
/// <param name="Onset">Quarter notes from the start of the score.</param>
/// <param name="Duration">Quarter notes.</param>
/// <param name="Part">Index of its part.</param>
/// <param name="Staff">Staff inside the part, from 1.</param>
/// <param name="Voice">Voice name inside the part.</param>
public sealed record Rest(Fraction Onset, Fraction Duration, int Part, int Staff, string Voice);

/// <summary>A chord symbol that the score carries.</summary>
/// <param name="Onset">Quarter notes from the start of the score.</param>
/// <param name="Part">Index of its part.</param>
/// <param name="Root">Root at concert pitch; null for "no chord".</param>
/// <param name="Kind">MusicXML's kind value (<c>major</c>, <c>dominant</c>, <c>minor-seventh</c>, <c>none</c> …).</param>
/// <param name="Bass">Bass where it is not the root.</param>
/// <param name="Tones">The chord's tones, root first, alterations applied; empty where the kind is none or other.</param>
public sealed record ChordSymbol(Fraction Onset, int Part, Tone? Root, string Kind, Tone? Bass, IReadOnlyList<Tone> Tones)
{
    /// <summary>Whether ScoreLens wrote it; read only where <see cref="ScoreReadOptions.KeepsOwnLabels"/> asks for it.</summary>
    public bool IsOwn { get; init; }

    /// <summary>The chord above it in a polychord; null where one chord is written.</summary>
    public ChordSymbol? Upper { get; init; }
}

/// <summary>Text that stands in the score.</summary>
/// <param name="Onset">Quarter notes from the start of the score.</param>
/// <param name="Part">Index of its part.</param>
/// <param name="Staff">Staff inside the part, from 1.</param>
/// <param name="Kind">What carries it.</param>
/// <param name="Text">The text.</param>
/// <param name="Line">A lyric's line (the MusicXML <c>number</c>), else empty.</param>
/// <param name="LineName">A lyric's line name, else empty.</param>
public sealed record ScoreText(Fraction Onset, int Part, int Staff, ScoreTextKind Kind, string Text, string Line = "", string LineName = "")
{
    /// <summary>Whether ScoreLens wrote it; read only where <see cref="ScoreReadOptions.KeepsOwnLabels"/> asks for it.</summary>
    public bool IsOwn { get; init; }

    /// <summary>How long a line of extension holds the figures of a figured bass, in quarter notes from their onset; zero where they have
    /// none.</summary>
    public Fraction Extends { get; init; }
}

/// <summary>Which element carries a <see cref="ScoreText"/>.</summary>
public enum ScoreTextKind
{
    /// <summary>A lyric syllable.</summary>
    Lyric,

    /// <summary>Words of a direction.</summary>
    Words,

    /// <summary>A rehearsal mark.</summary>
    Rehearsal,

    /// <summary>A harmony element with a Roman numeral or a functional name, in the plain form.</summary>
    Numeral,

    /// <summary>Figured bass, figures from the top down, as <c>6 4</c> or <c>#6</c>.</summary>
    FiguredBass,
}
