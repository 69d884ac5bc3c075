using ScoreLens.Notation;
using ScoreLens.Theory;

namespace ScoreLens.Reading.Written;

/// <summary>
/// Plays a score's chord symbols as block chords under its notes, struck anew in every measure, so that keys can be heard in them as in any
/// accompaniment. Played is what the symbol colours, the triad or seventh chord over its bass: a ninth or an added sixth says nothing of
/// keys.
/// </summary>
internal static class Staging
{
    // MIDI counts: the bass from C2 up, the chord from F#3 up to middle F.
    private const int LowestBass = 36, LowestChord = 54, Octave = 11;

    /// <summary>The score with one part more, which plays the symbols.</summary>
    public static Score Of(Score score, IReadOnlyList<WrittenSpan> spans)
    {
        var part = score.Parts.Count;
        var notes = new List<Note>(score.Notes);
        foreach (var span in spans)
        {
            if (span.Chord is not { } chord) continue;
            for (var start = span.Onset; start < span.End;)
            {
                var end = Fraction.Min(span.End, score.MeasureAt(start).End);
                if (end <= start) end = span.End;
                foreach (var pitch in Pitches(chord, span.Quality))
                    notes.Add(new Note(pitch, start, end - start, part, 1, "1", NoteMarks.None));
                start = end;
            }
        }

        return score with
        {
            Parts = [.. score.Parts, new Part(part, "", "", 1)],
            Notes = [.. notes.OrderBy(n => n.Onset).ThenBy(n => n.Part)],
        };
    }

    private static IEnumerable<Pitch> Pitches(WrittenChord chord, ChordQuality quality)
    {
        var members = quality.Members().ToArray();
        var tones = members.Select((fifths, i) => i == 2 && chord.LoweredFifth is { } lowered ? lowered.Fifths : chord.Root.Fifths + fifths)
            .Where(f => f is >= Tone.MinFifths and <= Tone.MaxFifths).Select(f => new Tone(f)).ToArray();
        var inversion = chord.Inversion(quality);
        var bass = inversion < tones.Length ? tones[inversion] : chord.Root;
        return tones.Select(t => Pitch.Between(t, LowestChord, LowestChord + Octave).First())
            .Prepend(Pitch.Between(bass, LowestBass, LowestBass + Octave).First());
    }
}
