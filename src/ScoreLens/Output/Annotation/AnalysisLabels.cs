using System.Globalization;
using ScoreLens.Notation;
using ScoreLens.Reading.Written;
using ScoreLens.Theory;
using ScoreLens.Wording;

namespace ScoreLens.Output.Annotation;

/// <summary>The labels of an analysis: what the options choose, at the chords' own onsets.</summary>
internal static class AnalysisLabels
{
    /// <summary>The labels to write.</summary>
    /// <exception cref="ArgumentException">The score has no part of the name that the options give.</exception>
    public static LabelPlan Of(CueAnalysis analysis, LabelOptions options)
    {
        var score = analysis.Score;
        var (top, low) = Staves(score, options);
        var isConcert = options.Part.Length > 0 || !score.Parts[top.Part].IsTransposing;
        var labels = new List<ScoreLabel>();
        // From the composer's first symbol on none of ours stands beside them: the table and the page say what the notes say.
        var firstSymbol = WrittenHarmony.FirstSymbol(score);
        var pedals = options.Labels.HasFlag(LabelKinds.Devices) ? analysis.Pedals.ToLookup(p => p.Start) : null;
        Key? key = null;
        foreach (var chord in analysis.Chords)
        {
            if (chord.Reading.Numeral is not { } numeral) continue;
            var onset = chord.Reading.Onset;
            var startsKey = chord.Reading.Key != key && options.Labels.HasFlag(LabelKinds.Keys);
            key = chord.Reading.Key;
            if (options.Labels.HasFlag(LabelKinds.Symbols) && (firstSymbol is not { } first || onset < first))
                labels.Add(Symbol(top, onset, ChordName.Of(key.Value, numeral), isConcert ? options
                    : options with { As = LabelForms.Words }));
            var keyText = startsKey ? Text(key.Value) : "";
            var numeralText = options.Labels.HasFlag(LabelKinds.Numerals) ? Display(numeral, chord.Reading.Written) : "";
            // The key stands before its first numeral, as in a book: "C: I".
            var text = string.Join('\u00A0', ((string[])[keyText, numeralText]).Where(t => t.Length > 0));
            var marked = options.Labels.HasFlag(LabelKinds.Devices) ? chord.Device : null;
            var sign = marked is { } device ? DevicePalette.Of(device).Label : "";
            // A pedal is named once, where it begins.
            if (pedals is not null)
                sign = string.Join('\u00A0',
                    pedals[onset].Select(PedalText.Label).Distinct().Prepend(sign).Where(t => t.Length > 0));
            var colour = marked is { } d ? DevicePalette.Of(d).Dark : null;
            if (options.As.HasFlag(LabelForms.Lyric))
            {
                if (text.Length > 0) labels.Add(new LyricLabel(low.Part, low.Staff, onset, text) { Colour = colour });
                var line = (options.Labels & (LabelKinds.Numerals | LabelKinds.Keys)) == 0 ? 1 : 2;
                if (sign.Length > 0) labels.Add(new LyricLabel(low.Part, low.Staff, onset, sign, line) { Colour = colour });
            }

            if (options.As.HasFlag(LabelForms.Harmony) && numeralText.Length > 0)
                labels.Add(new NumeralLabel(low.Part, low.Staff, onset, key.Value, numeral, startsKey) { Colour = colour });
            // What harmony cannot hold goes as words, unless a lyric already says it.
            var words = options.As.HasFlag(LabelForms.Words) ? text : options.As == LabelForms.Harmony ? keyText : "";
            if (words.Length > 0) labels.Add(new WordsLabel(low.Part, low.Staff, onset, words) { Colour = colour });
            if (sign.Length > 0 && (options.As & LabelForms.Lyric) == 0)
                labels.Add(new WordsLabel(low.Part, low.Staff, onset, sign) { Colour = colour, Continues = words.Length > 0 });
        }

        return new LabelPlan(AnnotatedScore.Layer, labels, []);
    }

    /// <summary>A key as it stands before numerals: the tonic upper case in major, lower case in minor, and a colon.</summary>
    public static string Text(Key key)
    {
        var tonic = key.Tonic.ToDisplayString();
        return (key.IsMinor ? char.ToLowerInvariant(tonic[0]) + tonic[1..] : tonic) + ":";
    }

    // With what a written symbol adds: a lowered ninth, a suspended fourth.
    private static string Display(Numeral numeral, WrittenChord? written) => numeral.ToDisplayString()
        + (written is { Colours: { Count: > 0 } colours }
        ? $"({string.Join(',', colours).Replace('b', '\u266d').Replace('#', '\u266f')})" : "");

    private static ScoreLabel Symbol((int Part, int Staff) top, Fraction onset, ChordName chord, LabelOptions options) =>
        options.As == LabelForms.Words
            ? new WordsLabel(top.Part, top.Staff, onset, chord.ToDisplayString(options.Spelling), IsAbove: true)
            : new ChordSymbolLabel(top.Part, top.Staff, onset, chord) { Spelling = options.Spelling };

    // The top and the lowest staff that have pitched notes, in the whole score or in the part that was chosen. Chord symbols go over the
    // top one that sounds as it is written, so that they name what the numerals name; where there is none they are words.
    private static ((int Part, int Staff) Top, (int Part, int Staff) Low) Staves(Score score, LabelOptions options)
    {
        var part = options.Part.Length == 0 ? null : Find(score, options.Part);
        var staves = score.Notes.Where(n => part is null || n.Part == part.Index).Select(n => (n.Part, n.Staff)).Distinct().Order()
            .ToArray();
        if (staves.Length == 0) return ((part?.Index ?? 0, 1), (part?.Index ?? 0, 1));
        if (options.On == LabelStaff.Top) return (staves[0], staves[0]);
        if (options.On == LabelStaff.Bottom) return (staves[^1], staves[^1]);
        return (staves.Where(s => part is not null || !score.Parts[s.Part].IsTransposing).DefaultIfEmpty(staves[0]).First(), staves[^1]);
    }

    private static Part Find(Score score, string chosen)
    {
        var named = score.Parts.Where(p => p.Name.Equals(chosen, StringComparison.OrdinalIgnoreCase)).ToArray();
        if (named.Length == 1) return named[0];
        var parts = string.Join(", ", score.Parts.Select(p => p.Name.Length > 0 ? $"{p.Index + 1} {p.Name} ({p.Id})"
            : $"{p.Index + 1} ({p.Id})"));
        if (named.Length > 1) throw new ArgumentException($"Several parts are called '{chosen}'; give the number or the identifier: "
            + $"{parts}.");
        if (score.Parts.FirstOrDefault(p => p.Id == chosen) is { } byId) return byId;
        return int.TryParse(chosen, NumberStyles.None, CultureInfo.InvariantCulture, out var number) && number >= 1
            && number <= score.Parts.Count
            ? score.Parts[number - 1]
            : throw new ArgumentException($"The score has no part '{chosen}'. Its parts are: {parts}.");
    }
}
