using ScoreLens.Density;
using ScoreLens.Devices;
using ScoreLens.Notation;
using ScoreLens.Output;
using ScoreLens.Sonorities;
using ScoreLens.Theory;
using ScoreLens.Wording;

namespace ScoreLens.Pages;

/// <summary>What the scripts of a page work with. Times are quarter notes from the start of the score.</summary>
internal sealed record PageData(
    string Title,
    IReadOnlyList<PageMeasure> Measures,
    IReadOnlyList<PageChord> Chords,
    IReadOnlyList<PagePhrase> Phrases,
    IReadOnlyList<PageRemark> Remarks,
    string Notes,
    bool Labels)
{
    /// <summary>The data of an analysed score.</summary>
    /// <param name="analysis">The analysis.</param>
    /// <param name="labels">Whether numerals and devices are drawn under the engraved score.</param>
    /// <param name="remarks">Remarks to mark in the score.</param>
    /// <param name="clock">How times on the clock are reckoned; null for the usual way.</param>
    public static PageData Of(CueAnalysis analysis, bool labels, IReadOnlyList<PageRemark> remarks, ClockOptions? clock = null) => new(
        analysis.Score.Title,
        [.. analysis.Score.Measures.Zip(HighestLine.Of(analysis), (m, h) => new PageMeasure(m.Number, Time(m.Start), Time(m.Length), h))],
        [.. ChordsOf(analysis, clock)],
        [.. analysis.Phrases.Select(p => new PagePhrase(p.Number, Time(p.Start), Time(p.End)))],
        remarks,
        PageAssets.Pack(string.Join(',', NotesOf(analysis))),
        labels);

    /// <summary>A time for scripts, which place and play things by it but never compare for equality.</summary>
    public static double Time(Fraction time) => Math.Round(time.ToDouble(), 5);

    private static IEnumerable<PageChord> ChordsOf(CueAnalysis analysis, ClockOptions? clock)
    {
        var from = 0;
        var isOfSeveral = analysis.Score.Movements.Count > 1;
        foreach (var row in analysis.Score.Measures.Count == 0 ? [] : ChordRow.Of(analysis, clock))
        {
            var (chord, reading) = (row.Chord, row.Chord.Reading);
            while (from < analysis.Sonorities.Count && analysis.Sonorities[from].End <= reading.Onset) from++;
            var sounding = new List<SoundingNote>();
            for (var i = from; i < analysis.Sonorities.Count && analysis.Sonorities[i]
                .Onset < reading.End; i++) sounding.AddRange(analysis.Sonorities[i].Notes);
            var numeral = reading.Numeral;
            var tones = numeral?.Tones(reading.Key) ?? [];
            var look = chord.Device is { } device ? DevicePalette.Of(device) : null;
            yield return new PageChord(
                Time(reading.Onset),
                Time(reading.Duration),
                analysis.Score.MeasureAt(reading.Onset).Index,
                isOfSeveral ? $"{row.Measure} of movement {row.Movement}" : row.Measure,
                row.Beat.ToString(),
                string.Join(" · ", new[] { row.Rehearsal, row.Time }.Where(t => t.Length > 0)),
                PageText.Signs(ColourText.Of(row.Colour)),
                PageText.Name(reading.Key),
                PageText.Letter(reading.Key),
                numeral?.ToDisplayString() ?? "",
                numeral is null ? "" : reading.Written is { Figures: null } symbol ? symbol.ToDisplayString()
                    : ChordName.Of(reading.Key, numeral).ToDisplayString(),
                chord.Function.Name(),
                chord.Device?.Name(),
                look?.Title,
                look?.Sign,
                look?.Code,
                [.. chord.Also.Select(d => DevicePalette.Of(d).Title)],
                chord.Target is { } target ? target.Replace('b', '♭').Replace('#', '♯') : null,
                chord.Resolution.Name(),
                chord.OutsideHome,
                row.Phrase,
                Math.Floor(1000 * reading.Confidence) / 1000,
                PageText.Signs(chord.Reason is null ? (AddedText.Of(reading) + PedalText.Beside(row)).TrimStart() : ReasonText.Of(row)),
                [.. reading.RunnersUp.Take(5).Select(r => new PageRunnerUp(PageText.Name(r.Key), r.Numeral.ToDisplayString(),
                    Math.Round(r.Probability, 3)))],
                [.. tones.Select(t => t.ToDisplayString())],
                [.. tones.Select(t => t.PitchClass)],
                numeral?.Bass(reading.Key).ToDisplayString(),
                numeral?.Bass(reading.Key).PitchClass,
                [.. sounding.Select(n => n.Pitch.Tone).Distinct().Where(t => !tones.Contains(t)).Order().Select(t => t.ToDisplayString())]);
        }
    }

    /// <summary>Every struck note, its ties joined: onset, duration, MIDI number, one after another.</summary>
    private static IEnumerable<string> NotesOf(CueAnalysis analysis) =>
        from sonority in analysis.Sonorities
        from note in sonority.Notes
        where sonority.IsStruck(note)
        select FormattableString.Invariant($"{Time(note.Onset)},{Time(note.End - note.Onset)},{note.Pitch.Midi}");
}

/// <summary>A measure: its printed number, start and length, and the identifier of the part that is the highest in it.</summary>
internal sealed record PageMeasure(string N, double T, double D, string? H);

internal sealed record PagePhrase(int N, double T, double E);

internal sealed record PageRunnerUp(string Key, string Numeral, double P);

/// <summary>A remark that stands at a place of the score: its number on the page, the time, and whether it is a fault.</summary>
internal sealed record PageRemark(int N, double T, int M, bool Fault, string Text);

internal sealed record PageChord(
    double T,
    double D,
    int M,
    string Measure,
    string Beat,
    string Place,
    string Colour,
    string Key,
    string KeyLetter,
    string Numeral,
    string Symbol,
    string Function,
    string? Device,
    string? DeviceTitle,
    string? Sign,
    string? Code,
    IReadOnlyList<string> Also,
    string? Target,
    string Resolution,
    bool OutsideHome,
    int Phrase,
    double Confidence,
    string Reason,
    IReadOnlyList<PageRunnerUp> RunnersUp,
    IReadOnlyList<string> Tones,
    IReadOnlyList<int> PitchClasses,
    string? Bass,
    int? BassClass,
    IReadOnlyList<string> Others);
