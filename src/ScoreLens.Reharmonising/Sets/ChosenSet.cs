using ScoreLens.Density;
using ScoreLens.Theory;

namespace ScoreLens.Reharmonising.Sets;

/// <summary>What a set of chords should do to the colour of a passage.</summary>
public enum ColourWish
{
    /// <summary>Bring the share of time outside the key into the band.</summary>
    IntoBand,

    /// <summary>Raise it: into the band where the passage lies below it, else by 5 to 15 points.</summary>
    More,

    /// <summary>Lower it: into the band where the passage lies above it, else by 5 to 15 points.</summary>
    Less,
}

/// <summary>Chords that together bring a passage where it is wanted.</summary>
/// <param name="Analysis">The analysis whose chords the choices count: that of the score, or one in which a chord is divided or several
/// are one, where the set asks for that.</param>
/// <param name="Choices">The choices by onset; none where the passage is there already, or nothing helps.</param>
/// <param name="Goal">The shares between which the passage should lie.</param>
/// <param name="Before">Its share of time outside the key, 0..1.</param>
/// <param name="After">The same with the choices in the score, as it is then read.</param>
public sealed record ChosenSet(CueAnalysis Analysis, IReadOnlyList<Choice> Choices, Band Goal, Fraction Before, Fraction After)
{
    /// <summary>Whether the passage lies where it is wanted.</summary>
    public bool IsReached => Goal.Judge(After) == Verdict.Within;
}
