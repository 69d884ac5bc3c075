using ScoreLens.Grouping;
using ScoreLens.Notation;
using ScoreLens.Reading.Refinement;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Reading.Written;

/// <summary>
/// The reading of a score that may have two witnesses of its harmony, the notes and the chord symbols: "where a symbol stands it is the
/// chord, unless the accompaniment plainly plays another" (common practice of lead sheets and songbooks).
/// </summary>
internal static class WitnessedReading
{
    // An accompaniment is heard in a stretch where this many different tones sound below the melody.
    private const int FewestAccompanying = 2;

    // Of the stretches with a symbol, the share that has to be accompanied for the notes to be asked.
    private const double LeastAccompanied = 0.5;

    // How much of what sounds another chord has to explain to contradict a symbol, 0..1.
    private const double PlainFit = 0.9;

    /// <summary>What the harmony is read from, and the reading.</summary>
    public static (HarmonySource Source, HarmonicReading Reading) Of(
        Score score, IReadOnlyList<Sonority> sonorities, GroupingEvidence grouping, HarmonySource from)
    {
        var spans = from == HarmonySource.Notes ? [] : WrittenHarmony.Of(score);
        var isFigured = spans.Count == 0 && from != HarmonySource.Notes;
        if (isFigured) spans = FiguredHarmony.Of(score);
        if (spans.Count == 0) return (HarmonySource.Notes, HarmonicReader.Read(score, sonorities, grouping));
        var accompanied = spans.Select(s => s.Chord is not null && IsAccompanied(sonorities, s)).ToArray();
        var source = from != HarmonySource.Automatic ? from
            : accompanied.Count(a => a) >= LeastAccompanied * spans.Count(s => s.Chord is not null) ? HarmonySource.Both : HarmonySource.Symbols;
        // Figures over a score that plays its chords are a continuo's; the notes say more.
        if (isFigured && from == HarmonySource.Automatic && source == HarmonySource.Both)
            return (HarmonySource.Notes, HarmonicReader.Read(score, sonorities, grouping));
        var chords = SymbolReader.Read(score, spans);
        chords = source == HarmonySource.Both
            ? Both(chords, HarmonicReader.Read(score, sonorities, grouping).Chords, sonorities, score)
            : [.. chords.Select(c => c with { Disagrees = c.Written is null ? null : Contradicting(c, sonorities) })];
        chords = WithOpening(chords);
        return (source, new HarmonicReading(HomeKeys.Of(chords, score, ReadingSettings.Default), ChordSound.Hear(chords, sonorities)));
    }

    // Before the first symbol nothing is written: the melody alone names no chord.
    private static IReadOnlyList<ChordReading> WithOpening(IReadOnlyList<ChordReading> chords) => chords[0].Onset.Sign <= 0 ? chords
        : [new ChordReading(Fraction.Zero, chords[0].Onset, chords[0].Key, null, 0, []), .. chords];

    private static bool IsAccompanied(IReadOnlyList<Sonority> sonorities, WrittenSpan span) => TonesInTime.Between(sonorities, span.Onset, span.End)
        .SelectMany(s => s.Notes.SkipLast(1)).Select(n => n.Pitch.Tone.PitchClass).Distinct().Take(FewestAccompanying).Count() == FewestAccompanying;

    // Every symbol names its stretch, but where the notes plainly play another chord they do; where no symbol stands they do too.
    private static List<ChordReading> Both(
        IReadOnlyList<ChordReading> written, IReadOnlyList<ChordReading> heard, IReadOnlyList<Sonority> sonorities, Score score)
    {
        var chords = new List<ChordReading>();
        chords.AddRange(Within(heard, Fraction.Zero, written[0].Onset));
        foreach (var chord in written)
        {
            if (chord.Written is not { } symbol || Contradicting(chord, sonorities) is null)
            {
                chords.Add(chord);
                continue;
            }

            var instead = Within(heard, chord.Onset, chord.End).Select(c => (c.NamedIn(chord.Key) ?? c) with { Disagrees = symbol }).ToList();
            if (instead.Count > 0 && instead[0].Onset == chord.Onset && instead[^1].End >= Fraction.Min(chord.End, score.End)) chords.AddRange(instead);
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
        if (SoundingChord.Identify(sonorities, chord.Onset, chord.End, ReadingSettings.Default) is not { IsComplete: true, Fit: >= PlainFit } heard
            || heard.Quality.IsAugmentedSixth()) return null;
        if (!IsAccompanied(sonorities, new WrittenSpan(chord.Onset, chord.End, symbol, numeral.Quality))) return null;
        var sounding = TonesInTime.Of(sonorities, chord.Onset, chord.End).Keys.ToArray();
        bool IsOwn(Tone tone) => symbol.Tones.Any(tone.IsEnharmonicWith) || symbol.Bass?.IsEnharmonicWith(tone) == true;
        var members = numeral.Quality.Members().ToArray().Select(m => symbol.Root + m).Where(symbol.Tones.Contains);
        if (heard.Tones.All(IsOwn) || members.All(m => sounding.Any(m.IsEnharmonicWith))) return null;
        return new WrittenChord(heard.Root, heard.Tones, heard.Tones[heard.Inversion]);
    }
}
