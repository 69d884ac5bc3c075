using ScoreLens.Notation;
using ScoreLens.Theory;

namespace ScoreLens.TestKit.PlantedFaults;

/// <summary>A note of a two-part exercise: a step on the white keys, C0 being 0, raised or not.</summary>
internal readonly record struct WhiteKey(int Step, int Raised = 0)
{
    /// <summary>The pitch.</summary>
    public Pitch Pitch => new(Tone.Of("CDEFGAB"[Step % 7], Raised), Step / 7);

    /// <summary>Semitones and steps from another note up to this one.</summary>
    public (int Steps, int Semitones) From(WhiteKey other) => (Step - other.Step, Pitch.Midi - other.Pitch.Midi);
}

/// <summary>A note of the counterpoint: when it begins, how long it lasts, and with which note of the cantus firmus.</summary>
/// <param name="Onset">Quarter notes from the start.</param>
/// <param name="Length">Quarter notes.</param>
/// <param name="Cantus">The note of the cantus firmus with which it begins.</param>
/// <param name="IsStrong">Whether it begins with that note.</param>
internal readonly record struct Slot(int Onset, int Length, int Cantus, bool IsStrong);

/// <summary>
/// A two-part exercise in one of the first four species over a cantus firmus in the Dorian mode that lies below. Clean ones are written by
/// a search under constraints of its own, which are stricter than the rules of the species and share no code with them.
/// </summary>
internal sealed record SpeciesExercise(int Species, IReadOnlyList<WhiteKey> Cantus, IReadOnlyList<Slot> Slots, IReadOnlyList<WhiteKey> Line)
{
    private static readonly WhiteKey LowTonic = new(29), HighTonic = new(36), LeadingTone = new(35, 1);

    /// <summary>The score: the counterpoint on the upper staff.</summary>
    public Score Score
    {
        get
        {
            var upper = Slots.Zip(Line, (s, n) => new Note(n.Pitch, s.Onset, s.Length, 0, 1, "1", NoteMarks.None));
            var lower = Cantus.Select((n, i) => new Note(n.Pitch, 4 * i, 4, 1, 1, "1", NoteMarks.None));
            var rests = Slots[0].Onset > 0 ? [new Rest(0, Slots[0].Onset, 0, 1, "1")] : Array.Empty<Rest>();
            return Exercise.MakeScore(upper.Concat(lower), rests, 2, 4 * Cantus.Count, new Key(Tone.Of('D'), Mode.Minor));
        }
    }

    /// <summary>A clean exercise.</summary>
    public static SpeciesExercise Write(int species, Random random)
    {
        while (true)
        {
            var cantus = WriteCantus(random);
            var slots = SlotsOf(species, cantus.Count);
            var line = new WhiteKey[slots.Count];
            var budget = 20_000;
            if (Search(species, cantus, slots, line, 0, random, ref budget)) return new SpeciesExercise(species, cantus, slots, line);
        }
    }

    /// <summary>Whether two notes are a consonance with the line above: third, perfect fifth, sixth, octave and their octaves.</summary>
    public static bool IsConsonant(WhiteKey line, WhiteKey cantus)
    {
        var (steps, semitones) = line.From(cantus);
        return steps >= 2 && (steps % 7, semitones % 12) is (0, 0) or (4, 7) or (2, 3 or 4) or (5, 8 or 9);
    }

    /// <summary>Whether two notes are a perfect fifth or an octave, or octaves beyond.</summary>
    public static bool IsPerfect(WhiteKey line, WhiteKey cantus) =>
        line.From(cantus) is var (steps, semitones) && (steps % 7, semitones % 12) is (0, 0) or (4, 7);

    /// <summary>Whether a line moves so: by a second, a third or a perfect fourth.</summary>
    public static bool IsSung(WhiteKey from, WhiteKey to)
    {
        var (steps, semitones) = to.From(from);
        return (Math.Abs(steps), Math.Abs(semitones)) is (1, 1 or 2) or (2, 3 or 4) or (3, 5);
    }

    // Seconds and thirds from the tonic to the tonic, which is reached from above.
    private static List<WhiteKey> WriteCantus(Random random)
    {
        while (true)
        {
            var length = random.Next(9, 13);
            var line = new List<WhiteKey> { LowTonic };
            while (line.Count < length - 2)
                line.Add(new WhiteKey(line[^1].Step + (random.Next(4) switch { 0 => -1, 1 => 1, 2 => -2, _ => 2 })));
            line.AddRange([new WhiteKey(LowTonic.Step + 1), LowTonic]);
            if (line.All(n => n.Step is >= 28 and <= 34) && line.Zip(line.Skip(1)).All(p => IsSung(p.First, p.Second))) return line;
        }
    }

    private static List<Slot> SlotsOf(int species, int cantus)
    {
        var slots = new List<Slot>();
        for (var i = 0; i < cantus - 1; i++)
        {
            var isLastButOne = i == cantus - 2;
            var notes = species switch { 2 when !isLastButOne => 2, 3 => 4, _ => 1 };
            if (species == 4) slots.Add(new Slot((4 * i) + 2, isLastButOne ? 2 : 4, i, false));
            else for (var k = 0; k < notes; k++) slots.Add(new Slot((4 * i) + (4 / notes * k), 4 / notes, i, k == 0));
        }

        slots.Add(new Slot(4 * (cantus - 1), 4, cantus - 1, true));
        return slots;
    }

    private static bool Search(int species, List<WhiteKey> cantus, List<Slot> slots, WhiteKey[] line, int at, Random random, ref int budget)
    {
        if (at == slots.Count) return HasOneClimax(line);
        if (--budget < 0) return false;
        WhiteKey[] candidates = at == slots.Count - 1 ? [HighTonic] : at == slots.Count - 2 ? [LeadingTone]
            : [.. Enumerable.Range(31, 10).Select(s => new WhiteKey(s))];
        random.Shuffle(candidates);
        foreach (var candidate in candidates)
        {
            line[at] = candidate;
            if (Fits(species, cantus, slots, line, at) && Search(species, cantus, slots, line, at + 1, random, ref budget)) return true;
        }

        return false;
    }

    private static bool Fits(int species, List<WhiteKey> cantus, List<Slot> slots, WhiteKey[] line, int at)
    {
        var (slot, note) = (slots[at], line[at]);
        var below = cantus[slot.Cantus];
        if (at == 0) return IsPerfect(note, below);
        var before = line[at - 1];
        if (!IsSung(before, note)) return false;
        var isConsonant = IsConsonant(note, below);
        if (species == 4) return isConsonant && Suspends(cantus, slots, line, at);
        // A weak dissonance passes: by step into it and on in the same direction.
        if (!IsConsonant(before, cantus[slots[at - 1].Cantus])
            && (Math.Abs(note.Step - before.Step) != 1 || note.Step - before.Step != before.Step - line[at - 2].Step)) return false;
        if (!isConsonant) return !slot.IsStrong && note.Step > below.Step && Math.Abs(note.Step - before.Step) == 1;
        return !slot.IsStrong || (IsWellReached(cantus, slots, line, at) && IsIndependent(cantus, slots, line, at));
    }

    // What is held over from the note before: a consonance, or a fourth or seventh that falls by step.
    private static bool Suspends(List<WhiteKey> cantus, List<Slot> slots, WhiteKey[] line, int at)
    {
        if (slots[at].IsStrong) return true;
        var (held, below) = (line[at - 1], cantus[slots[at].Cantus]);
        return IsConsonant(held, below)
            || ((held.Step - below.Step) % 7 is 3 or 6 && held.Step > below.Step && line[at].Step == held.Step - 1);
    }

    // A perfect consonance is reached in contrary motion.
    private static bool IsWellReached(List<WhiteKey> cantus, List<Slot> slots, WhiteKey[] line, int at)
    {
        var below = slots[at].Cantus;
        return !IsPerfect(line[at], cantus[below])
            || Math.Sign(line[at].Step - line[at - 1].Step) == -Math.Sign(cantus[below].Step - cantus[below - 1].Step);
    }

    // Strong beats: no perfect consonance twice in a row, and no third or sixth three times.
    private static bool IsIndependent(List<WhiteKey> cantus, List<Slot> slots, WhiteKey[] line, int at)
    {
        var strong = Enumerable.Range(0, at + 1).Where(i => slots[i].IsStrong).Reverse().Take(3)
            .Select(i => (Line: line[i], Below: cantus[slots[i].Cantus]))
            .Select(p => (Steps: p.Line.Step - p.Below.Step, IsPerfect: IsPerfect(p.Line, p.Below))).ToList();
        if (strong.Count > 1 && strong[0].IsPerfect && strong[1].IsPerfect && strong[0].Steps % 7 == strong[1].Steps % 7) return false;
        return strong.Count < 3 || strong.Any(s => s.Steps != strong[0].Steps);
    }

    private static bool HasOneClimax(WhiteKey[] line) => line[..^1].Count(n => n.Pitch.Midi == line[..^1].Max(m => m.Pitch.Midi)) == 1;
}
