using System.Globalization;
using System.Xml.Linq;
using ScoreLens.Theory;
using static ScoreLens.Notation.MusicXml.MusicXmlNumbers;

namespace ScoreLens.Notation.MusicXml;

/// <summary>Reads one part: its notes at concert pitch, rests, chord symbols and texts.</summary>
internal sealed class PartReader(int part, MusicXmlLayout layout, IReadOnlyList<Measure> measures, ScoreHead head, ScoreReadOptions options)
{
    private readonly PartState _state = new(head.IsConcertScore);
    private bool _pitched, _percussion;

    public List<Note> Notes { get; } = [];

    public List<Rest> Rests { get; } = [];

    public List<ChordSymbol> Symbols { get; } = [];

    public List<ScoreText> Texts { get; } = [];

    public List<TempoMark> Tempos { get; } = [];

    public int Staves => _state.Staves;

    /// <summary>Whether a note of the part is written in another key than it sounds in.</summary>
    public bool IsTransposing { get; private set; }

    /// <summary>Whether the part has notes, and none with a pitch: all stand under a percussion clef or for drum sounds.</summary>
    public bool IsPercussionOnly => _percussion && !_pitched;

    public void Read(CancellationToken cancellationToken)
    {
        var signs = new RepeatSigns(measures, Notes, Rests);
        for (var measure = 0; measure < layout.MeasuresOf(part); measure++)
        {
            cancellationToken.ThrowIfCancellationRequested();
            _state.ScoreSignature = measures[measure].Signature;
            foreach (var placed in InTimeOrder(SpreadSymbols(Contents(measure))))
            {
                var onset = measures[measure].Start + placed.Offset;
                switch (placed.Element.Name.LocalName)
                {
                    case "attributes":
                        _state.Update(placed.Element);
                        signs.Read(placed.Element, measure, onset);
                        break;
                    case "note": ReadNote(placed, onset, measures[measure]); break;
                    case "harmony": ReadHarmony(placed, onset, measures[measure]); break;
                    case "direction":
                        ReadDirection(placed, onset);
                        ReadTempo(placed, onset);
                        break;
                    case "sound": ReadTempo(placed, onset); break;
                    case "figured-bass": ReadFigures(placed, onset); break;
                }
            }
        }

        signs.Fill();
    }

    // Labels of ours that are left out stand beside the notes or step back and on again: without them every time stays as it is.
    private IReadOnlyList<PlacedElement> Contents(int measure)
    {
        var contents = layout.Contents(part, measure);
        return options.KeepsOwnLabels || !contents.Any(p => OwnLabels.Has(p.Element)) ? contents
            : [.. contents.Where(p => !OwnLabels.Has(p.Element))];
    }

    // Several chord symbols before one note, without offsets, say that the harmony changes while it sounds: in equal shares.
    private static IReadOnlyList<PlacedElement> SpreadSymbols(IReadOnlyList<PlacedElement> contents)
    {
        PlacedElement[]? spread = null;
        var run = new List<int>();
        for (var i = 0; i < contents.Count; i++)
        {
            var placed = contents[i];
            switch (placed.Element.Name.LocalName)
            {
                case "harmony" when Child(placed.Element, "root") is not null && Child(placed.Element, "offset") is null
                        && placed.Element.Attribute("type")?.Value != "alternate":
                    if (run.Count > 0 && Staff(contents[run[0]].Element) != Staff(placed.Element)) run.Clear();
                    run.Add(i);
                    break;
                case "note" when placed.Length.Sign > 0:
                    for (var k = 1; k < run.Count; k++)
                    {
                        spread ??= [.. contents];
                        spread[run[k]] = spread[run[k]] with { Offset = placed.Offset + (placed.Length * k / run.Count) };
                    }

                    run.Clear();
                    break;
                case "backup" or "forward": run.Clear(); break;
            }
        }

        return spread ?? contents;
    }

    // Attributes hold from their time on, whatever voice was written last when they came: after a backup the notes of
    // another voice before them are still without them.
    private static IEnumerable<PlacedElement> InTimeOrder(IReadOnlyList<PlacedElement> contents)
    {
        var isOrdered = true;
        for (var i = 1; i < contents.Count && isOrdered; i++) isOrdered = contents[i].Element.Name.LocalName != "attributes";
        return isOrdered ? contents : contents.OrderBy(p => p.Offset).ThenBy(p => p.Element.Name.LocalName == "attributes" ? 0 : 1);
    }

    private void ReadNote(PlacedElement placed, Fraction onset, Measure measure)
    {
        XElement? pitch = null, rest = null;
        var (staff, voice) = (1, "1");
        var (isSlash, isDrum) = (false, false);
        var marks = NoteMarks.None;
        for (var node = placed.Element.FirstNode; node is not null; node = node.NextNode)
        {
            if (node is not XElement child) continue;
            switch (child.Name.LocalName)
            {
                case "pitch": pitch = child; break;
                case "rest": rest = child; break;
                case "unpitched": isDrum = true; break;
                case "grace": marks |= NoteMarks.Grace; break;
                case "cue": marks |= NoteMarks.Cue; break;
                case "tie": marks |= NoteMarksReader.Tie(child); break;
                case "notations": marks |= NoteMarksReader.Notations(child); break;
                case "staff": staff = StaffNumber(child); break;
                case "voice": voice = child.Value.Trim() is { Length: > 0 } v ? v : "1"; break;
                case "notehead": isSlash = child.Value.Trim() is "slash" or "slashed"; break;
                case "instrument": isDrum |= head.IsUnpitched(layout.PartIds[part], child.Attribute("id")?.Value ?? ""); break;
            }
        }

        _state.Staves = Math.Max(_state.Staves, staff);
        ReadLyrics(placed.Element, onset, staff);
        if (rest is not null)
        {
            var length = rest.Attribute("measure")?.Value == "yes" && placed.Offset.Sign == 0 ? measure.Length : placed.Length;
            Rests.Add(new Rest(onset, length, part, staff, voice));
            return;
        }

        // Under a percussion clef, on a drum sound or as a slash, a place on the staff is no pitch.
        if (isDrum || isSlash || (pitch is not null && _state.IsPercussion(staff)))
        {
            _percussion |= !isSlash;
            return;
        }

        if (pitch is null) return;
        _pitched = true;
        var transposition = _state.TranspositionOf(staff);
        IsTransposing |= transposition.Fifths != 0;
        var sounding = Sounding(pitch, transposition);
        Notes.Add(new Note(sounding, onset, placed.Length, part, staff, voice, marks));
        if (transposition.DoubledOctave != 0 && sounding.Octave + transposition.DoubledOctave is >= -1 and <= 10 and var octave)
            Notes.Add(new Note(new Pitch(sounding.Tone, octave), onset, placed.Length, part, staff, voice, marks));
    }

    private static Pitch Sounding(XElement pitch, Transposition transposition)
    {
        var step = Text(pitch, "step");
        if (step is not [>= 'A' and <= 'G' or >= 'a' and <= 'g'])
            throw new ScoreFormatException($"'{step}' is not a pitch step A to G.", MusicXmlLayout.Where(pitch));
        if (Child(pitch, "octave") is not { } octave) throw new ScoreFormatException("The pitch has no octave.",
            MusicXmlLayout.Where(pitch));
        // A microtone is heard as the semitone that it bends: 1.5 is a sharp that is raised further, .5 a raised natural.
        var alter = Child(pitch, "alter") is { } a && !string.IsNullOrWhiteSpace(a.Value) ? Number(a) : Fraction.Zero;
        if (alter < -3 || alter > 3) throw new ScoreFormatException($"alter is {alter}; a pitch is altered by three semitones at most.",
            MusicXmlLayout.Where(pitch));
        var semitones = (int)(alter.Sign < 0 ? -(-alter).Floor() : alter.Floor());
        var written = new Pitch(Tone.Of(step[0], semitones), Integer(octave, -1, 10));
        return transposition.Apply(written)
            ?? throw new ScoreFormatException($"{written}, transposed to concert pitch, is no pitch any more.",
                MusicXmlLayout.Where(pitch));
    }

    private void ReadLyrics(XElement note, Fraction onset, int staff)
    {
        for (var node = note.FirstNode; node is not null; node = node.NextNode)
        {
            if (node is not XElement lyric || lyric.Name.LocalName != "lyric") continue;
            var isOwn = OwnLabels.Has(lyric);
            if (isOwn && !options.KeepsOwnLabels) continue;
            var text = string.Concat(lyric.Elements().Select(e => e.Name.LocalName switch
            {
                "text" => e.Value,
                // Without a sign of its own an elision is the tie between syllables.
                "elision" => e.Value.Length > 0 ? e.Value : "\u203F",
                _ => "",
            })).Trim();
            if (text.Length == 0) continue;
            var (line, name) = (lyric.Attribute("number")?.Value ?? "", lyric.Attribute("name")?.Value ?? "");
            Texts.Add(new ScoreText(onset, part, staff, ScoreTextKind.Lyric, text, line, name) { IsOwn = isOwn });
        }
    }

    private void ReadHarmony(PlacedElement placed, Fraction onset, Measure measure)
    {
        var staff = Staff(placed.Element);
        var mode = _state.KeyOf(staff)?.Mode ?? measure.SignatureMode ?? Mode.Major;
        var harmony = HarmonyReader.Read(placed.Element, _state.TranspositionOf(staff), mode);
        var at = Moved(placed, onset);
        var isOwn = OwnLabels.Has(placed.Element);
        if (harmony.HasSymbol) Symbols.Add(harmony.Symbol(at, part) with { IsOwn = isOwn });
        if (harmony.Label.Length > 0) Texts.Add(new ScoreText(at, part, staff, ScoreTextKind.Numeral, harmony.Label) { IsOwn = isOwn });
    }

    private void ReadDirection(PlacedElement placed, Fraction onset)
    {
        var at = Moved(placed, onset);
        var isOwn = OwnLabels.Has(placed.Element);
        foreach (var type in placed.Element.Elements().Where(e => e.Name.LocalName == "direction-type").Elements())
        {
            if (type.Name.LocalName is not ("words" or "rehearsal") || type.Value.Trim().Length == 0) continue;
            var kind = type.Name.LocalName == "words" ? ScoreTextKind.Words : ScoreTextKind.Rehearsal;
            Texts.Add(new ScoreText(at, part, Staff(placed.Element), kind, type.Value.Trim()) { IsOwn = isOwn });
        }
    }

    private void ReadTempo(PlacedElement placed, Fraction onset)
    {
        if (TempoReader.Read(placed.Element) is { } tempo) Tempos.Add(new TempoMark(Moved(placed, onset), tempo));
    }

    private void ReadFigures(PlacedElement placed, Fraction onset)
    {
        var figures = FigureReader.Read(placed.Element);
        if (figures.Length == 0) return;
        Texts.Add(new ScoreText(Moved(placed, onset), part, Staff(placed.Element), ScoreTextKind.FiguredBass, figures)
        {
            Extends = FigureReader.HasLine(placed.Element) ? placed.Length : Fraction.Zero,
        });
    }

    // An offset moves a sign in divisions, back or forth; it stays inside the score.
    private static Fraction Moved(PlacedElement placed, Fraction onset) =>
        Child(placed.Element, "offset") is { } offset && !string.IsNullOrWhiteSpace(offset.Value)
            ? Fraction.Max(Fraction.Zero, onset + (Number(offset) / placed.Divisions))
            : onset;

    private static int Staff(XElement element) => Child(element, "staff") is { } staff ? StaffNumber(staff) : 1;

    private static int StaffNumber(XElement staff) =>
        int.TryParse(staff.Value, NumberStyles.Integer, CultureInfo.InvariantCulture, out var n) && n is > 0 and <= PartState.MaxStaves ? n
            : 1;
}
