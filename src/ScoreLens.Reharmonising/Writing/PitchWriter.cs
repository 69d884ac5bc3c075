using System.Globalization;
using System.Xml.Linq;
using ScoreLens.Notation;
using ScoreLens.Notation.MusicXml;
using ScoreLens.Output.Annotation;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

using static ScoreLens.Notation.MusicXml.MusicXmlNumbers;

namespace ScoreLens.Reharmonising.Writing;

/// <summary>Gives notes of a document other pitches, and their measures the accidentals that these need.</summary>
internal sealed class PitchWriter
{
    private readonly ScoreMarkup _markup;
    private readonly Score _score;
    private readonly IReadOnlyList<Rewriting> _rewritings;
    private readonly MusicXmlLayout _layout;
    private readonly MarkupEdits _edits;

    // The ties that end or begin at a note whose partner has another pitch now.
    private readonly Dictionary<(int Part, Fraction Onset, string Voice, int Midi), NoteMarks> _untied = [];

    /// <summary>Prepares to write.</summary>
    /// <exception cref="ArgumentException">The score has other parts or measures than the document.</exception>
    public PitchWriter(MusicXmlDocument document, Score score, IReadOnlyList<Rewriting> rewritings)
    {
        var markup = ScoreMarkup.Of(document);
        (_markup, _score, _rewritings, _edits) = (markup, score, rewritings, new MarkupEdits(markup));
        _layout = document.Layout;
        if (_layout.PartIds.Count != score.Parts.Count || _layout.MeasureCount != score.Measures.Count)
            throw new ArgumentException("The score was not read from this document: parts or measures differ.", nameof(score));
    }

    /// <summary>The bytes of the document with the changes.</summary>
    public byte[] Write()
    {
        var changes = new Dictionary<(int Part, Fraction Onset, string Voice, int Midi), Pitch>();
        foreach (var change in _rewritings.SelectMany(r => r.Changes))
            changes[KeyOf(change.Note)] = change.Pitch;
        foreach (var (from, to) in Ties.Between(_score.Notes).Pairs)
        {
            var (first, second) = (KeyOf(from), KeyOf(to));
            if (!changes.ContainsKey(first) && !changes.ContainsKey(second)) continue;
            if (changes.GetValueOrDefault(first, from.Pitch) == changes.GetValueOrDefault(second, to.Pitch)) continue;
            _untied[first] = _untied.GetValueOrDefault(first) | NoteMarks.TieStart;
            _untied[second] = _untied.GetValueOrDefault(second) | NoteMarks.TieStop;
        }

        var isConcert = ScoreHead.Of(_layout.Root).IsConcertScore;
        for (var part = 0; part < _score.Parts.Count; part++)
        {
            var state = new PartState(isConcert);
            for (var measure = 0; measure < _layout.MeasuresOf(part); measure++)
            {
                state.ScoreSignature = _score.Measures[measure].Signature;
                WriteCell(part, _score.Measures[measure], state, changes);
            }
        }

        return _markup.Encode(_edits.Apply());
    }

    private static (int Part, Fraction Onset, string Voice, int Midi) KeyOf(Note note) =>
        (note.Part, note.Onset, note.Voice, note.Pitch.Midi);

    private void WriteCell(
        int part, Measure measure, PartState state, Dictionary<(int Part, Fraction Onset, string Voice, int Midi), Pitch> changes)
    {
        var notes = new List<WrittenNote>();
        foreach (var (element, offset, divisions) in _layout.Contents(part, measure.Index))
        {
            switch (element.Name.LocalName)
            {
                case "attributes":
                    state.Update(element);
                    break;
                case "harmony" or "figured-bass":
                    var place = measure.Start + offset + (Child(element, "offset") is { } shift ? Number(shift) / divisions
                        : Fraction.Zero);
                    if (_rewritings.Any(r => r.Holds(place))) _edits.Remove(element);
                    break;
                case "note" when Child(element, "pitch") is { } pitch:
                    var staff = CellGrid.StaffOf(element);
                    var transposition = state.TranspositionOf(staff);
                    var key = (part, measure.Start + offset, NoteElements.Voice(element), NoteElements.Midi(element,
                        transposition.Chromatic));
                    Pitch? changed = changes.TryGetValue(key, out var concert) ? Written(concert, transposition) : null;
                    notes.Add(new WrittenNote(element, pitch, staff, offset, state.KeyOf(staff)?.Fifths ?? 0, changed,
                        _untied.GetValueOrDefault(key)));
                    break;
            }
        }

        if (notes.All(n => n.Changed is null && n.Untied == NoteMarks.None)) return;
        foreach (var staff in notes.GroupBy(n => n.Staff)) WriteStaff([.. staff.OrderBy(n => n.Offset)]);
    }

    private void WriteStaff(IReadOnlyList<WrittenNote> notes)
    {
        // Only lines of the staff on which a note changes: elsewhere the accidentals are the author's.
        var touched = notes.Where(n => n.Changed is not null || n.Untied != NoteMarks.None)
            .SelectMany(n => (Place[])[n.Old, n.Changed is { } to ? Place.Of(to) : n.Old]).Select(p => p.Line).ToHashSet();
        var accidentals = new Accidentals();
        foreach (var note in notes)
        {
            var now = note.Changed is { } pitch ? Place.Of(pitch) : note.Old;
            if (note.Changed is { } changed) WritePitch(note, changed);
            if (note.Untied != NoteMarks.None) Untie(note);
            if (!touched.Contains(now.Line) && note.Changed is null) continue;
            var isHeld = !note.Untied.HasFlag(NoteMarks.TieStop)
                && note.Element.Elements().Any(e => e.Name.LocalName == "tie" && e.Attribute("type")?.Value == "stop");
            WriteAccidental(note, accidentals.Needed(now.Letter, now.Octave, now.Alteration, note.Signature, isHeld));
        }
    }

    private void WritePitch(WrittenNote note, Pitch pitch)
    {
        var (step, octave, alter) = (Child(note.Pitch, "step")!, Child(note.Pitch, "octave")!, Child(note.Pitch, "alter"));
        Replace(step, pitch.Tone.Letter.ToString());
        Replace(octave, pitch.Octave.ToString(CultureInfo.InvariantCulture));
        var alteration = pitch.Tone.Alteration;
        if (alter is not null && alteration == 0) _edits.Remove(alter);
        else if (alter is not null) Replace(alter, alteration.ToString(CultureInfo.InvariantCulture));
        else if (alteration != 0) _edits.InsertElements(note.Pitch, step, [new XElement("alter", alteration)]);
    }

    private void Untie(WrittenNote note)
    {
        foreach (var (mark, type) in ((NoteMarks, string)[])[(NoteMarks.TieStart, "start"), (NoteMarks.TieStop, "stop")])
        {
            if (!note.Untied.HasFlag(mark)) continue;
            foreach (var tie in note.Element.Descendants().Where(e => e.Name.LocalName is "tie" or "tied"
                && e.Attribute("type")?.Value == type).ToArray()) _edits.Remove(tie);
        }
    }

    // What has changed gets what it needs; what stays loses nothing, and gains a sign where a changed note took it from it.
    private void WriteAccidental(WrittenNote note, int? needed)
    {
        var printed = Child(note.Element, "accidental");
        if (needed is { } alteration)
        {
            if (printed is not null && note.Changed is not null) Replace(printed, AccidentalSigns.Name(alteration));
            else if (printed is null) _edits.InsertElements(note.Element, note.Element.Elements().Last(IsBeforeAccidental),
                [new XElement("accidental", AccidentalSigns.Name(alteration))]);
        }
        else if (printed is not null && note.Changed is not null)
        {
            _edits.Remove(printed);
        }
    }

    private void Replace(XElement element, string text) => _edits.Replace(_markup[element].ContentStart, _markup[element].ContentEnd, text);

    // The order of a note's children in MusicXML 4.0.
    private static bool IsBeforeAccidental(XElement element) => element.Name.LocalName
        is "grace" or "cue" or "chord" or "pitch" or "duration" or "tie" or "instrument" or "footnote" or "level" or "voice" or "type"
            or "dot";

    private static Pitch Written(Pitch concert, Transposition transposition)
    {
        if (transposition.Chromatic == 0 && transposition.Fifths == 0) return concert;
        var fifths = concert.Tone.Fifths - transposition.Fifths;
        // Beyond two accidentals a part is written enharmonically.
        if (fifths > 19) fifths -= 12;
        if (fifths < -15) fifths += 12;
        var tone = new Tone(fifths);
        var midi = concert.Midi - transposition.Chromatic;
        return Pitch.Between(tone, midi, midi).First();
    }

    /// <summary>A note of a measure as it is written.</summary>
    private sealed record WrittenNote(XElement Element, XElement Pitch, int Staff, Fraction Offset, int Signature, Pitch? Changed,
        NoteMarks Untied)
    {
        public Place Old => new(
            char.ToUpperInvariant(Child(Pitch, "step")!.Value.Trim()[0]),
            (int)Number(Child(Pitch, "octave")!).Floor(),
            Child(Pitch, "alter") is { } alter ? (int)Math.Truncate(Number(alter).ToDouble()) : 0);
    }

    /// <summary>Where a note stands on its staff, and its alteration there.</summary>
    private readonly record struct Place(char Letter, int Octave, int Alteration)
    {
        public (char, int) Line => (Letter, Octave);

        public static Place Of(Pitch pitch) => new(pitch.Tone.Letter, pitch.Octave, pitch.Tone.Alteration);
    }
}
