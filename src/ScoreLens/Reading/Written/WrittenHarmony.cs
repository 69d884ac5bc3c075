using ScoreLens.Notation;
using ScoreLens.Theory;

namespace ScoreLens.Reading.Written;

/// <summary>
/// The harmony that a score's own chord symbols write down, as stretches in order. Symbols are <c>harmony</c> elements on a root, or words
/// over the staff in the usual spellings; in a score that has neither, Roman numerals over a bare melody, in the key of the signature.
/// </summary>
internal static class WrittenHarmony
{
    // A few words may be taken for symbols by chance; more are a chart.
    private const int FewestTyped = 3;

    /// <summary>The stretches; none where the score has no symbols. Two neighbours differ.</summary>
    public static IReadOnlyList<WrittenSpan> Of(Score score)
    {
        var symbols = score.ChordSymbols.Where(s => !s.IsOwn).Select(s => (s.Onset, Chord: Chord(s))).ToList();
        if (symbols.All(s => s.Chord is null)) symbols = Typed(score);
        if (symbols.All(s => s.Chord is null)) symbols = Numerals(score);
        if (symbols.All(s => s.Chord is null)) return [];
        // Several symbols at one place: the first that the score has from the top.
        var places = symbols.GroupBy(s => s.Onset).Select(g =>
            (Onset: g.Key, Chord: g.Select(s => s.Chord).FirstOrDefault(c => c is not null)))
            .Where(s => s.Onset < score.End).OrderBy(s => s.Onset).ToList();
        var spans = new List<WrittenSpan>();
        for (var i = 0; i < places.Count; i++)
        {
            if (i > 0 && Equals(places[i].Chord, places[i - 1].Chord)) continue;
            var last = i;
            while (last + 1 < places.Count && Equals(places[last + 1].Chord, places[i].Chord)) last++;
            var end = last + 1 < places.Count ? places[last + 1].Onset : score.End;
            var next = last + 1 < places.Count ? places[last + 1].Chord : null;
            spans.Add(new WrittenSpan(places[i].Onset, end, places[i].Chord, Quality(score, places[i].Onset, places[i].Chord, next)));
        }

        return spans;
    }

    private static WrittenChord? Chord(ChordSymbol symbol)
    {
        if (symbol.Root is not { } root || symbol.Kind == "none") return null;
        // A kind that says nothing, as "other" does: the root is all that is known, and a bare root is a major triad.
        IEnumerable<Tone> tones = symbol.Tones.Count > 0 ? symbol.Tones : ChordQuality.Major.Members().ToArray()
            .Where(m => root.Fifths + m <= Tone.MaxFifths).Select(m => root + m).ToArray();
        var chord = new WrittenChord(root, tones, symbol.Bass);
        return symbol.Upper is { } above && Chord(above) is { } upper ? WrittenChord.Over(upper, chord) : chord;
    }

    // Words of one staff that read as chord symbols. Single letters in the order of the alphabet are marks of sections.
    private static List<(Fraction Onset, WrittenChord? Chord)> Typed(Score score)
    {
        foreach (var staff in score.Texts.Where(t => t.Kind == ScoreTextKind.Words && !t.IsOwn).GroupBy(t =>
            (t.Part, t.Staff)).OrderBy(g => g.Key))
        {
            var read = staff.Select(t => (t.Onset, t.Text, Chord: SymbolText.Read(t.Text), IsNone: SymbolText.IsNoChord(t.Text)))
                .Where(t => t.Chord is not null || t.IsNone).ToList();
            if (read.Count < FewestTyped || read.All(t => t.IsNone)) continue;
            var letters = read.Where(t => t.Chord is not null).Select(t => t.Text).ToArray();
            var isAlphabet = letters.All(t => t.Length == 1) && letters.Zip(letters.Skip(1)).All(p => p.First[0] < p.Second[0]);
            if (!isAlphabet) return [.. read.Select(t => (t.Onset, t.Chord))];
        }

        return [];
    }

    /// <summary>Whether all that a score writes down of its harmony are Roman numerals, which may be somebody's analysis of the
    /// notes.</summary>
    public static bool HasNumeralsAlone(Score score) =>
        score.ChordSymbols.All(s => s.IsOwn || Chord(s) is null) && Typed(score).All(s => s.Chord is null);

    /// <summary>Where the composer's first chord symbol stands, as an element or typed; null where there is none.</summary>
    public static Fraction? FirstSymbol(Score score)
    {
        Fraction[] onsets = [.. score.ChordSymbols.Where(s => !s.IsOwn).Select(s => s.Onset)];
        if (onsets.Length == 0) onsets = [.. Typed(score).Select(s => s.Onset)];
        return onsets.Length == 0 ? null : onsets.Min();
    }

    private static List<(Fraction Onset, WrittenChord? Chord)> Numerals(Score score)
    {
        var symbols = new List<(Fraction, WrittenChord?)>();
        foreach (var text in score.Texts.Where(t => t.Kind == ScoreTextKind.Numeral && !t.IsOwn && t.Onset < score.End))
        {
            var measure = score.MeasureAt(text.Onset);
            var mode = measure.SignatureMode ?? Mode.Major;
            var tonic = measure.Signature + (mode == Mode.Minor ? 3 : 0);
            if (!Numeral.TryParse(text.Text, mode, out var numeral) || tonic is < -14 or > 14) continue;
            var key = new Key(new Tone(tonic), mode);
            var name = ChordName.Of(key, numeral);
            Tone[] tones = [.. numeral.Tones(key)];
            // An augmented sixth sounds as the seventh chord on its lowest tone.
            if (numeral.Quality.IsAugmentedSixth()) tones = [.. tones.SkipLast(1), name.Root + -2];
            symbols.Add((text.Onset, new WrittenChord(name.Root, tones, name.Bass)));
        }

        return symbols;
    }

    // A third that is suspended or left out is that of the same root's next chord, else the one that the signature's scale has.
    private static ChordQuality Quality(Score score, Fraction onset, WrittenChord? chord, WrittenChord? next)
    {
        if (chord is null) return ChordQuality.Major;
        if (chord.HasThird) return chord.Quality();
        if (next is { HasThird: true } && next.Root == chord.Root) return chord.Quality(!next.Quality().HasMajorThird());
        var scale = new Key(new Tone(Math.Clamp(score.MeasureAt(onset).Signature, -7, 7)), Mode.Major);
        var isMinor = !chord.Tones.Contains(chord.Root + -2) && scale.Contains(chord.Root) && !scale.Contains(chord.Root + 4);
        return chord.Quality(isMinor);
    }
}
