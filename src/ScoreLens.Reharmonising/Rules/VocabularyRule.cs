using ScoreLens.Reharmonising.Experts;
using ScoreLens.Theory;

namespace ScoreLens.Reharmonising.Rules;

/// <summary>
/// Every other chord that experts have in music of the key's mode (<see cref="ExpertChoices"/>), as whatever it then is there: what no
/// other rule knows a reason for may be right all the same. What opens or ends a cue takes chords of the key alone.
/// </summary>
internal sealed class VocabularyRule : ISubstitutionRule
{
    public IEnumerable<Substitution?> Offer(ChordPlace place)
    {
        foreach (var word in ExpertChoices.Default.Vocabulary(place.Key.Mode))
        {
            var numeral = Named(place.Key, word);
            // A cadential six-four is a delay of the dominant and no chord to choose for itself.
            if (numeral.Kind == NumeralKind.CadentialSixFour) continue;
            var isDiatonic = Diatonic.Contains(place.Key, numeral);
            if (!place.IsBetween && !(isDiatonic && numeral.Degree != 1 && place.Function != HarmonicFunction.Tonic)) continue;
            yield return Substitution.Of(numeral, null, new InVocabulary(), InversionsOf(numeral)) is { } offer
                ? offer with { IsAnyDevice = true } : null;
        }
    }

    // What is applied to a degree of the key is applied to the scale's own triad there, as the reader names it.
    private static Numeral Named(Key key, Numeral word) => word is { Kind: NumeralKind.Plain, Target: { Of: null } target }
        && target.In(key).Tonic is var goal && OwnDegrees.Has(key, goal) && OwnDegrees.Target(key, goal, target.Mode) is { } own
            && own != target && new Numeral(word.Degree, word.Quality, 0, word.Alteration, own) is var named
            && named.Tones(key).SequenceEqual(word.Tones(key)) ? named : word;

    // Six-fours are no places to rest, and a sixth has its flat sixth in the bass.
    private static int[] InversionsOf(Numeral numeral) => numeral.Quality.IsAugmentedSixth() ? [0]
        : numeral.Quality.IsSeventh() ? [0, 1, 2, 3]
        : numeral.Quality == ChordQuality.Diminished ? [1, 0] : [0, 1];
}
