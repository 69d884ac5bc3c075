using ScoreLens.Reharmonising.Voicing;

namespace ScoreLens.Reharmonising.Wording;

/// <summary>Why a chord is not written at a place, in a sentence.</summary>
internal static class ObstacleWords
{
    /// <summary>The sentence, which begins in lower case after a colon.</summary>
    public static string Of(Obstacle obstacle) => obstacle switch
    {
        OnlyMelody { Also: BesideMelody.Unison } => "every part goes in unison or octaves with the melody here, so there is no "
            + "accompaniment to rewrite.",
        OnlyMelody { Also: BesideMelody.Symbols } => "the score gives chord symbols here and no accompaniment, so there are no notes to "
            + "rewrite.",
        OnlyMelody { Also: BesideMelody.Percussion } => "apart from percussion without pitch nothing but the melody sounds here, so there "
            + "is no accompaniment to rewrite.",
        NotCarried { Melody: { } tone } against => $"the melody's {tone} is no tone of {against.Chord}, nor does it pass or lean there.",
        NotCarried against => $"the melody has no tone of {against.Chord}.",
        DoesNotFollow after => $"{after.Chord}, the plain chord behind it, does not follow {after.Before} as it should.",
        NothingBehind => "no plain chord of the key stands behind it.",
        OnlyMelody => "nothing but the melody sounds here, so there is no accompaniment to rewrite.",
        AllHeld => "every note under the melody here is held from before or into what follows.",
        HeldNote held => $"{held.Pitch} is held {(held.IsFromBefore ? "from before" : "into what follows")} and is no tone of "
            + $"{held.Chord}.",
        OtherBass bass => $"{bass.Pitch} is {(bass.IsHeld ? "held" : "the melody's")} in the bass, where {bass.Chord} has {bass.Bass}.",
        NoRoom room => $"the notes that may move reach no setting of {room.Chord} in range and under the melody.",
        TooFewNotes few => $"there are too few notes under the melody for {few.Chord}: {few.Missing} would be missing.",
        FaultyVoices { Faults: VoicingFaults.Parallels } voices =>
            $"every setting of {voices.Chord} that was found has fifths or octaves in parallel which the score does not have.",
        FaultyVoices { Faults: VoicingFaults.Doubled } voices =>
            $"every setting of {voices.Chord} that was found doubles its leading tone, its seventh or a chromatic tone.",
        FaultyVoices voices =>
            $"every setting of {voices.Chord} that was found has new parallel fifths or octaves and doubles a tone that should not be "
                + $"doubled.",
        _ => throw new ArgumentOutOfRangeException(nameof(obstacle)),
    };
}
