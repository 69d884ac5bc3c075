using ScoreLens.Marking.Facts;
using ScoreLens.Notation;
using ScoreLens.Sonorities;

namespace ScoreLens.Marking.PartWriting;

/// <summary>Checks that given parts are kept, note for note, and that given figures are realised as written.</summary>
internal static class GivenPartsCheck
{
    /// <summary>Compares an exercise with the score that gives its parts.</summary>
    /// <param name="score">The exercise.</param>
    /// <param name="given">The score that was handed out; its measures are those of the exercise.</param>
    /// <param name="voices">Which voices are given, <c>soprano</c>, <c>bass</c> and so on; empty for every voice of <paramref
    /// name="given"/>.</param>
    /// <param name="figures">Whether the figured bass in <paramref name="given"/> has to be realised.</param>
    /// <param name="options">Style and number of voices of the exercise.</param>
    public static IReadOnlyList<Remark> Run(
        Score score, Score given, IReadOnlyList<string> voices, bool figures, PartWritingOptions options)
    {
        ArgumentNullException.ThrowIfNull(score);
        ArgumentNullException.ThrowIfNull(given);
        ArgumentNullException.ThrowIfNull(voices);
        ArgumentNullException.ThrowIfNull(options);
        var written = VoiceFinder.Find(score, options.Style, options.VoiceCount);
        var remarks = new List<Remark>();
        foreach (var (name, line) in GivenLines(given, voices, options))
        {
            var place = Enumerable.Range(0, written.Count).FirstOrDefault(v => VoiceNames.Of(v, written.Count) == name, -1);
            remarks.AddRange(line.Select(note => Compare(score, note.Note, name, place < 0 ? [] : written[place])).OfType<Remark>());
        }

        if (figures) remarks.AddRange(FiguredBassCheck.Run(score, given, written));
        return [.. remarks.OrderBy(r => r.Onset)];
    }

    // As many lines as names go by their order; more go by the name that their place in the score gives them.
    private static IEnumerable<(string Name, IReadOnlyList<LineNote> Line)> GivenLines(
        Score given, IReadOnlyList<string> voices, PartWritingOptions options)
    {
        var lines = VoiceFinder.Find(given, options.Style, options.VoiceCount);
        if (voices.Count == lines.Count) return lines.Zip(voices, (line, name) => (name, line));
        var named = lines.Select((line, v) => (Name: VoiceNames.Of(v, lines.Count), Line: line));
        return voices.Count == 0 ? named : named.Where(l => voices.Contains(l.Name));
    }

    private static Remark? Compare(Score score, SoundingNote note, string voice, IReadOnlyList<LineNote> written)
    {
        var there = written.FirstOrDefault(n => n.Onset == note.Onset && n.Pitch == note.Pitch)
            ?? written.FirstOrDefault(n => n.Onset == note.Onset);
        if (there is null) return Remark.At(score, note.Onset, RemarkKind.GivenNoteMissing, new GivenNoteFacts(note.Pitch), [], [voice]);
        var facts = new GivenNoteFacts(note.Pitch, there.Pitch, there.End < note.End);
        if (there.Pitch != note.Pitch) return Remark.At(score, note.Onset, RemarkKind.GivenNoteChanged, facts, [there.Note], [voice]);
        return there.End == note.End ? null : Remark.At(score, note.Onset, RemarkKind.GivenNoteLength, facts, [there.Note], [voice]);
    }
}
