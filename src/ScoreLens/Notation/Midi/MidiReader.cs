using ScoreLens.Notation.Midi.Spelling;
using ScoreLens.Theory;

namespace ScoreLens.Notation.Midi;

/// <summary>
/// Takes a <see cref="Score"/> from a Standard MIDI File (type 0 or 1) as a sequencer or a notation program exports it.
/// Times are laid on a grid of sixteenths and triplets, finer where they fit it exactly; every channel
/// of a track is a part; channel 10 is percussion. MIDI has no spelling: it is guessed, and every note says so.
/// </summary>
internal static class MidiReader
{
    private const int PercussionChannel = 10;

    /// <summary>Whether the bytes begin as a MIDI file, or as one in a RIFF container.</summary>
    public static bool IsMidi(ReadOnlySpan<byte> bytes) =>
        bytes.StartsWith("MThd"u8) || (bytes.StartsWith("RIFF"u8) && bytes.Length > 12 && bytes[8..].StartsWith("RMID"u8));

    /// <summary>Reads the bytes of a file.</summary>
    /// <param name="bytes">The bytes.</param>
    /// <param name="limits">How much is read before the file is refused; null for the defaults.</param>
    /// <exception cref="ScoreFormatException">The bytes are no MIDI file, or one without beats.</exception>
    public static Score Read(byte[] bytes, ScoreLimits? limits = null) => Read(bytes, limits, out _, CancellationToken.None);

    /// <summary>The same, with what is wrong with the file and was read all the same.</summary>
    internal static Score Read(byte[] bytes, ScoreLimits? limits, out IReadOnlyList<ScoreWarning> warnings,
        CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(bytes);
        try
        {
            limits ??= ScoreLimits.Default;
            var tracks = MidiTracks.Of(bytes, limits);
            var score = Build(tracks, limits, cancellationToken);
            warnings = tracks.Warnings;
            limits.Check(score.Notes);
            return score;
        }
        catch (OverflowException e)
        {
            throw new ScoreFormatException("Its times are too large to be reckoned; export the file again.", inner: e);
        }
    }

    private static Score Build(MidiTracks file, ScoreLimits limits, CancellationToken cancellationToken)
    {
        var pitched = RolledChords.Gathered([.. file.Notes.Where(n => n.Channel != PercussionChannel)], file);
        var parts = file.Notes.Select(n => (n.Track, n.Channel)).Distinct().Order().ToArray();
        if (parts.Length == 0) throw new ScoreFormatException("The MIDI file has no notes; export it again with the parts that play.");
        var grid = TimeGrid.Of(pitched, file.TicksPerQuarter);
        var lengths = new NoteEnds(grid, file, pitched);
        var placed = pitched
            .Select(n => (n.Key, Onset: grid.Snap(n.Start), End: lengths.End(n), Part: Array.IndexOf(parts, (n.Track, n.Channel))))
            .OrderBy(n => n.Onset).ThenBy(n => n.Part).ThenBy(n => n.Key)
            .ToList();
        var end = placed.Count == 0 ? Fraction.Zero : placed.Max(n => n.End);
        limits.Check(end);
        var measures = MidiMeasures.Of(file, end);
        var signatures = Signatures([.. placed.Select(n => n.Onset)], measures);
        var tones = PitchSpeller.Spell([.. placed.Select((n, i) => new UnspelledNote(
            n.Onset.ToDouble(), n.End.ToDouble(), n.Part, n.Key, file.Keys.Count > 0 ? signatures[i] : null))],
            cancellationToken: cancellationToken);
        var notes = placed.Select((n, i) => new Note(
            PitchOf(tones[i], n.Key), n.Onset, n.End - n.Onset, n.Part, 1, "1", NoteMarks.GuessedSpelling)).ToList();
        return new Score(
            file.Title,
            [.. parts.Select((p, i) => new Part(i, $"T{p.Track + 1}C{p.Channel}", NameOf(file, parts, p), 1,
                p.Channel == PercussionChannel))],
            measures,
            notes,
            [],
            [.. file.Texts.Select(t => Text(t, grid, parts)).OrderBy(t => t.Onset).ThenBy(t => t.Part)],
            Rests(notes, measures))
        {
            Tempos =
            [
                .. file.Tempos.OrderBy(t => t.Tick)
                    .Select(t => new TempoMark(new Fraction(t.Tick, file.TicksPerQuarter), t.QuartersPerMinute)).DistinctBy(t => t.Onset),
            ],
        };
    }

    private static int[] Signatures(Fraction[] onsets, IReadOnlyList<Measure> measures)
    {
        var signatures = new int[onsets.Length];
        for (int i = 0, measure = 0; i < onsets.Length; i++)
        {
            while (measure + 1 < measures.Count && measures[measure + 1].Start <= onsets[i]) measure++;
            signatures[i] = measures[measure].Signature;
        }

        return signatures;
    }

    private static string NameOf(MidiTracks file, (int Track, int Channel)[] parts, (int Track, int Channel) part)
    {
        var name = file.NameOf(part.Track);
        var isAlone = parts.Count(p => p.Track == part.Track) == 1;
        return isAlone && name.Length > 0 ? name
            : name.Length > 0 ? $"{name}, channel {part.Channel}"
            : $"Channel {part.Channel}";
    }

    private static ScoreText Text(MidiText text, TimeGrid grid, (int Track, int Channel)[] parts) => new(
        grid.Snap(text.Tick),
        Math.Max(0, Array.FindIndex(parts, p => p.Track == text.Track)),
        1,
        text.IsLyric ? ScoreTextKind.Lyric : ScoreTextKind.Rehearsal,
        text.Text,
        text.IsLyric ? "1" : "");

    private static Pitch PitchOf(Tone tone, int key)
    {
        var natural = ((ReadOnlySpan<int>)[0, 2, 4, 5, 7, 9, 11])[tone.Step];
        var octave = (int)Math.Floor((key - natural - tone.Alteration) / 12.0) - 1;
        // B sharp below the lowest C would lie in an octave that has no number.
        return octave >= -1 ? new Pitch(tone, octave) : new Pitch(tone + -12, octave + 1);
    }

    // Silence of a part between two of its notes, an eighth or longer: what a notation program would write as a rest.
    private static List<Rest> Rests(List<Note> notes, IReadOnlyList<Measure> measures)
    {
        var rests = new List<Rest>();
        foreach (var part in notes.GroupBy(n => n.Part))
        {
            var reached = Fraction.Zero;
            foreach (var note in part)
            {
                if (note.Onset - reached >= new Fraction(1, 2)) Add(part.Key, reached, note.Onset);
                reached = Fraction.Max(reached, note.End);
            }

            if (measures.Count > 0 && measures[^1].End - reached >= new Fraction(1, 2)) Add(part.Key, reached, measures[^1].End);
        }

        return [.. rests.OrderBy(r => r.Onset).ThenBy(r => r.Part)];

        void Add(int part, Fraction from, Fraction to) => rests.Add(new Rest(from, to - from, part, 1, "1"));
    }
}
