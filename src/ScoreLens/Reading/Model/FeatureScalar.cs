namespace ScoreLens.Reading.Model;

/// <summary>
/// What a row of features says of a vertical in single numbers, beside its planes and the cues of grouping. Lengths are in quarter notes.
/// A weights file knows them by name, so that their order here is free.
/// </summary>
internal enum FeatureScalar
{
    /// <summary>How strong the place in the measure is, 0..1.</summary>
    MetricalWeight,

    /// <summary>Share of the measure that has gone by, 0..1.</summary>
    PlaceInMeasure,

    /// <summary>Share of the beat that has gone by, 0..1.</summary>
    PlaceInBeat,

    /// <summary>The binary logarithm of the duration, a quarter of it.</summary>
    LogDuration,

    /// <summary>The duration in beats, half of it, 1 for two and more.</summary>
    DurationInBeats,

    /// <summary>How many different tones sound, an eighth of it; doublings count once, in whatever octave.</summary>
    SoundingTones,

    /// <summary>1 where nothing sounds.</summary>
    Silent,

    /// <summary>Length of the measure, a quarter of it, 2 for eight quarter notes and more.</summary>
    MeasureLength,

    /// <summary>1 in a compound metre.</summary>
    CompoundMetre,

    /// <summary>1 in a simple triple metre.</summary>
    TripleMetre,

    /// <summary>How many verticals the measure has, a twelfth of it, 2 for 24 and more.</summary>
    VerticalsInMeasure,

    /// <summary>1 at the start of the piece, falling to 0 after sixteen quarter notes.</summary>
    NearStart,

    /// <summary>1 at the end of the piece, rising from 0 sixteen quarter notes before.</summary>
    NearEnd,

    /// <summary>1 where the measure ends with a double, final or repeat bar line.</summary>
    BarlineAfterMeasure,

    /// <summary>1 where nothing sounds just before.</summary>
    SilenceBefore,

    /// <summary>1 where nothing sounds just after.</summary>
    SilenceAfter,

    /// <summary>Share of the sounding tones that are struck here.</summary>
    StruckShare,

    /// <summary>1 where the bass is struck here.</summary>
    BassStruck,

    /// <summary>1 on the downbeat.</summary>
    Downbeat,

    /// <summary>Length of a beat, half of it.</summary>
    BeatLength,

    /// <summary>The binary logarithm of the duration before, a quarter of it.</summary>
    LogDurationBefore,

    /// <summary>Always 1.</summary>
    Constant,

    /// <summary>
    /// How far the bass lies above the lowest note of four quarter notes either side, in units of an octave and a half, 2 at most. The
    /// height is told by what is near, so that the same music in another octave looks the same.
    /// </summary>
    BassHeight,

    /// <summary>1 where the bass is a pedal.</summary>
    BassIsPedal,
}
