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
        var stages = FiguredStages.Of(score, [.. texts.Where(t => t.Part == part && t.Staff == staff)],
            [.. line.Select(n => (n.Onset, n.End, n.Pitch.Tone))]);
        var chords = new List<(Fraction Onset, WrittenChord? Chord, ChordQuality Quality)>();
        for (var i = 0; i < stages.Count; i++)
        {
            // A short note that opens the piece has nothing to hold: its triad is the chord.
            if (stages[i].IsHeld && chords.Count > 0) continue;
            var (chord, quality) = Chord(stages, i);
            if (chords.Count == 0 || !AreSame(chords[^1].Chord, chord)) chords.Add((stages[i].Onset, chord, quality));
            i += stages[i].ResolvesIn;
        }

        return [.. chords.Select((c, i) => new WrittenSpan(c.Onset, i + 1 < chords.Count ? chords[i + 1].Onset : score.End, c.Chord,
            c.Quality))];
    }

    /// <summary>The triad, seventh chord or augmented sixth of a stage; null where its figures name none. A fourth, a ninth or what
    /// sounds of the dominant over the tonic stands for the tones into which it resolves elsewhere.</summary>
    public static (Tone Root, ChordQuality Quality, int Inversion)? Chord(FiguredStage stage)
    {
        if (stage.Figures is not { } figures) return null;
        return Over(figures) ?? Over(figures.Without(9, 8)) ?? Over(figures.Without(4, 3)) ?? Over(figures.Without(9, 8)?.Without(4, 3))
            ?? Over(figures.Without(7, 8)?.Without(4, 3)?.Without(2, 8));

        (Tone, ChordQuality, int)? Over(Figures? resolved) => resolved?.ChordOver(stage.Bass, stage.Signature);
    }

    private static (WrittenChord? Chord, ChordQuality Quality) Chord(IReadOnlyList<FiguredStage> stages, int at)
    {
        var resolution = stages[at + stages[at].ResolvesIn];
        if (Chord(resolution) is not var (root, quality, _)) return (null, ChordQuality.Major);
        var text = string.Join(" – ", stages.Skip(at).Take(stages[at].ResolvesIn + 1).Where(s => !s.IsHeld).Select(s => s.Text));
        var tones = resolution.Figures!.TonesOver(resolution.Bass, resolution.Signature);
        return (new WrittenChord(root, tones, resolution.Bass, text), quality);
    }

    // Figures that say the same in another way, as nothing and 5 3, write one chord.
    private static bool AreSame(WrittenChord? before, WrittenChord? chord) => before is null ? chord is null
        : chord is not null && before.Root == chord.Root && before.Bass == chord.Bass && before.Tones.ToHashSet().SetEquals(chord.Tones);
}
