using System.Globalization;
using ScoreLens.Marking.Wording;
using ScoreLens.Output.Annotation;

namespace ScoreLens.Marking.Results;

/// <summary>
/// Writes remarks into a student's score: each with the number that it has in the feedback, part-writing and the like as words
/// over the staff of the highest voice concerned, what is said of a label in a lyric line under it; the notes concerned are
/// coloured.
/// </summary>
public static class MarkedScore
{
    private const string Layer = "marking";

    // Vermilion and blue of Okabe and Ito's palette for colour-blind readers, from memory.
    private const string FaultColour = "#D55E00";
    private const string NoticeColour = "#0072B2";

    /// <summary>Writes the remarks of a submission into its document.</summary>
    /// <returns>The bytes of a file of the same kind as the one that was handed in; null where that was not MusicXML.</returns>
    public static byte[]? Write(MarkedSubmission submission)
    {
        ArgumentNullException.ThrowIfNull(submission);
        if (submission is not { File.MusicXml: { } document, Analysis: { } analysis }) return null;
        // Labels that ScoreLens wrote were not marked; beside the remarks they would look like the student's.
        return ScoreLabels.Write(ScoreLabels.Strip(document), analysis.Score, Plan(submission, analysis)).ToBytes();
    }

    private static LabelPlan Plan(MarkedSubmission submission, CueAnalysis analysis)
    {
        var labels = new List<ScoreLabel>();
        var colours = new Dictionary<Sonorities.SoundingNote, string>();
        var lowest = analysis.Score.Notes.Where(n => n.IsHarmonic).Select(n => (n.Part, n.Staff)).DefaultIfEmpty((0, 1)).Max();
        for (var i = 0; i < submission.Shown.Count; i++)
        {
            var remark = submission.Shown[i];
            var colour = remark.Severity == Severity.Fault ? FaultColour : NoticeColour;
            labels.AddRange(remark.Parts.Prepend(remark).Select(r => LabelOf(r, i + 1, analysis, lowest) with { Colour = colour }));
            foreach (var note in remark.Parts.Prepend(remark).SelectMany(r => r.Notes))
                if (remark.Severity == Severity.Fault || !colours.ContainsKey(note)) colours[note] = colour;
        }

        return new LabelPlan(Layer, labels, [.. colours.Select(p => NoteColour.Of(p.Key, p.Value))]);
    }

    private static ScoreLabel LabelOf(Remark remark, int number, CueAnalysis analysis, (int Part, int Staff) lowest)
    {
        var count = number.ToString(CultureInfo.InvariantCulture);
        if (remark is { Criterion: Criterion.Labels, IsOfWhole: false })
            return new LyricLabel(lowest.Part, lowest.Staff, remark.Onset, $"{count}: {RemarkWords.Brief(remark.Kind)}");
        var highest = remark.Notes.Count == 0 ? (Part: 0, Staff: 1) : remark.Notes.Select(n => (n.Part, n.Staff)).Min();
        var onset = remark.IsOfWhole ? analysis.Score.Measures[0].Start : remark.Onset;
        return new WordsLabel(highest.Part, highest.Staff, onset, $"{count}: {RemarkWords.Brief(remark.Kind)}", IsAbove: true);
    }
}
