using ScoreLens.Marking.Facts;
using ScoreLens.Notation;
using ScoreLens.Reading.Written;
using ScoreLens.Theory;

namespace ScoreLens.Marking.PartWriting;

/// <summary>Checks the chords above a bass against its figures, as they are written.</summary>
internal static class FiguredBassCheck
{
    public static IEnumerable<Remark> Run(Score score, Score given, IReadOnlyList<IReadOnlyList<LineNote>> voices)
    {
        var figures = FiguredBassTexts.Of(given);
        if (figures.Count == 0 || voices.Count < 2) yield break;
        var bass = voices[^1];
        var stages = FiguredStages.Of(given, figures, [.. bass.Select(n => (n.Onset, n.End, n.Pitch.Tone))]);
        foreach (var stage in stages.Where(s => !s.IsHeld))
        {
            var low = bass.First(n => n.Onset <= stage.Onset && stage.Onset < n.End);
            foreach (var remark in Compare(score, voices, low, stage)) yield return remark;
        }
    }

    private static IEnumerable<Remark> Compare(
        Score score, IReadOnlyList<IReadOnlyList<LineNote>> voices, LineNote low, FiguredStage stage)
    {
        var (onset, text) = (stage.Onset, stage.Text);
        if (stage.Figures is not { } figures)
        {
            var unread = new FigureFacts(text, low.Pitch.Tone, [], [], [], []);
            yield return Remark.At(score, onset, RemarkKind.FigureUnreadable, unread, severity: Severity.Notice);
            yield break;
        }

        var upper = voices.Take(voices.Count - 1)
            .Select(line => line.FirstOrDefault(n => n.Onset <= onset && onset < n.End)).OfType<LineNote>().ToList();
        var bassTone = low.Pitch.Tone;
        var asked = figures.Intervals.Select(f => (Tone: Figures.ToneAbove(bassTone, f.Number, f.Sign, stage.Signature), f.IsNeeded))
            .ToList();
        var missing = asked.Where(a => a.IsNeeded && !upper.Any(n => n.Pitch.Tone == a.Tone)).Select(a => a.Tone).ToList();
        var foreign = upper.Where(n => n.Pitch.Tone != bassTone && !asked.Exists(a => a.Tone == n.Pitch.Tone)).ToList();
        if (missing.Count == 0 && foreign.Count == 0) yield break;

        LineNote[] notes = foreign.Count > 0 ? [.. foreign] : [low];
        var facts = new FigureFacts(
            text, bassTone, [.. asked.Select(a => a.Tone)], [.. asked.Where(a => a.IsNeeded).Select(a => a.Tone)], missing,
            [.. foreign.Select(n => n.Pitch.Tone)]);
        yield return Remark.At(
            score, onset, RemarkKind.FigureNotRealised, facts,
            [.. notes.Select(n => n.Note)],
            [.. notes.Select(n => n.Voice).Distinct().Order().Select(v => VoiceNames.Of(v, voices.Count))]);
    }
}
