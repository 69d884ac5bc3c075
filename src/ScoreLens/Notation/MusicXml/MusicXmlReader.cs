using System.Globalization;
using System.Xml.Linq;
using ScoreLens.Theory;
using static ScoreLens.Notation.MusicXml.MusicXmlLayout;

namespace ScoreLens.Notation.MusicXml;

/// <summary>Takes a <see cref="Score"/> from a MusicXML document, versions 1.0 to 4.0, partwise or timewise.</summary>
public static class MusicXmlReader
{
    /// <summary>Reads the score of a document.</summary>
    /// <exception cref="ScoreFormatException">The document is not a score, or a number in it cannot be read.</exception>
    public static Score Read(MusicXmlDocument document)
    {
        ArgumentNullException.ThrowIfNull(document);
        return new Build(MusicXmlLayout.Of(document.Xml)).Score();
    }

    private sealed class Build(MusicXmlLayout layout)
    {
        private readonly List<Note> _notes = [];
        private readonly List<Rest> _rests = [];
        private readonly List<ChordSymbol> _symbols = [];
        private readonly List<ScoreText> _texts = [];
        private readonly List<Part> _parts = [];

        public Score Score()
        {
            if (layout.PartIds.Count == 0) throw new ScoreFormatException("The score has no part.");
            var measures = Measures();
            var names = layout.Root.Descendants().Where(e => e.Name.LocalName == "score-part")
                .GroupBy(e => e.Attribute("id")?.Value ?? "")
                .ToDictionary(g => g.Key, g => Child(g.First(), "part-name")?.Value.Trim() ?? "");
            for (var part = 0; part < layout.PartIds.Count; part++)
            {
                var state = new PartState();
                bool pitched = false, unpitched = false;
                for (var measure = 0; measure < layout.MeasureCount; measure++)
                {
                    foreach (var (element, offset, divisions) in layout.Contents(part, measure))
                    {
                        var onset = measures[measure].Start + offset;
                        switch (element.Name.LocalName)
                        {
                            case "attributes": state.Update(element); break;
                            case "note":
                                if (Child(element, "pitch") is not null) pitched = true;
                                if (Child(element, "unpitched") is not null) unpitched = true;
                                ReadNote(element, part, onset, divisions, state, measures[measure]);
                                break;
                            case "harmony": ReadHarmony(element, part, onset, divisions, state); break;
                            case "direction": ReadDirection(element, part, onset, divisions); break;
                            case "figured-bass": ReadFigures(element, part, onset); break;
                        }
                    }
                }

                var id = layout.PartIds[part];
                _parts.Add(new Part(part, id, names.GetValueOrDefault(id, ""), state.Staves, unpitched && !pitched));
            }

            return new Score(
                Title(),
                _parts,
                measures,
                [.. _notes.OrderBy(n => n.Onset).ThenBy(n => n.Part).ThenBy(n => n.Staff)],
                [.. _symbols.OrderBy(s => s.Onset)],
                [.. _texts.OrderBy(t => t.Onset).ThenBy(t => t.Part)],
                [.. _rests.OrderBy(r => r.Onset).ThenBy(r => r.Part)]);
        }

        private string Title()
        {
            var work = Child(layout.Root, "work") is { } w ? Child(w, "work-title")?.Value.Trim() : null;
            var movement = Child(layout.Root, "movement-title")?.Value.Trim();
            return string.IsNullOrEmpty(movement) ? work ?? "" : movement;
        }

        private Measure[] Measures()
        {
            var measures = new Measure[layout.MeasureCount];
            var start = Fraction.Zero;
            var time = TimeSignature.Common;
            var signature = 0;
            Mode? mode = null;
            var states = layout.PartIds.Select(_ => new PartState()).ToArray();
            for (var measure = 0; measure < measures.Length; measure++)
            {
                var barline = false;
                var stated = false;
                for (var part = 0; part < layout.PartIds.Count; part++)
                {
                    foreach (var (element, _, _) in layout.Contents(part, measure))
                    {
                        if (element.Name.LocalName == "barline") barline |= IsStrongBarline(element);
                        if (element.Name.LocalName != "attributes") continue;
                        states[part].Update(element);
                        if (states[part].Time is { } t) time = t;
                        if (stated || !element.Elements().Any(e => e.Name.LocalName is "key" or "transpose")) continue;
                        if (states[part].ConcertSignature is not { } s) continue;
                        (signature, mode, stated) = (s, states[part].Mode, true);
                    }
                }

                var source = layout.MeasureElements[measure];
                var length = layout.MeasureLengths[measure];
                if (length.Sign == 0) length = time.Length;
                measures[measure] = new Measure(
                    measure,
                    source.Attribute("number")?.Value ?? (measure + 1).ToString(CultureInfo.InvariantCulture),
                    start,
                    length,
                    time,
                    signature,
                    mode,
                    source.Attribute("implicit")?.Value == "yes",
                    barline);
                start += length;
            }

            return measures;
        }

        private static bool IsStrongBarline(XElement barline) =>
            barline.Attribute("location")?.Value is null or "right"
            && (Child(barline, "repeat") is not null
                || Child(barline, "bar-style")?.Value.Trim() is "light-light" or "light-heavy" or "heavy-heavy" or "heavy-light");

        private void ReadNote(XElement element, int part, Fraction onset, Fraction divisions, PartState state, Measure measure)
        {
            var staff = Staff(element);
            state.Staves = Math.Max(state.Staves, staff);
            var voice = Child(element, "voice")?.Value.Trim() is { Length: > 0 } v ? v : "1";
            var grace = Child(element, "grace") is not null;
            var duration = grace || Child(element, "duration") is not { } d ? Fraction.Zero : Number(d) / divisions;
            foreach (var lyric in element.Elements().Where(e => e.Name.LocalName == "lyric"))
            {
                var text = string.Concat(lyric.Elements().Where(e => e.Name.LocalName is "text" or "elision").Select(e => e.Value));
                if (text.Length > 0)
                {
                    _texts.Add(new ScoreText(
                        onset, part, staff, ScoreTextKind.Lyric, text,
                        lyric.Attribute("number")?.Value ?? "", lyric.Attribute("name")?.Value ?? ""));
                }
            }

            if (Child(element, "rest") is { } rest)
            {
                if (rest.Attribute("measure")?.Value == "yes" && duration.Sign == 0) duration = measure.Length;
                _rests.Add(new Rest(onset, duration, part, staff, voice));
                return;
            }

            if (Child(element, "pitch") is not { } pitch) return;
            _notes.Add(new Note(ReadPitch(pitch, state.TranspositionOf(staff)), onset, duration, part, staff, voice, Flags(element, grace)));
        }

        private static NoteMarks Flags(XElement element, bool grace)
        {
            var flags = grace ? NoteMarks.Grace : NoteMarks.None;
            if (Child(element, "cue") is not null) flags |= NoteMarks.Cue;
            foreach (var tie in element.Elements().Where(e => e.Name.LocalName == "tie"))
                flags |= tie.Attribute("type")?.Value == "start" ? NoteMarks.TieStart : NoteMarks.TieStop;
            foreach (var notation in element.Elements().Where(e => e.Name.LocalName == "notations").Elements())
            {
                var type = notation.Attribute("type")?.Value;
                flags |= (notation.Name.LocalName, type) switch
                {
                    ("fermata", _) => NoteMarks.Fermata,
                    ("slur", "start") => NoteMarks.SlurStart,
                    ("slur", "stop") => NoteMarks.SlurStop,
                    ("tied", "start") => NoteMarks.TieStart,
                    ("tied", "stop") => NoteMarks.TieStop,
                    ("articulations", _) when notation.Elements().Any(e => e.Name.LocalName is "breath-mark" or "caesura") => NoteMarks.BreathAfter,
                    _ => NoteMarks.None,
                };
            }

            return flags;
        }

        private static Pitch ReadPitch(XElement pitch, Transposition transposition)
        {
            var step = Child(pitch, "step")?.Value.Trim();
            if (step is not [>= 'A' and <= 'G']) throw new ScoreFormatException($"'{step}' is not a pitch step A to G.", Where(pitch));
            var alter = Child(pitch, "alter") is { } a ? Number(a).ToDouble() : 0;
            var octave = Child(pitch, "octave") is { } o ? (int)Number(o).Floor() : throw new ScoreFormatException("The pitch has no octave.", Where(pitch));
            // A microtone is heard as the semitone that it bends: 1.5 is a sharp that is raised further.
            var tone = Tone.Of(step[0], Math.Clamp((int)Math.Truncate(alter), -3, 3));
            return transposition.Apply(new Pitch(tone, Math.Clamp(octave, 0, 9)));
        }

        private void ReadHarmony(XElement element, int part, Fraction onset, Fraction divisions, PartState state)
        {
            if (Child(element, "offset") is { } offset) onset += Number(offset) / divisions;
            var transposition = state.TranspositionOf(Staff(element));
            var kind = Child(element, "kind")?.Value.Trim() ?? "none";
            if (Child(element, "root") is { } root)
            {
                var rootTone = HarmonyTone(root, "root", transposition);
                var bass = Child(element, "bass") is { } b ? HarmonyTone(b, "bass", transposition) : null;
                if (rootTone is { } tone) _symbols.Add(new ChordSymbol(onset, part, tone, kind, bass, ChordKinds.Tones(tone, kind, Degrees(element))));
            }
            else if (kind == "none")
            {
                _symbols.Add(new ChordSymbol(onset, part, null, kind, null, []));
            }

            var label = Child(element, "function")?.Value.Trim() ?? Numeral(element);
            if (!string.IsNullOrEmpty(label)) _texts.Add(new ScoreText(onset, part, Staff(element), ScoreTextKind.Numeral, label));
        }

        private static string? Numeral(XElement element) =>
            Child(element, "numeral") is { } numeral && Child(numeral, "numeral-root") is { } root ? root.Attribute("text")?.Value : null;

        private static IEnumerable<(int Degree, int Alter, string Type)> Degrees(XElement harmony)
        {
            foreach (var degree in harmony.Elements().Where(e => e.Name.LocalName == "degree"))
            {
                if (Child(degree, "degree-value") is not { } value) continue;
                var alter = Child(degree, "degree-alter") is { } a ? (int)Number(a).Floor() : 0;
                yield return ((int)Number(value).Floor(), alter, Child(degree, "degree-type")?.Value.Trim() ?? "add");
            }
        }

        private static Tone? HarmonyTone(XElement element, string prefix, Transposition transposition)
        {
            if (Child(element, prefix + "-step")?.Value.Trim() is not [>= 'A' and <= 'G'] step) return null;
            var alter = Child(element, prefix + "-alter") is { } a ? (int)Number(a).Floor() : 0;
            return Tone.Of(step[0], Math.Clamp(alter, -2, 2)) + transposition.Fifths;
        }

        private void ReadDirection(XElement element, int part, Fraction onset, Fraction divisions)
        {
            if (Child(element, "offset") is { } offset) onset += Number(offset) / divisions;
            foreach (var type in element.Elements().Where(e => e.Name.LocalName == "direction-type").Elements())
            {
                if (type.Name.LocalName is not ("words" or "rehearsal") || type.Value.Trim().Length == 0) continue;
                var kind = type.Name.LocalName == "words" ? ScoreTextKind.Words : ScoreTextKind.Rehearsal;
                _texts.Add(new ScoreText(onset, part, Staff(element), kind, type.Value.Trim()));
            }
        }

        private void ReadFigures(XElement element, int part, Fraction onset)
        {
            var figures = element.Elements().Where(e => e.Name.LocalName == "figure").Select(f =>
                Sign(Child(f, "prefix")) + (Child(f, "figure-number")?.Value.Trim() ?? "") + Sign(Child(f, "suffix")));
            _texts.Add(new ScoreText(onset, part, Staff(element), ScoreTextKind.FiguredBass, string.Join(' ', figures)));

            static string Sign(XElement? sign) => sign?.Value.Trim() switch
            {
                "sharp" => "#",
                "flat" => "b",
                "natural" => "n",
                "double-sharp" or "sharp-sharp" => "##",
                "flat-flat" => "bb",
                "slash" or "backslash" or "vertical" or "cross" => "+",
                _ => "",
            };
        }

        private static int Staff(XElement element) =>
            Child(element, "staff") is { } staff && int.TryParse(staff.Value, NumberStyles.Integer, CultureInfo.InvariantCulture, out var number) && number > 0
                ? number
                : 1;
    }
}
