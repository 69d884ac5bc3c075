using ScoreLens.Theory;

namespace ScoreLens.Devices;

/// <summary>A chord as a row of the table names it.</summary>
/// <param name="Key">The row's key.</param>
/// <param name="Numeral">The row's numeral.</param>
internal sealed record NamedChord(Key Key, Numeral Numeral);

/// <summary>A tone of a chord that sounds while the chord lasts, or that the score's own chord symbol or figures write.</summary>
/// <param name="Meant">As the numeral means it in the key.</param>
/// <param name="Written">As the score writes it.</param>
/// <param name="Source">Where it is known from.</param>
internal sealed record SoundedTone(Tone Meant, Tone Written, ToneSource Source = ToneSource.Notes)
{
    /// <summary>Whether it does not sound, but stands in the written symbol or figures.</summary>
    public bool IsWrittenOnly => Source != ToneSource.Notes;
}

/// <summary>Where a tone of a chord is known from.</summary>
internal enum ToneSource
{
    /// <summary>It sounds.</summary>
    Notes,

    /// <summary>The score's own chord symbol stands for it.</summary>
    Symbol,

    /// <summary>The figures over the bass ask for it.</summary>
    Figures,
}

/// <summary>What one voice does with a tone as the chord goes on.</summary>
/// <param name="To">The tone that it goes to, as the score spells it.</param>
/// <param name="Semitones">How far, upwards positive; at most 2 either way, 0 where the tone is held.</param>
/// <param name="Part">Name of the part whose voice it is; null where the score has one part, or the part no name of its own.</param>
internal sealed record ToneMotion(Tone To, int Semitones, string? Part)
{
    /// <summary>Whether the voice rises.</summary>
    public bool Rises => Semitones > 0;

    /// <summary>Whether the voice falls.</summary>
    public bool Falls => Semitones < 0;

    /// <summary>Whether the tone is held or struck again.</summary>
    public bool IsHeld => Semitones == 0;
}

/// <summary>What a tone is in its chord.</summary>
internal enum ToneRole
{
    /// <summary>The leading tone of the degree that the chord is applied to.</summary>
    LeadingTone,

    /// <summary>The seventh of a dominant of that degree.</summary>
    Seventh,

    /// <summary>The root of the Neapolitan.</summary>
    NeapolitanRoot,

    /// <summary>The root of a dominant seventh that stands for another one a tritone away.</summary>
    SubstituteRoot,

    /// <summary>Borrowed from the parallel key.</summary>
    Borrowed,

    /// <summary>The raised fifth of a dominant.</summary>
    RaisedFifth,

    /// <summary>The lowered fifth of a dominant.</summary>
    LoweredFifth,

    /// <summary>The minor seventh of I7 or IV7 in a blues.</summary>
    BluesSeventh,

    /// <summary>Outside the key, and none of these.</summary>
    OutsideKey,
}

/// <summary>Why a chord is no device although its numeral is one's.</summary>
internal enum Doubt
{
    /// <summary>Only one or two different tones sound, and no chord beside it proves it.</summary>
    TooFewTones,

    /// <summary>The tone that would make it one does not sound.</summary>
    ToneMissing,

    /// <summary>The reading is less sure than was asked for.</summary>
    LessSure,
}

/// <summary>
/// Why a chord is a device, as facts: each tone sounds in the chord, each movement is made by one voice, each chord is a row of the table.
/// The room Wording makes a sentence of them. A closed set.
/// </summary>
public abstract record DeviceReason
{
    private protected DeviceReason()
    {
    }
}

/// <summary>One tone makes the device.</summary>
/// <param name="Key">The chord's key.</param>
/// <param name="Tone">The tone.</param>
/// <param name="Role">What it is.</param>
/// <param name="Target">The degree that the role is reckoned from, or null.</param>
/// <param name="Root">The root that the role is reckoned from, or null: of the dominant that is altered, or that is stood for.</param>
/// <param name="Motion">What its voice does; null where no voice makes a step with it.</param>
/// <param name="Course">How the chord goes on.</param>
internal sealed record ToneReason(Key Key, SoundedTone Tone, ToneRole Role, AppliedTarget? Target, Tone? Root, ToneMotion? Motion,
    Course Course) : DeviceReason;

/// <summary>The outer tones of an augmented sixth make the device.</summary>
/// <param name="Key">The chord's key.</param>
/// <param name="Low">The lower tone.</param>
/// <param name="High">The upper tone.</param>
/// <param name="Kind">Italian, French or German.</param>
/// <param name="IsWrittenAsSeventh">Whether the score writes the sixth as a minor seventh.</param>
/// <param name="LowMotion">What a voice does with the lower tone, or null.</param>
/// <param name="HighMotion">What a voice does with the upper tone, or null.</param>
/// <param name="Course">How the chord goes on.</param>
internal sealed record SixthReason(
    Key Key, SoundedTone Low, SoundedTone High, ChordQuality Kind, bool IsWrittenAsSeventh, ToneMotion? LowMotion, ToneMotion? HighMotion,
        Course Course)
    : DeviceReason;

/// <summary>The cadential six-four of a degree delays that degree's dominant.</summary>
/// <param name="Key">The chord's key.</param>
/// <param name="Delaying">The tones that delay the fifth and the third of the dominant.</param>
/// <param name="Target">The degree.</param>
/// <param name="Course">How the chord goes on.</param>
internal sealed record SixFourReason(Key Key, IReadOnlyList<SoundedTone> Delaying, AppliedTarget Target, Course Course) : DeviceReason;

/// <summary>The chord's root lies a third from a neighbour's.</summary>
/// <param name="Chord">The chord.</param>
/// <param name="Other">The neighbour.</param>
/// <param name="IsBefore">Whether the neighbour comes before.</param>
/// <param name="Semitones">From the neighbour's root up to the chord's: 3, 4, 8 or 9.</param>
/// <param name="Common">The tone in common; null where none is.</param>
/// <param name="IsHeld">Whether a voice holds it.</param>
internal sealed record ThirdReason(NamedChord Chord, NamedChord Other, bool IsBefore, int Semitones, SoundedTone? Common, bool IsHeld)
    : DeviceReason;

/// <summary>A diminished seventh keeps the root of a neighbour.</summary>
/// <param name="Key">The chord's key.</param>
/// <param name="Kept">The root that is kept.</param>
/// <param name="Decorated">The neighbour; null where the chord on the kept tone does not follow.</param>
/// <param name="Moving">The tones that a voice takes into the neighbour by step.</param>
/// <param name="ComesBack">Whether the neighbour follows.</param>
/// <param name="Between">Rows that stand between where it follows later.</param>
internal sealed record KeptToneReason(
    Key Key, SoundedTone Kept, NamedChord? Decorated, IReadOnlyList<SoundedTone> Moving, bool ComesBack, IReadOnlyList<NamedChord> Between)
        : DeviceReason;

/// <summary>The major third of a minor key's tonic at a close.</summary>
/// <param name="Key">The chord's key.</param>
/// <param name="Third">The raised third degree.</param>
internal sealed record PicardyReason(Key Key, SoundedTone Third) : DeviceReason;

/// <summary>The chord is reckoned in the key of a degree, which is touched.</summary>
/// <param name="Key">The chord's key.</param>
/// <param name="Tones">Its tones that sound.</param>
/// <param name="Target">The degree.</param>
internal sealed record TouchedKeyReason(Key Key, IReadOnlyList<SoundedTone> Tones, AppliedTarget Target) : DeviceReason;

/// <summary>The numeral is a device's, but the notes do not prove it: the chord is no device.</summary>
/// <param name="Chord">The chord.</param>
/// <param name="Device">The device that it would be.</param>
/// <param name="Doubt">What is missing.</param>
internal sealed record UnprovenReason(NamedChord Chord, Device Device, Doubt Doubt) : DeviceReason;

/// <summary>A sentence that was read from a table.</summary>
/// <param name="Text">The sentence.</param>
internal sealed record QuotedReason(string Text) : DeviceReason;
