using ScoreLens.Notation;
using ScoreLens.Reading;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Benchmarks.PartWriting;

/// <summary>
/// What every written voice sounds around a place, as a table to read by eye: a column an onset, the place marked with <c>&gt;</c>,
/// <c>-</c> for a note that is held, <c>.</c> for a rest, <c>^</c> after a note under a fermata, the numerals below.
/// </summary>
internal static class VoiceTable
{
    private const int Before = 3, After = 3, Width = 7;

    public static IEnumerable<string> Rows(Score score, IReadOnlyList<Sonority> sonorities, HarmonicReading reading, Fraction place)
    {
        var columns = sonorities.Select(s => s.Onset).Where(o => o >= place - Before && o <= place + After).ToArray();
        yield return Row("", columns.Select(o => (o == place ? ">" : "") + Beat(score, o)));
        var notes = SonorityFinder.JoinTies(score.Notes).ToList();
        var voices = notes.GroupBy(n => (n.Part, n.Staff, n.Voice)).OrderBy(g => g.Key.Part).ThenBy(g => g.Key.Staff)
            .ThenBy(g => g.Key.Voice, StringComparer.Ordinal);
        var voice = 0;
        foreach (var line in voices)
            yield return Row($"{++voice}", columns.Select(o => Cell(score, [.. line], o)));
        yield return Row("", columns.Select(o => reading.Chords.FirstOrDefault(c => c.Onset == o)?.Numeral?.ToString() ?? ""));
        var keys = reading.Chords.Where(c => c.End > place - Before && c.Onset <= place + After).Select(c => c.Key.ToString()).Distinct();
        yield return $"     {string.Join(", ", keys)}";
    }

    private static string Row(string head, IEnumerable<string> cells) =>
        $"  {head,-2} {string.Concat(cells.Select(c => c.PadRight(Width)))}".TrimEnd();

    private static string Beat(Score score, Fraction onset)
    {
        var measure = score.MeasureAt(onset);
        return $"{measure.Number}:{((onset - measure.Start + measure.PickupOffset) / measure.Time.PulseLength).ToDouble() + 1:0.##}";
    }

    private static string Cell(Score score, SoundingNote[] line, Fraction onset)
    {
        if (line.FirstOrDefault(n => n.Onset <= onset && n.End > onset) is not { } note) return ".";
        if (note.Onset < onset) return "-";
        var isHeldUp = score.Notes.Any(n => n.Part == note.Part && n.Staff == note.Staff && n.Voice == note.Voice && n.End == note.End
            && (n.Marks & NoteMarks.Fermata) != 0);
        return note.Pitch.ToString() + (isHeldUp ? "^" : "");
    }
}
