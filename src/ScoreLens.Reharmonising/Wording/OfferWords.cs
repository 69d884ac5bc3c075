using ScoreLens.Devices;
using ScoreLens.Theory;

namespace ScoreLens.Reharmonising.Wording;

/// <summary>Why a chord is offered: one sentence of where it goes and what of the melody it carries.</summary>
internal static class OfferWords
{
    /// <summary>The sentence.</summary>
    /// <param name="chord">The chord.</param>
    /// <param name="reason">Why a rule offers it.</param>
    /// <param name="place">The place.</param>
    /// <param name="fit">How it carries the melody.</param>
    /// <param name="found">What it is found to be there.</param>
    public static string Of(ChordName chord, OfferReason reason, ChordPlace place, MelodyFit fit, TaggedChord found)
    {
        var what = reason is InVocabulary ? Found(found, place) : Why(reason, place);
        var on = found.Resolution switch
        {
            Resolution.Unresolved => "; it does not go on as such a chord is expected to",
            Resolution.Delayed => "; it goes on later",
            _ => "",
        };
        return $"{chord} is {what}{on}; {MelodyWords.Of(fit)}.";
    }

    private static string Found(TaggedChord found, ChordPlace place) => found.Device switch
    {
        null => "a chord of the key",
        Device.AugmentedSixth => "an augmented sixth",
        Device.Neapolitan => "the Neapolitan",
        Device.SecondaryDominant => $"a dominant of {found.Target}",
        Device.SecondaryLeadingTone => $"a leading-tone chord of {found.Target}",
        Device.TritoneSubstitute => "a tritone substitute",
        Device.ModalMixture => $"borrowed from {place.Key.Parallel}",
        Device.CommonToneDiminished => "a common-tone diminished seventh",
        Device.ChromaticMediant => "a chromatic mediant",
        Device.DoubleChromaticMediant => "a double chromatic mediant",
        Device.AlteredDominant => "an altered dominant",
        _ => "a chord from outside the key that is none of the named devices",
    };

    // What follows the chord's name and "is".
    private static string Why(OfferReason reason, ChordPlace place) => reason switch
    {
        RaisedFifth { HasSeventh: false } => $"the dominant with a raised fifth, which rises as {place.After!.Numeral} follows",
        RaisedFifth => $"the dominant seventh with a raised fifth, which rises as {place.After!.Numeral} follows",
        LeadsOn { Chord: LeadingChord.Dominant, HasSeventh: false } => $"a dominant of {Follows(place)}",
        LeadsOn { HasSeventh: false } => $"the diminished triad on the leading tone of {Follows(place)}",
        LeadsOn { Chord: LeadingChord.Dominant } => $"the dominant seventh of {Follows(place)}",
        LeadsOn { Chord: LeadingChord.Diminished } => $"the diminished seventh on the leading tone of {Follows(place)}",
        LeadsOn => $"the half-diminished seventh on the leading tone of {Follows(place)}",
        KeepsRoot => $"the diminished seventh that keeps the root of {Follows(place)}",
        SameFunction => place.Function switch
        {
            HarmonicFunction.Tonic => $"a chord of the key that can stand for the tonic in place of {place.Chord.Numeral}",
            HarmonicFunction.Predominant => $"a chord of the key that prepares the dominant as {place.Chord.Numeral} does",
            _ => $"a dominant of the key in place of {place.Chord.Numeral}",
        },
        DominantOfTonic => $"a dominant of {Follows(place)}",
        PreparesDominant => $"a chord of the key that prepares {Follows(place)}",
        ThirdFrom { IsSameQuality: true } third => $"a third from {third.Neighbour}, with one tone in common",
        ThirdFrom third => $"a third from {third.Neighbour}, of the other quality and with no tone in common",
        Borrowed borrowed => $"borrowed from {place.Key.Parallel} and {borrowed.Use switch
        {
            BorrowedUse.Prepares => $"prepares {Follows(place)}",
            BorrowedUse.Leads => $"leads to {Follows(place)}",
            _ => $"stands for {place.Chord.Numeral}",
        }}",
        NeapolitanBefore => $"the Neapolitan sixth, which prepares {Follows(place)}",
        SixthBefore { OpensToOctave: true } sixth =>
            $"{sixth.Name} sixth whose outer tones open to the octave on {Dominant(place)} in {Follows(place)}",
        SixthBefore sixth =>
            $"{sixth.Name} sixth whose flat sixth and sharp fourth degrees lead to the {Dominant(place)} of {Follows(place)}",
        TritoneOfDominant => $"the tritone substitute of the dominant of {Follows(place)}",
        PlainBehind => $"the plain chord of the key that {place.Chord.Numeral} colours",
        _ => throw new ArgumentOutOfRangeException(nameof(reason)),
    };

    private static Tone Dominant(ChordPlace place) => place.Key.Tonic + 1;

    private static string Follows(ChordPlace place) => place.After is { } after ? $"{after.Numeral}, which follows" : "what follows";
}
