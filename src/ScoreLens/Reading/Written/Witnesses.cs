using ScoreLens.Notation;
using ScoreLens.Reading.Refinement;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Reading.Written;

/// <summary>
/// The two witnesses of a score's harmony, the notes and the chord symbols: "where a symbol stands it is the
/// chord, unless the accompaniment plainly plays another" (common practice of lead sheets and songbooks).
/// </summary>
internal static class Witnesses
{
    // An accompaniment is heard in a stretch where this many different tones sound below the melody.
    private const int FewestAccompanying = 2;

    // Of the stretches with a symbol, the share that has to be accompanied for the notes to be asked.
    private const double LeastAccompanied = 0.5;

    // How much of what sounds another chord has to explain to contradict a symbol, 0..1.
    private const double PlainFit = 0.9;

    /// <summary>What the harmony of a score is read from, and the stretches that it writes down; none where the notes alone
    /// count.</summary>
    public static (HarmonySource Source, IReadOnlyList<WrittenSpan> Spans) Of(Score score, IReadOnlyList<Sonority> sonorities,
        HarmonySource from)
    {
        if (from == HarmonySource.Notes) return (from, []);
        var spans = WrittenHarmony.Of(score);
        var isFigured = spans.Count == 0;
        if (isFigured) spans = FiguredHarmony.Of(score);
        if (spans.All(s => s.Chord is null)) return (HarmonySource.Notes, []);
        if (from != HarmonySource.Automatic) return (from, spans);
        var accompanied = spans.Count(s => s.Chord is not null && IsAccompanied(sonorities, s));
        if (accompanied < LeastAccompanied * spans.Count(s => s.Chord is not null)) return (HarmonySource.Symbols, spans);
        // Figures over a score that plays its chords are a continuo's, and numerals under one its analysis; the notes say more.
        return isFigured || WrittenHarmony.HasNumeralsAlone(score) ? (HarmonySource.Notes, []) : (HarmonySource.Both, spans);
    }

    /// <summary>The reading of both witnesses.</summary>
    /// <param name="written">The chords that are written down.</param>
    /// <param name="heard">Those of the notes; null where what is written alone counts.</param>
    /// <param name="score">The score.</param>
    /// <param name="sonorities">Its verticals.</param>
    public static HarmonicReading Join(IReadOnlyList<ChordReading> written, IReadOnlyList<ChordReading>? heard, Score score,
        IReadOnlyList<Sonority> sonorities)
    {
        IReadOnlyList<ChordReading> chords = heard is not null ? Both(written, heard, sonorities, score)
            : [.. written.Select(c => c with { Disagrees = c.Written is null ? null : Contradicting(c, sonorities) })];
        chords = WithOpening(chords, score.Start);
        return new HarmonicReading(HomeKeys.Of(chords, score, ReadingSettings.Default), ChordSound.Hear(chords, sonorities));
    }

    // Before the first symbol nothing is written: the melody alone names no chord.
    private static IReadOnlyList<ChordReading> WithOpening(IReadOnlyList<ChordReading> chords, Fraction start) => chords[0].Onset <= start
        ? chords
        : [new ChordReading(start, chords[0].Onset - start, chords[0].Key, null, 0, []), .. chords];

    private static bool IsAccompanied(IReadOnlyList<Sonority> sonorities, WrittenSpan span) => TonesInTime
        .Between(sonorities, span.Onset, span.End)
        .SelectMany(s => s.Notes.SkipLast(1)).Select(n => n.Pitch.Tone.PitchClass).Distinct()
        .Take(FewestAccompanying).Count() == FewestAccompanying;

    // Every symbol names its stretch, but where the notes plainly play another chord they do; where no symbol stands they do too.
    private static List<ChordReading> Both(
        IReadOnlyList<ChordReading> written, IReadOnlyList<ChordReading> heard, IReadOnlyList<Sonority> sonorities, Score score)
    {
        var chords = new List<ChordReading>();
        chords.AddRange(Within(heard, score.Start, written[0].Onset));
        foreach (var chord in written)
        {
            if (chord.Written is not { } symbol || Contradicting(chord, sonorities) is null)
            {
                chords.Add(chord);
                continue;
            }

            var instead = Within(heard, chord.Onset, chord.End).Select(c =>
                (c.NamedIn(chord.Key) ?? c) with { Disagrees = symbol }).ToList();
            if (instead.Count > 0 && instead[0].Onset == chord.Onset
                && instead[^1].End >= Fraction.Min(chord.End, score.End)) chords.AddRange(instead);
            else chords.Add(chord with { Disagrees = Contradicting(chord, sonorities) });
        }

        return chords;
    }

    private static IEnumerable<ChordReading> Within(IReadOnlyList<ChordReading> chords, Fraction start, Fraction end) =>
        chords.Where(c => c.Onset < end && c.End > start)
            .Select(c => (Chord: c, Onset: Fraction.Max(start, c.Onset)))
            .Select(c => c.Chord with { Onset = c.Onset, Duration = Fraction.Min(end, c.Chord.End) - c.Onset });

    /// <summary>
    /// The chord that plainly sounds and is not the symbol's: complete, with little besides, with a tone that the symbol has not, while a
    /// tone of the symbol's own triad or seventh is silent. Null where there is none: a melody alone contradicts nothing.
    /// </summary>
    private static WrittenChord? Contradicting(ChordReading chord, IReadOnlyList<Sonority> sonorities)
    {
        if (chord.Numeral is not { } numeral || chord.Written is not { } symbol) return null;
        if (SoundingChord.Identify(sonorities, chord.Onset, chord.End, ReadingSettings.Default) is not
            {
                IsComplete: true,
                Fit: >= PlainFit
            } heard
            || heard.Quality.IsAugmentedSixth()) return null;
        if (!IsAccompanied(sonorities, new WrittenSpan(chord.Onset, chord.End, symbol, numeral.Quality))) return null;
        var sounding = TonesInTime.Of(sonorities, chord.Onset, chord.End).Keys.ToArray();
        bool IsOwn(Tone tone) => symbol.Tones.Any(tone.IsEnharmonicWith) || symbol.Bass?.IsEnharmonicWith(tone) == true;
        var members = numeral.Quality.Members().ToArray().Select(m => symbol.Root + m).Where(symbol.Tones.Contains);
        if (heard.Tones.All(IsOwn) || members.All(m => sounding.Any(m.IsEnharmonicWith))) return null;
        return new WrittenChord(heard.Root, heard.Tones, heard.Tones[heard.Inversion]);
    }
}
