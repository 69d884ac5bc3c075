using ScoreLens.Theory;

namespace ScoreLens.Notation.Midi.Spelling;

/// <summary>
/// Spells pitches that have no name. First <see cref="KeyCentres"/> finds where on the line of fifths the music is; then every note gets
/// the name that fits best what stands around it: the signature, the key, what sounds with it, what its line comes from and goes to (a
/// chromatic tone is named by its neighbour), what lies within a quarter note, four and sixteen of them. Since these names depend on each
/// other, that is done over and over until nothing changes. How much each counts is learned: a log-linear model whose features are
/// intervals on the line of fifths (Temperley, The Cognition of Basic Musical Structures, 2001, ch. 5, for the line; Meredith, Journal of
/// New Music Research 35/2, 2006, for context on both sides; both from memory).
/// </summary>
internal static class PitchSpeller
{
    /// <summary>The lowest name, F with two flats, and how many lie from it to the highest, B with two sharps.</summary>
    public const int Lowest = -15, Range = 35;

    // Names farther from the middle of the key are not considered.
    private const int Middle = 2, Reach = 13;

    private const int MaxRounds = 6;

    /// <summary>The tones of notes in order of onset.</summary>
    public static Tone[] Spell(
        IReadOnlyList<UnspelledNote> notes, SpellingTables? tables = null, CancellationToken cancellationToken = default)
    {
        tables ??= SpellingTables.Default;
        var context = new SpellingContext(notes, KeyCentres.Of(notes, null, tables));
        return [.. Names(context, notes, tables, cancellationToken).Select(f => new Tone(f))];
    }

    /// <summary>The names of all notes, in fifths from C.</summary>
    internal static int[] Names(SpellingContext context, IReadOnlyList<UnspelledNote> notes, SpellingTables tables,
        CancellationToken cancellationToken = default)
    {
        int[] names =
        [
            .. notes.Select((n, i) => Candidates(n, context.Centres[i])
                .MaxBy(f => SpellingTables.At(tables.Profile, f - context.Centres[i]))),
        ];
        var witnesses = new List<SpellingWitness>();
        for (var round = 0; round < MaxRounds; round++)
        {
            var changed = false;
            for (var place = 0; place < names.Length; place++)
            {
                cancellationToken.ThrowIfCancellationRequested();
                // Forth and back, so that neither what comes before nor what comes after is always the older.
                var note = round % 2 == 0 ? place : names.Length - 1 - place;
                context.Gather(note, names, witnesses);
                var best = Candidates(notes[note], context.Centres[note]).MaxBy(f => Score(witnesses, f, tables));
                changed |= best != names[note];
                names[note] = best;
            }

            if (!changed) break;
        }

        return names;
    }

    /// <summary>The names that a note can have in a key, in fifths from C.</summary>
    internal static IEnumerable<int> Candidates(UnspelledNote note, int centre)
    {
        var fifths = note.Fifths;
        var near = Names(fifths).Where(f => Math.Abs(f - centre - Middle) <= Reach);
        return near.Any() ? near : [fifths];
    }

    /// <summary>What speaks for a name.</summary>
    internal static double Score(List<SpellingWitness> witnesses, int name, SpellingTables tables)
    {
        var score = 0.0;
        foreach (var witness in witnesses) score += witness.Value * tables.Weight(witness.Relation, name - witness.Fifths);
        return score;
    }

    /// <summary>All names of a pitch class, given one of them.</summary>
    internal static IEnumerable<int> Names(int fifths)
    {
        var first = Lowest + ((((fifths - Lowest) % 12) + 12) % 12);
        for (var name = first; name < Lowest + Range; name += 12) yield return name;
    }
}
