using ScoreLens.Keys;
using ScoreLens.Marking.Labels;
using ScoreLens.Marking.Wording;
using ScoreLens.Notation;
using ScoreLens.Reading;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Marking;

/// <summary>A teacher's model answer: its notes and the chords that its labels say, or those that are read where it has none.</summary>
/// <param name="Path">The file that it was read from.</param>
/// <param name="Score">The score.</param>
/// <param name="Reading">The chords.</param>
/// <param name="HasLabels">Whether the chords are the teacher's own labels.</param>
/// <param name="Problems">Labels that cannot be read, a sentence each.</param>
internal sealed record ModelAnswer(string Path, Score Score, HarmonicReading Reading, bool HasLabels, IReadOnlyList<string> Problems)
{
    /// <summary>Takes the model answer out of a score.</summary>
    public static ModelAnswer Of(string path, Score score, KeyRule keys = KeyRule.Confirm)
    {
        var analysis = CueAnalysis.Of(score, keys, HarmonySource.Notes);
        var (sonorities, read) = (analysis.Sonorities, analysis.Reading);
        var labels = StudentLabels.Read(score, read.HomeKey);
        var problems = labels.Labels.Where(l => !l.IsReadable)
            .Select(l => $"{Places.At(score, l.Onset)}: “{l.Text}” cannot be read as a Roman numeral.").ToList();
        var chords = Chords(labels, sonorities, score.End);
        if (chords.Count == 0) return new ModelAnswer(path, score, read, false, problems);
        var home = labels.WritesKeys ? chords[0].Key : read.HomeKey;
        return new ModelAnswer(path, score, new HarmonicReading(home, chords), true, problems);
    }

    private static List<ChordReading> Chords(StudentLabels labels, IReadOnlyList<Sonority> sonorities, Fraction end)
    {
        var starts = new List<(Fraction Onset, LabelMeaning? Meaning)>();
        for (var i = 0; i < labels.Labels.Count; i++)
        {
            var label = labels.Labels[i];
            var until = i + 1 < labels.Labels.Count ? labels.Labels[i + 1].Onset : end;
            starts.Add((label.Onset, Fitting(label.Meanings, sonorities, label.Onset)));
            if (label.Then.Count == 0) continue;
            // The second chord of a label begins where the notes come to fit it.
            var change = sonorities.FirstOrDefault(s => s.Onset > label.Onset && s.Onset < until
                && label.Then.Any(m => Misfits(m, s) == 0));
            if (change is not null) starts.Add((change.Onset, Fitting(label.Then, sonorities, change.Onset)));
        }

        var chords = new List<ChordReading>();
        for (var i = 0; i < starts.Count; i++)
        {
            var (onset, meaning) = starts[i];
            var until = i + 1 < starts.Count ? starts[i + 1].Onset : end;
            if (meaning is not null && until > onset) chords.Add(new ChordReading(onset, until - onset, meaning.Key, meaning.Numeral, 1,
                []));
        }

        return chords;
    }

    // A bare seventh may be the scale's or a minor one: the notes tell.
    private static LabelMeaning? Fitting(IReadOnlyList<LabelMeaning> meanings, IReadOnlyList<Sonority> sonorities, Fraction onset) =>
        sonorities.LastOrDefault(s => s.Onset <= onset) is { } sonority ? meanings.MinBy(m => Misfits(m, sonority)) : meanings.Count > 0
            ? meanings[0] : null;

    private static int Misfits(LabelMeaning meaning, Sonority sonority)
    {
        var tones = meaning.Numeral.Tones(meaning.Key);
        var bass = meaning.Numeral.Bass(meaning.Key);
        return sonority.Notes.Count(n => !tones.Any(t => t.IsEnharmonicWith(n.Pitch.Tone)))
            + (sonority.Bass is { } lowest && !lowest.Pitch.Tone.IsEnharmonicWith(bass) ? 1 : 0);
    }
}
