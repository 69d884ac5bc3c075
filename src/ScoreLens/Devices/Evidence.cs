using ScoreLens.Phrases;
using ScoreLens.Sonorities;

namespace ScoreLens.Devices;

/// <summary>What devices are judged by beside the chords.</summary>
/// <param name="Sonorities">The verticals, which tell spelling and voice leading; none where the numerals alone are judged.</param>
/// <param name="Phrases">Phrases and their cadences, which tell a close; none where they are not known.</param>
/// <param name="Parts">Names of the parts in order, for sentences; none where they are not known.</param>
internal sealed record Evidence(IReadOnlyList<Sonority> Sonorities, IReadOnlyList<Phrase> Phrases, IReadOnlyList<string> Parts)
{
    /// <summary>Verticals alone.</summary>
    public static Evidence Of(IReadOnlyList<Sonority> sonorities) => new(sonorities, [], []);
}
