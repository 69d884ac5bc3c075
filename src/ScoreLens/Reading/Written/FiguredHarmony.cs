using ScoreLens.Notation;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Reading.Written;

/// <summary>
/// The harmony that a figured bass writes down, as stretches in order: the figures' chord over every bass note, a triad over one without
/// figures. A suspension (4 3, 7 6, 9 8) belongs to the chord that it resolves into, and a short bass note off the beat without figures, as
/// one under a line of extension, to the chord before (C. P. E. Bach, Versuch II, 1762; from memory).
/// </summary>
internal static class FiguredHarmony
{
    private const string Extension = "_";
    private const int MiddleC = 60;

    /// <summary>The stretches; none where the score has no figures. Two neighbours differ.</summary>
    public static IReadOnlyList<WrittenSpan> Of(Score score)
    {
        var texts = FiguredBassTexts.Of(score);
        if (texts.Count == 0) return [];
        var (part, staff) = (texts[0].Part, texts[0].Staff);
        var line = SonorityFinder.JoinTies(score.Notes.Where(n => n.Part == part && n.Staff == staff))
            .GroupBy(n => n.Onset).Select(g => g.MinBy(n => n.Pitch)!).ToList();
        // Typed numbers over a treble line are fingerings.
        if (score.Texts.All(t => t.Kind != ScoreTextKind.FiguredBass) && line.Count > 0
            && line.Average(n => n.Pitch.Midi) >= MiddleC) return [];
        var chords = new List<(Fraction Onset, WrittenChord? Chord, ChordQuality Quality)>();
        foreach (var low in line) Add(chords, score, low,
            [.. texts.Where(t => t.Part == part && t.Onset >= low.Onset && t.Onset < low.End)]);
        chords = [.. chords.Where((c, i) => i == 0 || !Equals(c.Chord, chords[i - 1].Chord))];
        return [.. chords.Select((c, i) => new WrittenSpan(c.Onset, i + 1 < chords.Count ? chords[i + 1].Onset : score.End, c.Chord,
            c.Quality))];
    }

    private static void Add(List<(Fraction Onset, WrittenChord? Chord, ChordQuality Quality)> chords, Score score, SoundingNote low,
        List<ScoreText> texts)
    {
        var measure = score.MeasureAt(low.Onset);
        var pulse = measure.Time.PulseLength;
        var isPassing = low.End - low.Onset < pulse || ((low.Onset - measure.Start + measure.PickupOffset) / pulse).Denominator != 1;
        var figures = texts.Select(t => (t.Onset, t.Text)).ToList();
        if (figures.Count == 0 || figures[0].Onset > low.Onset)
        {
            if (!isPassing || chords.Count == 0) figures.Insert(0, (low.Onset, ""));
        }

        for (var i = 0; i < figures.Count; i++)
        {
            var text = figures[i].Text;
            if (text.Split(' ').All(f => f == Extension)) continue;
            if (i + 1 < figures.Count && IsSuspension(text, figures[i + 1].Text)) text = figures[i + 1].Text;
            var (chord, quality) = Chord(text, low.Pitch.Tone, measure.Signature);
            chords.Add((figures[i].Onset, chord, quality));
        }
    }

    private static (WrittenChord? Chord, ChordQuality Quality) Chord(string text, Tone bass, int signature)
    {
        var plain = string.Join(' ', text.Split(' ').Where(f => f != Extension));
        if (Figures.Parse(plain) is not { } figures) return (null, ChordQuality.Major);
        // A fourth or a ninth over the bass without more is a suspension that resolves elsewhere.
        var found = figures.ChordOver(bass, signature)
            ?? figures.Without(9, 8)?.ChordOver(bass, signature) ?? figures.Without(4, 3)?.ChordOver(bass, signature);
        if (found is not var (root, quality, _)) return (null, ChordQuality.Major);
        return (new WrittenChord(root, figures.TonesOver(bass, signature), bass, text), quality);
    }

    // The figures of one bass note in which a fourth falls to the third, a seventh to the sixth or a ninth to the octave.
    private static bool IsSuspension(string text, string next)
    {
        var (first, second) = (Numbers(text), Numbers(next));
        return (first.Contains(4) && !first.Contains(6) && !first.Contains(2) && (second.Contains(3) || IsThird(next)))
            || (first.Contains(7) && second.Contains(6) && !second.Contains(5)) || (first.Contains(9) && second.Contains(8));
    }

    private static bool IsThird(string text) => text.Split(' ').Any(f => f.Length > 0 && f != Extension && !f.Any(char.IsAsciiDigit));

    private static IReadOnlyList<int> Numbers(string text) =>
        [.. text.Split(' ').Select(f => string.Concat(f.Where(char.IsAsciiDigit))).Where(f => f.Length is 1 or 2)
            .Select(f => int.Parse(f, System.Globalization.CultureInfo.InvariantCulture))];
}
