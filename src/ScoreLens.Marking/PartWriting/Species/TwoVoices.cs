using ScoreLens.Theory;

namespace ScoreLens.Marking.PartWriting.Species;

/// <summary>A note of the counterpoint against a note of the cantus firmus, from when both sound.</summary>
/// <param name="Line">The counterpoint's note.</param>
/// <param name="Cantus">The cantus firmus's note.</param>
internal sealed record Sounding(LineNote Line, LineNote Cantus)
{
    /// <summary>When both sound.</summary>
    public Fraction Onset => Fraction.Max(Line.Onset, Cantus.Onset);

    /// <summary>Whether the cantus firmus enters here: a strong place.</summary>
    public bool IsStrong => Line.Onset <= Cantus.Onset;

    /// <summary>Whether the counterpoint's note is held from before.</summary>
    public bool IsHeld => Line.Onset < Cantus.Onset;

    /// <summary>The interval, whichever voice is above.</summary>
    public Interval Interval => Interval.Between(Cantus.Pitch, Line.Pitch).Size;

    /// <summary>Unison, octave or perfect fifth, with or without octaves.</summary>
    public bool IsPerfect => Interval.IsOctave || Interval.IsFifth;

    /// <summary>A perfect consonance, or a major or minor third or sixth, with or without octaves. The fourth is a dissonance in two
    /// voices.</summary>
    public bool IsConsonant => IsPerfect || (Interval.Steps % 7, Interval.Semitones % 12) is (2, 3 or 4) or (5, 8 or 9);

    /// <summary>The generic size within the octave: 0 for unison and octave, 2 for a third.</summary>
    public int Steps => Interval.Steps % 7;
}

/// <summary>A cantus firmus and its counterpoint as the rules of the species see them.</summary>
internal sealed class TwoVoices
{
    private TwoVoices(VoicedProgression progression)
    {
        Species = progression.Options.Species;
        IsCantusUpper = progression.Options.IsCantusUpper;
        Cantus = progression.Voices[IsCantusUpper ? 0 : 1];
        Line = progression.Voices[IsCantusUpper ? 1 : 0];
        Soundings =
        [
            .. Cantus.SelectMany(c => Line.Where(l => l.Onset < c.End && l.End > c.Onset).Select(l => new Sounding(l, c)))
                .OrderBy(s => s.Onset),
        ];
    }

    /// <summary>The species, 1 to 4.</summary>
    public int Species { get; }

    /// <summary>Whether the cantus firmus lies above.</summary>
    public bool IsCantusUpper { get; }

    /// <summary>The cantus firmus.</summary>
    public IReadOnlyList<LineNote> Cantus { get; }

    /// <summary>The counterpoint.</summary>
    public IReadOnlyList<LineNote> Line { get; }

    /// <summary>Every note of the counterpoint against every note of the cantus firmus that it sounds with, in order.</summary>
    public IReadOnlyList<Sounding> Soundings { get; }

    /// <summary>The two voices of an exercise; null where it has not two.</summary>
    public static TwoVoices? Of(VoicedProgression progression) =>
        progression.Voices is [{ Count: > 0 }, { Count: > 0 }] ? new TwoVoices(progression) : null;

    /// <summary>The counterpoint's note after another; null at the end.</summary>
    public LineNote? After(LineNote note) => note.Place + 1 < Line.Count ? Line[note.Place + 1] : null;

    /// <summary>The counterpoint's note before another; null at the beginning.</summary>
    public LineNote? Before(LineNote note) => note.Place > 0 ? Line[note.Place - 1] : null;
}
