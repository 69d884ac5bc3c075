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

/// <summary>The figures over one bass note, completed as the thoroughbass books complete them.</summary>
/// <param name="Intervals">Number above the bass, its sign, and whether the chord must have it.</param>
internal sealed record Figures(IReadOnlyList<(int Number, string Sign, bool IsNeeded)> Intervals)
{
    /// <summary>Reads figures such as <c>6 4</c>, <c>#6</c>, <c>#</c>, <c>4 2</c>; null where one of them is no figure.</summary>
    public static Figures? Parse(string text)
    {
        var written = new Dictionary<int, string>();
        foreach (var word in text.Split([' ', ',', '\n'], StringSplitOptions.RemoveEmptyEntries))
        {
            var digits = string.Concat(word.Where(char.IsAsciiDigit));
            var sign = string.Concat(word.Where(c => !char.IsAsciiDigit(c)));
            if (sign is not ("" or "#" or "b" or "n" or "+" or "##" or "bb")) return null;
            // An accidental alone belongs to the third.
            var number = digits.Length == 0 ? 3 : int.Parse(digits, System.Globalization.CultureInfo.InvariantCulture);
            if (number is < 2 or > 13 || (digits.Length == 0 && sign.Length == 0)) return null;
            written[number] = sign;
        }

        // Abbreviations: C. P. E. Bach, Versuch II, and any harmony handbook's table of figures (from memory).
        int[] implied =
        [
            .. written.ContainsKey(2) ? [4, 6] : Array.Empty<int>(),
            .. written.ContainsKey(4) && written.ContainsKey(3) ? [6] : Array.Empty<int>(),
            .. written.ContainsKey(6) && !written.ContainsKey(4) && !written.ContainsKey(2) ? [3] : Array.Empty<int>(),
            .. !written.ContainsKey(6) && !written.ContainsKey(2) && !(written.ContainsKey(4) && written.ContainsKey(3)) ? [5]
                : Array.Empty<int>(),
            .. !written.ContainsKey(6) && !written.ContainsKey(4) && !written.ContainsKey(2) ? [3] : Array.Empty<int>(),
        ];
        var intervals = written.Select(f => (f.Key, f.Value, f.Key != 8))
            .Concat(implied.Distinct().Where(n => !written.ContainsKey(n)).Select(n => (n, "", n == 3)));
        return new Figures([.. intervals.OrderByDescending(i => i.Item1)]);
    }

    /// <summary>The tone a number of letters above the bass: by the key signature, or with the figure's own sign.</summary>
    public static Tone ToneAbove(Tone bass, int number, string sign, int signature)
    {
        var letter = "CDEFGAB"[(bass.Step + number - 1) % 7];
        // An octave repeats the bass, accidental and all.
        if (sign.Length == 0 && (number - 1) % 7 == 0) return bass;
        var natural = Tone.Of(letter);
        var byKey = Tone.Of(letter, (int)Math.Floor((signature - natural.Fifths + 5) / 7.0));
        return sign switch
        {
            "#" => Tone.Of(letter, 1),
            "##" => Tone.Of(letter, 2),
            "b" => Tone.Of(letter, -1),
            "bb" => Tone.Of(letter, -2),
            "n" => natural,
            "+" => byKey + 7,
            _ => byKey,
        };
    }
}
