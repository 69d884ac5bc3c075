using ScoreLens.Notation;
using ScoreLens.Theory;

namespace ScoreLens.Training.Progressions;

/// <summary>A chord with its place and its voices, from the bass up.</summary>
internal sealed record TextureSpan(ProgressionChord Chord, Fraction Onset, Fraction Duration, Pitch[] Pitches);

/// <summary>Lays the voices of chords out in a texture.</summary>
internal static class TextureWriter
{
    public static List<Note> Write(List<TextureSpan> spans, Setting setting, Random random)
    {
        var top = setting.Voices - 1;
        var notes = new List<Note>();
        switch (setting.Texture)
        {
            case Texture.Block:
                foreach (var span in spans)
                    for (var v = 0; v <= top; v++) notes.Add(OnTwoStaves(span, v, span.Onset, span.Duration));
                break;
            case Texture.Parts:
                foreach (var span in spans)
                    for (var v = 0; v <= top; v++) notes.Add(InPart(span.Pitches[v], top - v, span.Onset, span.Duration));
                break;
            case Texture.AfterBeat:
                foreach (var span in spans) AfterBeat(span, setting, notes);
                break;
            case Texture.BrokenUp or Texture.BrokenUpDown:
                foreach (var span in spans) Broken(span, 0, top, setting.Texture == Texture.BrokenUpDown, notes);
                break;
            case Texture.Alberti:
                foreach (var span in spans)
                {
                    notes.Add(OnTwoStaves(span, top, span.Onset, span.Duration));
                    Alberti(span, top - 1, notes);
                }

                break;
            case Texture.Melodic:
                foreach (var span in spans)
                    for (var v = 0; v < top; v++) notes.Add(OnTwoStaves(span, v, span.Onset, span.Duration));
                notes.AddRange(Decoration.Melody(spans, top, 0.7, random)
                    .Select(n => new Note(n.Pitch, n.Onset, n.Duration, 0, 1, "1", NoteMarks.None)));
                break;
            case Texture.MelodicParts:
                for (var v = 0; v <= top; v++)
                {
                    var part = top - v;
                    notes.AddRange(Decoration.Melody(spans, v, v == 0 ? 0.15 : 0.35, random)
                        .Select(n => InPart(n.Pitch, part, n.Onset, n.Duration)));
                }

                break;
            default:
                foreach (var span in spans) Broken(span, 0, top - 1, random.Next(2) == 0, notes);
                notes = [.. notes.Select(n => n with { Staff = 2, Voice = "5" })];
                notes.AddRange(Decoration.Melody(spans, top, 0.7, random)
                    .Select(n => new Note(n.Pitch, n.Onset, n.Duration, 0, 1, "1", NoteMarks.None)));
                break;
        }

        return notes;
    }

    private static Note OnTwoStaves(TextureSpan span, int voice, Fraction onset, Fraction duration)
    {
        var (staff, name) = voice == 0 ? (2, "5") : voice == span.Pitches.Length - 1 ? (1, "1") : (1, "2");
        return new Note(span.Pitches[voice], onset, duration, 0, staff, name, NoteMarks.None);
    }

    private static Note InPart(Pitch pitch, int part, Fraction onset, Fraction duration) =>
        new(pitch, onset, duration, part, 1, "1", NoteMarks.None);

    private static void AfterBeat(TextureSpan span, Setting setting, List<Note> notes)
    {
        var beat = setting.Time.IsCompound ? setting.Time.BeatLength : span.Duration < 2 ? new Fraction(1, 2) : setting.Time.BeatLength;
        // The upper voices need time of their own.
        while (beat >= span.Duration) beat /= 2;
        notes.Add(OnTwoStaves(span, 0, span.Onset, beat));
        var onset = span.Onset + beat;
        for (; onset < span.Onset + span.Duration; onset += beat)
            for (var v = 1; v < span.Pitches.Length; v++)
                notes.Add(OnTwoStaves(span, v, onset, Fraction.Min(beat, span.Onset + span.Duration - onset)));
    }

    private static void Broken(TextureSpan span, int low, int high, bool andDown, List<Note> notes)
    {
        var order = Enumerable.Range(low, high - low + 1).ToList();
        if (andDown && order.Count > 2) order.AddRange(Enumerable.Range(low + 1, order.Count - 2).Reverse());
        // Every member has to come once.
        var step = new Fraction(1, 2);
        while (step * order.Count > span.Duration) step /= 2;
        var i = 0;
        for (var onset = span.Onset; onset < span.Onset + span.Duration; onset += step, i++)
        {
            var voice = order[i % order.Count];
            var length = Fraction.Min(step, span.Onset + span.Duration - onset);
            notes.Add(new Note(span.Pitches[voice], onset, length, 0, voice == 0 ? 2 : 1, voice == 0 ? "5" : "1", NoteMarks.None));
        }
    }

    private static void Alberti(TextureSpan span, int high, List<Note> notes)
    {
        int[] order = high switch { 1 => [0, 1], 2 => [0, 2, 1, 2], 3 => [0, 3, 1, 3, 2, 3], _ => [0, 4, 1, 4, 2, 4, 3, 4] };
        var step = new Fraction(1, 2);
        while (step * order.Length > span.Duration) step /= 2;
        var i = 0;
        for (var onset = span.Onset; onset < span.Onset + span.Duration; onset += step, i++)
        {
            var length = Fraction.Min(step, span.Onset + span.Duration - onset);
            notes.Add(new Note(span.Pitches[order[i % order.Length]], onset, length, 0, 2, "5", NoteMarks.None));
        }
    }
}
