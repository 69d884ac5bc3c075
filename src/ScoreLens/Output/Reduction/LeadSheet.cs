using System.Globalization;
using System.Xml.Linq;
using ScoreLens.Notation;
using ScoreLens.Output.Annotation;
using ScoreLens.Reading;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Output.Reduction;

/// <summary>
/// A score as a lead sheet: its melody on one staff, with a chord symbol for every chord of the reading. The melody is the staff that is
/// sung, else the top one; where it has several notes at once, the highest.
/// </summary>
public static class LeadSheet
{
    /// <summary>The lead sheet as MusicXML 4.0, uncompressed.</summary>
    /// <param name="analysis">The analysed score.</param>
    /// <param name="spelling">How the qualities of the symbols are spelled.</param>
    public static byte[] MusicXml(CueAnalysis analysis, SymbolSpelling spelling)
    {
        ArgumentNullException.ThrowIfNull(analysis);
        var source = analysis.Score;
        var title = source.Title.Length == 0 ? "Lead sheet" : source.Title;
        var score = new Score(title, [new Part(0, "P1", "Melody", 1)], source.Measures, [.. Melody(source)], [], [], []);
        return ReductionScore.Bytes(score, "4.0", staves: 1, [.. Symbols(analysis, spelling)]);
    }

    private static IEnumerable<(Fraction Onset, Func<Fraction, XElement> Make)> Symbols(CueAnalysis analysis, SymbolSpelling spelling)
    {
        WrittenChord? before = null;
        var isSilent = false;
        foreach (var reading in analysis.Chords.Select(c => c.Reading))
        {
            var chord = Chord(reading);
            if (chord is null && (before is null || isSilent)) continue;
            // The same chord again needs no symbol.
            if (chord is not null && chord.Equals(before) && !isSilent) continue;
            (before, isSilent) = (chord ?? before, chord is null);
            yield return (reading.Onset, offset => Symbol(chord, spelling, offset));
        }
    }

    // The composer's own symbol where it names the chord.
    private static WrittenChord? Chord(ChordReading reading)
    {
        if (reading.Numeral is not { } numeral) return null;
        if (reading.Written is { Figures: null } written) return written;
        var name = ChordName.Of(reading.Key, numeral);
        return SymbolText.Read(name.ToString());
    }

    private static XElement Symbol(WrittenChord? chord, SymbolSpelling spelling, Fraction offset)
    {
        var moved = offset.Sign == 0 ? null : new XElement("offset", LabelMarkup.Text(offset));
        if (chord is null)
            return new XElement("harmony", new XElement("kind", new XAttribute("text", "N.C."), "none"), moved);
        return new XElement("harmony", Stack(chord).Reverse().SelectMany(c => Elements(c, spelling)), moved);
    }

    // A polychord's chords from the lowest up.
    private static IEnumerable<WrittenChord> Stack(WrittenChord chord)
    {
        for (var next = chord; next is not null; next = next.Upper) yield return next.Lower ?? next;
    }

    private static IEnumerable<XElement?> Elements(WrittenChord chord, SymbolSpelling spelling)
    {
        var (kind, degrees) = HarmonyKinds.Of(chord);
        // Programs print degrees after the text of the kind; those of a suspended chord are part of it, as 7sus4.
        var hasDegrees = chord.HasThird && degrees.Count > 0;
        var text = chord.ToDisplayString(spelling);
        var bass = chord.Bass is { } low ? "/" + low.ToDisplayString() : "";
        var suffix = hasDegrees ? chord.PlainSuffix(spelling) : text[chord.Root.ToDisplayString().Length..^bass.Length];
        return
        [
            Tone("root", chord.Root),
            new XElement("kind", new XAttribute("text", suffix), kind),
            chord.Bass is { } tone ? Tone("bass", tone) : null,
            .. degrees.Select(d => new XElement(
                "degree",
                hasDegrees ? null : new XAttribute("print-object", "no"),
                new XElement("degree-value", d.Value.ToString(CultureInfo.InvariantCulture)),
                new XElement("degree-alter", d.Alter.ToString(CultureInfo.InvariantCulture)),
                new XElement("degree-type", hasDegrees && d.Alter != 0 ? new XAttribute("text", "") : null, d.Type))),
        ];
    }

    private static XElement Tone(string name, Tone tone) => new(
        name,
        new XElement(name + "-step", tone.Letter.ToString()),
        tone.Alteration == 0 ? null : new XElement(name + "-alter", tone.Alteration.ToString(CultureInfo.InvariantCulture)));

    // One note at a time, ties joined, cut at bar lines and tied again.
    private static IEnumerable<Note> Melody(Score source)
    {
        var notes = source.Notes.Where(n => n.IsHarmonic).ToList();
        if (notes.Count == 0) yield break;
        var sung = source.Texts.Where(t => t.Kind == ScoreTextKind.Lyric && !t.IsOwn).GroupBy(t => (t.Part, t.Staff))
            .Where(g => notes.Any(n => (n.Part, n.Staff) == g.Key)).OrderByDescending(g => g.Count()).Select(g =>
            ((int, int)?)g.Key).FirstOrDefault();
        var staff = sung ?? notes.Select(n => (n.Part, n.Staff)).Min();
        var line = SonorityFinder.JoinTies(notes.Where(n => (n.Part, n.Staff) == staff)).GroupBy(n => n.Onset).OrderBy(g => g.Key)
            .Select(g => g.MaxBy(n => n.Pitch)!).ToList();
        for (var i = 0; i < line.Count; i++)
        {
            var end = i + 1 < line.Count ? Fraction.Min(line[i].End, line[i + 1].Onset) : line[i].End;
            for (var start = line[i].Onset; start < end;)
            {
                var stop = Fraction.Min(end, source.MeasureAt(start).End);
                if (stop <= start) break;
                var marks = (start > line[i].Onset ? NoteMarks.TieStop : 0) | (stop < end ? NoteMarks.TieStart : 0);
                yield return new Note(line[i].Pitch, start, stop - start, 0, 1, "1", marks);
                start = stop;
            }
        }
    }
}
