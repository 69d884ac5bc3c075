using System.Globalization;
using System.Xml.Linq;
using ScoreLens.Notation;
using ScoreLens.Notation.MusicXml;
using ScoreLens.Theory;
using static ScoreLens.Notation.MusicXml.MusicXmlNumbers;

namespace ScoreLens.Output.Annotation;

/// <summary>Finds the place of every label of a plan in a document that holds none of its layer, and collects the edits.</summary>
internal sealed class LayerWriter
{
    private readonly Score _score;
    private readonly LabelPlan _plan;
    private readonly MusicXmlLayout _layout;
    private readonly LabelMarkup _elements;
    private readonly bool _isConcertScore;

    /// <summary>Prepares to write.</summary>
    /// <exception cref="ArgumentException">The score has other parts or measures than the document.</exception>
    public LayerWriter(MusicXmlDocument document, Score score, LabelPlan plan)
    {
        Markup = ScoreMarkup.Of(document);
        Edits = new MarkupEdits(Markup);
        _score = score;
        _plan = plan;
        _layout = document.Layout;
        if (_layout.PartIds.Count != score.Parts.Count || _layout.MeasureCount != score.Measures.Count)
            throw new ArgumentException("The score was not read from this document: parts or measures differ.", nameof(score));
        _isConcertScore = ScoreHead.Of(_layout.Root).IsConcertScore;
        var version = _layout.Root.Attribute("version")?.Value;
        _elements = new LabelMarkup(plan.Layer, Version.TryParse(version, out var v) ? v : new Version(1, 0));
    }

    public ScoreMarkup Markup { get; }

    public MarkupEdits Edits { get; }

    public void Write()
    {
        var byCell = _plan.Labels.Where(l => _score.Measures.Count > 0).GroupBy(l => Cell(l.Part, l.Onset))
            .ToDictionary(g => g.Key, g => g.ToArray());
        var coloursByPart = _plan.Colours.ToLookup(c => c.Part);
        for (var part = 0; part < _score.Parts.Count; part++)
        {
            if (!byCell.Keys.Any(c => c.Part == part) && !coloursByPart.Contains(part)) continue;
            var state = new PartState(_isConcertScore);
            var firstLine = FirstFreeLine(part);
            for (var measure = 0; measure < _score.Measures.Count; measure++)
            {
                state.ScoreSignature = _score.Measures[measure].Signature;
                if (byCell.TryGetValue((part, measure), out var labels)) WriteCell(part, measure, labels, state, firstLine);
                else foreach (var (element, _, _) in _layout.Contents(part, measure)) Update(state, element);
            }

            ColourNotes(part, [.. coloursByPart[part]]);
        }
    }

    // A part that ends before the others gives its labels to the nearest that goes on.
    private (int Part, int Measure) Cell(int part, Fraction onset)
    {
        var measure = _score.MeasureAt(onset).Index;
        var nearest = Enumerable.Range(0, _score.Parts.Count).OrderBy(p => Math.Abs(p - part))
            .FirstOrDefault(p => _layout.Cell(p, measure) is not null, part);
        return (nearest, measure);
    }

    private void WriteCell(int part, int measure, ScoreLabel[] labels, PartState state, int firstLine)
    {
        var cell = _layout.Cell(part, measure)!;
        var contents = _layout.Contents(part, measure);
        var grid = new CellGrid(contents);
        var start = _score.Measures[measure].Start;
        var next = 0;
        foreach (var group in labels.GroupBy(l => l.Onset).OrderBy(g => g.Key))
        {
            var time = group.Key - start;
            while (next < contents.Count && contents[next].Offset <= time) Update(state, contents[next++].Element);
            var between = new List<Piece>();
            foreach (var label in group)
            {
                var staff = Math.Min(label.Staff, Math.Max(1, _score.Parts[part].Staves));
                if (label is LyricLabel lyric && grid.NoteAt(staff, time) is { } note)
                {
                    var last = note.Elements().LastOrDefault(e => e.Name.LocalName is not ("play" or "listen"));
                    Edits.InsertElements(note, last, [_elements.Lyric(lyric, firstLine + lyric.Line - 1)]);
                }
                else
                {
                    AddPiece(between, label, part, staff, state);
                }
            }

            foreach (var run in between.GroupBy(p => (p.Staff, p.Texts is null)))
                WriteBetween(cell, grid, run.Key.Staff, time, [.. run]);
        }

        while (next < contents.Count) Update(state, contents[next++].Element);
    }

    // Programs place words by where the document stands and pass over their offset, so for words inside a held note the
    // document steps back and on again; chord symbols they do place by offset.
    private void WriteBetween(XElement cell, CellGrid grid, int staff, Fraction time, Piece[] pieces)
    {
        if (grid.ExactSpot(staff, time) is { } exact)
        {
            Edits.InsertElements(cell, exact.After, pieces.Select(p => p.Make(0)));
            return;
        }

        if (pieces[0].Texts is not null && grid.SpotAfterSounding(staff, time) is { } after
            && after.Offset * after.Divisions is { Denominator: 1, Sign: < 0 } back)
        {
            Edits.InsertElements(cell, after.After, [_elements.Move(back: true, -back), .. pieces.Select(p => p.Make(0)),
                _elements.Move(back: false, -back)]);
            return;
        }

        var spot = grid.SpotBefore(staff, time);
        Edits.InsertElements(cell, spot.After, pieces.Select(p => p.Make(spot.Offset * spot.Divisions)));
    }

    private void AddPiece(List<Piece> pieces, ScoreLabel label, int part, int staff, PartState state)
    {
        int? named = _score.Parts[part].Staves > 1 ? staff : null;
        var down = -state.TranspositionOf(staff).Fifths;
        switch (label)
        {
            case ChordSymbolLabel symbol:
                pieces.Add(new Piece(staff, false, null, offset => _elements.Symbol(symbol, Written(symbol.Chord, down), offset, named)));
                break;
            case NumeralLabel numeral:
                pieces.Add(new Piece(staff, false, null, offset => _elements.Numeral(numeral, Written(numeral.Key, down), offset, named)));
                break;
            default:
                var (text, isAbove, continues) = label switch
                {
                    WordsLabel words => (words.Text, words.IsAbove, words.Continues),
                    // Lyric lines that fall to words stay apart: short ones find room between the syllables beside them.
                    LyricLabel lyric => (lyric.Text, false, false),
                    _ => throw new ArgumentException($"Unknown label {label.GetType().Name}."),
                };
                if (continues && pieces.FindLast(p => p.Texts is not null && p.Staff == staff
                    && p.IsAbove == isAbove) is { Texts: { } line })
                {
                    line.Add((label, text));
                    break;
                }

                List<(ScoreLabel, string)> texts = [(label, text)];
                pieces.Add(new Piece(staff, isAbove, texts, offset => _elements.Words(texts, isAbove, offset, named)));
                break;
        }
    }

    // What stands between notes: words with their texts, or harmony without.
    private sealed record Piece(int Staff, bool IsAbove, List<(ScoreLabel Label, string Text)>? Texts, Func<Fraction, XElement> Make);

    private static ChordName Written(ChordName chord, int fifths) => fifths == 0
        ? chord
        : new ChordName(Shift(chord.Root, fifths), chord.Quality, chord.Bass is { } bass ? Shift(bass, fifths) : null, chord.Extension);

    private static Key Written(Key key, int fifths) => new(Shift(key.Tonic, fifths), key.Mode);

    // Beyond two accidentals a part is written in the enharmonic key.
    private static Tone Shift(Tone tone, int fifths)
    {
        var shifted = tone.Fifths + fifths;
        return new Tone(shifted > 19 ? shifted - 12 : shifted < -15 ? shifted + 12 : shifted);
    }

    private static void Update(PartState state, XElement element)
    {
        if (element.Name.LocalName == "attributes") state.Update(element);
    }

    // Ours come below every line that the part has, by number or, where lines have names for numbers, by their count.
    private int FirstFreeLine(int part)
    {
        var lines = Enumerable.Range(0, _layout.MeasureCount)
            .SelectMany(measure => _layout.Contents(part, measure))
            .SelectMany(placed => placed.Element.Elements().Where(e => e.Name.LocalName == "lyric"))
            .Select(lyric => lyric.Attribute("number")?.Value.Trim() is { Length: > 0 } number ? number : "1")
            .ToHashSet();
        var highest = lines.Select(l => int.TryParse(l, NumberStyles.None, CultureInfo.InvariantCulture, out var n) ? n : 0)
            .DefaultIfEmpty(0).Max();
        return Math.Max(highest, lines.Count) + 1;
    }

    private void ColourNotes(int part, NoteColour[] colours)
    {
        if (colours.Length == 0) return;
        var done = new HashSet<XElement>();
        var state = new PartState(_isConcertScore);
        for (var measure = 0; measure < _layout.MeasureCount; measure++)
        {
            foreach (var (element, offset, _) in _layout.Contents(part, measure))
            {
                Update(state, element);
                if (element.Name.LocalName != "note" || Child(element, "pitch") is null) continue;
                var onset = _score.Measures[measure].Start + offset;
                var staff = CellGrid.StaffOf(element);
                var colour = colours.FirstOrDefault(c => c.Staff == staff && c.Onset <= onset && (onset < c.End || onset == c.Onset)
                    && c.Voice == NoteElements.Voice(element) && c.Pitch.Midi == NoteElements.Midi(element, state.TranspositionOf(staff)
                        .Chromatic));
                if (colour is not null && done.Add(element)) NoteColouring.Colour(element, colour.Colour, _plan.Layer, Markup, Edits);
            }
        }
    }
}
