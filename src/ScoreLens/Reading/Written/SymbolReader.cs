using ScoreLens.Grouping;
using ScoreLens.Notation;
using ScoreLens.Reading.Model;
using ScoreLens.Reading.Refinement;
using ScoreLens.Reading.Search;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Reading.Written;

/// <summary>
/// Reads the harmony that chord symbols write down: every symbol is one chord, with the root and quality that it writes. The learned model
/// hears the symbols played under the notes and finds the keys; the numeral is the symbol's in that key.
/// </summary>
internal static class SymbolReader
{
    // Log odds of a new chord, for the search: certain where a symbol stands, and nowhere else.
    private const float Certain = 8;

    private static readonly IRefinement[] OfNumerals =
    [
        new LoneKeys(),
        new AppliedDominants(),
        new CirclesOfSevenths(),
        new CadentialSixFours(),
        new NearSpellings(),
        new PassingKeys(),
        new BluesForm(),
    ];

    // What comes last, when every chord has its symbol's own name.
    private static readonly IRefinement[] Idioms = [new BluesSevenths(), new RelatedTwos(), new SuspendedDominants()];

    /// <summary>The chords of the symbols, in order, each in the key that is heard where it stands.</summary>
    public static Testimony Hear(Score score, IReadOnlyList<WrittenSpan> spans, CancellationToken cancellationToken)
    {
        var staged = Staging.Of(score, spans);
        var sonorities = SonorityFinder.Find(staged);
        var (rows, signatures) = SonorityFeatures.Of(staged, sonorities, new GroupingEvidence(staged, sonorities), cancellationToken);
        var (model, settings) = (ReadingModel.Default, ReadingSettings.Default);
        var output = model.Run(rows, sonorities, cancellationToken);
        var onsets = spans.Select(s => s.Onset).ToHashSet();
        for (var t = 0; t < sonorities.Count; t++)
            output[(t * model.OutputStride) + model.Vocabulary.NewChordAt] = onsets.Contains(sonorities[t].Onset) ? Certain : -Certain;
        var decoding = ReadingDecoder.Decode(model, settings, output, signatures, sonorities, cancellationToken);
        var context = new RefinementContext(staged, sonorities, settings);
        var chords = RefinementSteps.Apply(RefinementSteps.OfKeys, Chords(model.Vocabulary, settings, decoding, sonorities, spans),
            context);
        return new Testimony(spans, context, new HarmonicReading(HomeKeys.Of(chords, score, settings), chords));
    }

    /// <summary>The chords in keys that are decided, with their final numerals; what sounds of each is not yet known.</summary>
    public static IReadOnlyList<ChordReading> Finish(IReadOnlyList<ChordReading> chords, Testimony testimony)
    {
        chords = RefinementSteps.Apply(OfNumerals, chords, testimony.Context);
        chords = [.. chords.Zip(testimony.Spans, Named)];
        chords = RefinementSteps.Apply(Idioms, chords, testimony.Context);
        return StatedConfidence.Of(WithKeysOfSilence(chords), testimony.Context.Sonorities);
    }

    // Where no chord is played the key of the chord before goes on.
    private static ChordReading[] WithKeysOfSilence(IReadOnlyList<ChordReading> chords)
    {
        var kept = chords.ToArray();
        for (var i = 1; i < kept.Length; i++)
            if (kept[i].Written is null) kept[i] = kept[i] with { Key = kept[i - 1].Key };
        return kept;
    }

    private static List<ChordReading> Chords(NumeralVocabulary vocabulary, ReadingSettings settings, Decoding decoding,
        IReadOnlyList<Sonority> sonorities, IReadOnlyList<WrittenSpan> spans)
    {
        var chords = new List<ChordReading>();
        var sums = new Dictionary<Pair, double>();
        foreach (var span in spans)
        {
            var start = TonesInTime.First(sonorities, span.Onset);
            var end = start;
            while (end < sonorities.Count && sonorities[end].Onset < span.End) end++;
            // No note begins and no chord is played, as after the last note: what was heard before goes on.
            if (end == start) (start, end) = (Math.Max(0, start - 1), Math.Max(1, start));
            var chosen = Enumerable.Range(start, end - start).GroupBy(t => decoding.Path[t])
                .MaxBy(g => g.Sum(t => sonorities[t].Duration.ToDouble()))!.Key;
            var chord = HarmonicReader.Chord(vocabulary, settings, decoding, sonorities, start, end, chosen, sums)
                with
            { Onset = span.Onset, Duration = span.End - span.Onset };
            chords.Add(span.Chord is null ? chord with { Numeral = null, Confidence = 0, RunnersUp = [] } : Named(chord, span));
        }

        return chords;
    }

    // A numeral of the search that says more than root and quality: what a dominant or a leading-tone chord is applied to, or that a
    // six-four is cadential.
    private static bool Says(Numeral numeral) => numeral.Kind == NumeralKind.CadentialSixFour
        || (numeral is { Kind: NumeralKind.Plain, IsApplied: true, Alteration: 0, Degree: 5 or 7 }
            && numeral.Quality.HasMajorThird() == (numeral.Degree == 5));

    // The numeral is the symbol's: what the search found stands where it is that chord and says what it is applied to.
    private static ChordReading Named(ChordReading chord, WrittenSpan span)
    {
        if (span.Chord is not { } written) return chord;
        var (quality, inversion) = (span.Quality, written.Inversion(span.Quality));
        var extension = inversion == 0 && quality.IsSeventh() && quality != ChordQuality.DiminishedSeventh ? written.Extension : 0;
        var named = chord with { Written = written };
        if (chord.Numeral is { } found && Says(found) && found.Root(chord.Key).IsEnharmonicWith(written.Root) && found.Quality == quality
            && found.Inversion == inversion)
        {
            return extension != found.Extension
                ? named with { Numeral = new Numeral(found.Degree, quality, inversion, found.Alteration, found.Target, extension) }
                : named;
        }

        return named with { Numeral = NameInKey.Of(chord.Key, written.Root.NearestTo(chord.Key.Tonic), quality, inversion, extension) };
    }
}
