using ScoreLens.Theory;

namespace ScoreLens.Reharmonising.Voicing;

/// <summary>Why a chord is not written at a place, as facts; the sentences stand in Wording.</summary>
internal abstract record Obstacle;

/// <summary>Nothing but the melody sounds.</summary>
/// <param name="Also">What the score has beside it.</param>
internal sealed record OnlyMelody(BesideMelody Also) : Obstacle;

/// <summary>The chord does not carry a note of the melody, or has none of its tones where there is no such note.</summary>
internal sealed record NotCarried(string Chord, Tone? Melody) : Obstacle;

/// <summary>The chord may not follow the one before.</summary>
internal sealed record DoesNotFollow(string Chord, Numeral Before) : Obstacle;

/// <summary>No plain chord of the key stands behind a coloured one.</summary>
internal sealed record NothingBehind : Obstacle;

/// <summary>What a score has beside a melody that is alone.</summary>
internal enum BesideMelody
{
    Nothing,

    /// <summary>Other parts, in unison or octaves with it.</summary>
    Unison,

    /// <summary>Chord symbols of the score's own.</summary>
    Symbols,

    /// <summary>Parts without pitch.</summary>
    Percussion,
}

/// <summary>Every note under the melody is held into the span or out of it.</summary>
internal sealed record AllHeld : Obstacle;

/// <summary>A note that is held into the span or out of it is no tone of the chord.</summary>
internal sealed record HeldNote(string Chord, Pitch Pitch, bool IsFromBefore) : Obstacle;

/// <summary>A note that stays is the lowest, and the chord has another bass.</summary>
internal sealed record OtherBass(string Chord, Pitch Pitch, Tone Bass, bool IsHeld) : Obstacle;

/// <summary>The notes that may move do not reach tones of the chord in range and under the melody.</summary>
internal sealed record NoRoom(string Chord) : Obstacle;

/// <summary>A member without which it is another chord would be missing.</summary>
internal sealed record TooFewNotes(string Chord, Tone Missing) : Obstacle;

/// <summary>Every setting breaks a rule of part-writing.</summary>
internal sealed record FaultyVoices(string Chord, VoicingFaults Faults) : Obstacle;
