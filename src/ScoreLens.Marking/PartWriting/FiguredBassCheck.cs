using ScoreLens.Marking.Facts;
using ScoreLens.Notation;
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
        foreach (var figure in figures)
        {
            if (bass.FirstOrDefault(n => n.Onset <= figure.Onset && figure.Onset < n.End) is not { } low) continue;
            foreach (var remark in Compare(score, voices, low, figure.Onset, figure.Text)) yield return remark;
        }

        // A bass note of a beat or more, on the beat and without a figure, carries a root position.
        foreach (var low in bass.Where(n => !figures.Any(f => f.Onset >= n.Onset && f.Onset < n.End)))
        {
            var measure = score.MeasureAt(low.Onset);
            var pulse = measure.Time.PulseLength;
            if (low.End - low.Onset < pulse || ((low.Onset - measure.Start + measure.PickupOffset) / pulse).Denominator != 1) continue;
            foreach (var remark in Compare(score, voices, low, low.Onset, "")) yield return remark;
        }
    }

    private static IEnumerable<Remark> Compare(
        Score score, IReadOnlyList<IReadOnlyList<LineNote>> voices, LineNote low, Fraction onset, string text)
    {
        if (Figures.Parse(text) is not { } figures)
        {
            var unread = new FigureFacts(text, low.Pitch.Tone, [], [], [], []);
            yield return Remark.At(score, onset, RemarkKind.FigureUnreadable, unread, severity: Severity.Notice);
            yield break;
        }

        var upper = voices.Take(voices.Count - 1)
            .Select(line => line.FirstOrDefault(n => n.Onset <= onset && onset < n.End)).OfType<LineNote>().ToList();
        var signature = score.MeasureAt(onset).Signature;
        var bassTone = low.Pitch.Tone;
        var asked = figures.Intervals.Select(f => (Tone: Figures.ToneAbove(bassTone, f.Number, f.Sign, signature), f.IsNeeded)).ToList();
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
