using ScoreLens.Marking.PartWriting;
using ScoreLens.Notation;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Marking;

/// <summary>How many notes two scores have in common, by which a wrong piece and an unchanged exercise are told.</summary>
internal static class SharedNotes
{
    private static readonly string[] VoiceNames = ["soprano", "alto", "tenor", "bass"];

    /// <summary>The notes of a score, each a time and a pitch.</summary>
    public static HashSet<(Fraction Onset, Pitch Pitch)> Of(Score score) => Of(SonorityFinder.JoinTies(score.Notes));

    /// <summary>The share of notes that two scores have in common, 0..1.</summary>
    public static double Share(Score a, Score b)
    {
        var (first, second) = (Of(a), Of(b));
        var most = Math.Max(first.Count, second.Count);
        return most == 0 ? 0 : (double)first.Count(second.Contains) / most;
    }

    /// <summary>The notes of a given score, or of some of its voices, that have to be kept.</summary>
    public static IReadOnlyList<SoundingNote> Given(Score given, IReadOnlyList<string> voices)
    {
        var joined = SonorityFinder.JoinTies(given.Notes);
        if (voices.Count == 0) return joined;
        var lines = VoiceFinder.Find(given, PartWritingStyle.Chorale, VoiceNames.Length);
        return lines.Count < VoiceNames.Length ? joined
            : [.. voices.SelectMany(v => lines[Array.IndexOf(VoiceNames, v)].Select(n => n.Note))];
    }

    private static HashSet<(Fraction Onset, Pitch Pitch)> Of(IEnumerable<SoundingNote> notes) => [.. notes.Select(n => (n.Onset, n.Pitch))];
}
