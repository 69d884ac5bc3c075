using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Reharmonising.Voicing;

/// <summary>
/// Writes chords into a span of a score: every note that may move goes over to the chord, and what stands in the way is told.
/// </summary>
internal sealed class Voicer(Texture texture, PartRanges ranges)
{
    private readonly VoicingSearch _search = new(texture, ranges);
    private readonly FinishedCheck _check = new(texture);

    // So many of the best settings are looked at, since decorating notes may spoil one.
    private const int Tried = 4;

    /// <summary>How many pitches of the span may move.</summary>
    public int FreePitches => texture.Slots.Count;

    /// <summary>How the span best goes over to a chord: the notes that change, or what stands in the way.</summary>
    public VoicedRewriting For(Key key, NewChord chord) => All(key, chord, 1)[0];

    /// <summary>The best ways in which the span goes over to a chord; one that says what stands in the way where there is none.</summary>
    public IReadOnlyList<VoicedRewriting> All(Key key, NewChord chord, int count)
    {
        if (ObstacleTo(chord, out var hasBass) is { } obstacle) return [Blocked(obstacle)];
        var ways = new List<VoicedRewriting>();
        Obstacle? first = null;
        foreach (var setting in _search.Best(chord, hasBass, Tried + count - 1))
        {
            var (way, wrong) = Finish(key, chord, setting);
            if (way is not null) ways.Add(way);
            else first ??= wrong;
            if (ways.Count == count) break;
        }

        return ways.Count > 0 ? ways : [Blocked(first ?? new NoRoom(chord.Name))];
    }

    // A setting with everything that follows from it.
    private (VoicedRewriting? Way, Obstacle? Wrong) Finish(Key key, NewChord chord, Setting setting)
    {
        if (MissingOf(setting, chord) is { } missing) return (null, new TooFewNotes(chord.Name, missing));
        if (setting.Faults != VoicingFaults.None) return (null, new FaultyVoices(chord.Name, setting.Faults));
        var moved = setting.Pitches.SelectMany(p => p.Slot.Notes.Select(n => (Note: n, p.Pitch))).DistinctBy(p => p.Note)
            .ToDictionary(p => p.Note, p => p.Pitch);
        var decorations = new Decorations(texture, ranges, key, chord);
        var links = LinksOf(setting);
        var led = new Dictionary<SoundingNote, Pitch>(moved);
        foreach (var (note, pitch) in decorations.Follow(moved)) led[note] = pitch;
        // Where a decorating note makes a fault it may be better where it was.
        if (_check.Of(chord, led, links) is var faults && faults == VoicingFaults.None) moved = led;
        else if (_check.Of(chord, moved, links) != VoicingFaults.None) return (null, new FaultyVoices(chord.Name, faults));
        PitchChange[] changes = [.. moved.Where(m => m.Value != m.Key.Pitch).SelectMany(m =>
            WrittenAs(m.Key).Select(n => new PitchChange(n, m.Value))),
            .. decorations.Graces(moved)];
        var rewriting = new Rewriting(texture.Start, texture.End, [.. changes.DistinctBy(c => c.Note)], "");
        return (new VoicedRewriting(rewriting, setting.Cost), null);
    }

    private VoicedRewriting Blocked(Obstacle obstacle) =>
        new(new Rewriting(texture.Start, texture.End, [], Wording.ObstacleWords.Of(obstacle)) { Hindrance = obstacle }, 0);

    private Obstacle? ObstacleTo(NewChord chord, out bool hasBass)
    {
        hasBass = true;
        if (texture.Slots.Count == 0) return texture.Held.Count == 0 ? new OnlyMelody() : new AllHeld();
        foreach (var note in texture.Held)
            if (VoicingSearch.Member(chord, note.Pitch.Tone) == 0) return new HeldNote(chord.Name, note.Pitch, note.Onset < texture.Start);
        // What stays below everything else is the bass.
        foreach (var note in texture.Fixed.Where(f => f.Pitch < texture.Slots[0].Pitch))
        {
            hasBass = false;
            if (!note.Pitch.Tone.IsEnharmonicWith(chord.Bass)) return new OtherBass(chord.Name, note.Pitch, chord.Bass,
                texture.Held.Contains(note));
        }

        return null;
    }

    private Tone? MissingOf(Setting setting, NewChord chord)
    {
        var members = setting.Pitches.Aggregate(_search.Covered(chord), (all, p) => all | VoicingSearch.Member(chord, p.Pitch.Tone));
        foreach (var member in chord.Essential)
            if ((members & (1 << member)) == 0) return chord.Tones[member];
        return null;
    }

    // The melody and what goes along with it are one; a slot and those that double it are one each.
    private Dictionary<SoundingNote, int> LinksOf(Setting setting)
    {
        var links = new Dictionary<SoundingNote, int>();
        foreach (var note in texture.Melody.Concat(texture.Along)) links[note] = -1;
        foreach (var (place, (slot, _)) in setting.Pitches.Index())
        {
            var lowest = place;
            while (texture.Slots[lowest].Doubles >= 0) lowest = texture.Slots[lowest].Doubles;
            foreach (var note in slot.Notes) links[note] = lowest;
        }

        return links;
    }

    private IEnumerable<Notation.Note> WrittenAs(SoundingNote note) => texture.Written.Where(w => w.IsHarmonic
        && (w.Part, w.Pitch, w.Voice) == (note.Part, note.Pitch, note.Voice) && w.Onset >= note.Onset && w.End <= note.End);
}

/// <summary>How a span goes over to a chord.</summary>
/// <param name="Rewriting">The notes that change, or what stands in the way.</param>
/// <param name="Cost">What the search made of it (<see cref="VoicingCosts"/>); 0 where something stands in the way.</param>
internal sealed record VoicedRewriting(Rewriting Rewriting, double Cost);
