using System.Globalization;
using ScoreLens.Devices;
using ScoreLens.Grouping;
using ScoreLens.Keys;
using ScoreLens.Notation;
using ScoreLens.Phrases;
using ScoreLens.Reading;
using ScoreLens.Reading.Refinement;
using ScoreLens.Reading.Written;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens;

/// <summary>
/// Everything that is found in one score: each stage's result, in the order in which they build on each other. Immutable, and safe to
/// share between threads.
/// </summary>
public sealed record CueAnalysis
{
    private Heard? _heard;
    private double _least;

    /// <summary>The least confidence of a device's reading, 0 to 1; 0 where nothing was left out.</summary>
    internal double LeastConfidence => _least;

    internal CueAnalysis(Score score, IReadOnlyList<Sonority> sonorities, HarmonicReading reading, IReadOnlyList<TaggedChord> chords,
        IReadOnlyList<Phrase> phrases) =>
        (Score, Sonorities, Reading, Chords, Phrases) = (score, sonorities, reading, chords, phrases);

    /// <summary>The score.</summary>
    public Score Score { get; internal init; }

    /// <summary>Its verticals: what sounds from each onset to the next.</summary>
    public IReadOnlyList<Sonority> Sonorities { get; internal init; }

    /// <summary>Chords with local keys and numerals.</summary>
    public HarmonicReading Reading { get; internal init; }

    /// <summary>The same chords with function, device and resolution.</summary>
    public IReadOnlyList<TaggedChord> Chords { get; internal init; }

    /// <summary>Phrases and cadences.</summary>
    public IReadOnlyList<Phrase> Phrases { get; internal init; }

    // Each movement of several; none where the file holds one.
    private CueAnalysis[] Parts { get; init; } = [];

    /// <summary>
    /// Each movement as a cue of its own: its score, home key, chords and phrases, with the times and phrase numbers of the whole file.
    /// Only this one where the file holds one movement.
    /// </summary>
    public IReadOnlyList<CueAnalysis> Movements => Parts.Length == 0 ? [this] : Parts;

    /// <summary>Its movement's number, from 1; that of the first one where it is of several.</summary>
    public int Movement => Movements[0].Score.Measures is [var measure, ..] ? measure.Movement : 1;

    /// <summary>When a key counts as new in this analysis.</summary>
    public KeyRule Keys { get; private init; } = KeyRule.Confirm;

    /// <summary>
    /// What the harmony was read from: never <see cref="HarmonySource.Automatic"/>; of several movements, what that of the first was.
    /// </summary>
    public HarmonySource Source { get; private init; } = HarmonySource.Notes;

    /// <summary>
    /// Analyses a score: the one entry point from a score to everything that is said of it. Each movement is read for itself.
    /// </summary>
    /// <param name="score">The score.</param>
    /// <param name="keys">When a key counts as new.</param>
    /// <param name="from">What harmony is read from where the score has chord symbols or figures; without any it is the notes.</param>
    /// <param name="cancellationToken">Gives the analysis up.</param>
    /// <exception cref="OperationCanceledException">The analysis was given up.</exception>
    public static CueAnalysis Of(Score score, KeyRule keys = KeyRule.Confirm, HarmonySource from = HarmonySource.Automatic,
        CancellationToken cancellationToken = default)
    {
        ArgumentNullException.ThrowIfNull(score);
        var movements = score.Movements;
        return movements.Count < 2 ? OfOne(score, keys, from, cancellationToken)
            : Joined(score, Numbered(movements.Select(m => OfOne(score.Of(m), keys, from, cancellationToken)))) with { Keys = keys };
    }

    private static CueAnalysis OfOne(Score score, KeyRule keys, HarmonySource from, CancellationToken cancellationToken)
    {
        cancellationToken.ThrowIfCancellationRequested();
        var sonorities = SonorityFinder.Find(score);
        cancellationToken.ThrowIfCancellationRequested();
        var grouping = new GroupingEvidence(score, sonorities);
        var (source, spans) = Witnesses.Of(score, sonorities, from);
        var notes = source == HarmonySource.Symbols ? null
            : Hear(score, sonorities, grouping, cancellationToken);
        cancellationToken.ThrowIfCancellationRequested();
        if (source == HarmonySource.Notes) return Of(score, sonorities, notes!, keys);
        var testimony = SymbolReader.Hear(score, spans, cancellationToken);
        return Of(score, sonorities, Heard.Of(testimony.Heard, score, sonorities, grouping) with
        {
            Testimony = testimony,
            Notes = notes
        }, keys);
    }

    // The notes are heard in usual note values and with quick broken chords gathered; what is named there goes back to the score's own
    // times.
    private static Heard Hear(Score score, IReadOnlyList<Sonority> sonorities, GroupingEvidence grouping,
        CancellationToken cancellationToken)
    {
        var factor = NoteValues.FactorOf(score);
        var plain = BrokenChords.Gathered(NoteValues.Times(score, factor));
        if (ReferenceEquals(plain, score))
            return Heard.Of(HarmonicReader.Hear(score, sonorities, grouping, cancellationToken), score, sonorities, grouping);
        var verticals = SonorityFinder.Find(plain);
        var cues = new GroupingEvidence(plain, verticals);
        return Heard.Of(HarmonicReader.Hear(plain, verticals, cues, cancellationToken), plain, verticals, cues) with
        {
            Grouping = grouping,
            Plain = new PlainWriting(plain, verticals, factor),
        };
    }

    /// <summary>Takes a reading from elsewhere (a teacher's, a table's) and finds devices and phrases in it.</summary>
    /// <param name="score">The score.</param>
    /// <param name="reading">Its chords, in order; each lies within the score.</param>
    public static CueAnalysis Of(Score score, HarmonicReading reading)
    {
        ArgumentNullException.ThrowIfNull(score);
        return Of(score, SonorityFinder.Find(score), reading);
    }

    /// <summary>The same with the score's verticals, where they are known already.</summary>
    internal static CueAnalysis Of(Score score, IReadOnlyList<Sonority> sonorities, HarmonicReading reading)
    {
        ArgumentNullException.ThrowIfNull(reading);
        return Of(score, sonorities, new GroupingEvidence(score, sonorities),
            reading with { Chords = ChordSound.Hear(reading.Chords, sonorities) });
    }

    /// <summary>
    /// What is said of one movement alone. The score stays the whole file's, so that it can be written into the file.
    /// </summary>
    /// <exception cref="ArgumentOutOfRangeException">The score has no movement of this number.</exception>
    public CueAnalysis Only(int movement) => Movements.FirstOrDefault(m => m.Movement == movement) is not { } found
        ? throw new ArgumentOutOfRangeException(nameof(movement), movement, "The score has no such movement.")
        : Parts.Length == 0 ? this : Joined(Score, [found]) with { Keys = Keys, _least = _least };

    /// <summary>
    /// The tones of a chord outside its local key that sound, and who plays them; a part without a name is called by its number.
    /// </summary>
    public IReadOnlyList<ColourTone> ColourOf(TaggedChord chord)
    {
        ArgumentNullException.ThrowIfNull(chord);
        return ColourTone.Of(
            chord,
            Sonorities.Skip(TonesInTime.First(Sonorities, chord.Reading.Onset)).TakeWhile(s => s.Onset < chord.Reading.End),
            [.. Score.Parts.Select(p => p.Name.Length > 0 ? p.Name : string.Create(CultureInfo.InvariantCulture, $"part {p.Index + 1}"))]);
    }

    /// <summary>The pedal points: tones that stay while chords change to which they do not belong.</summary>
    public IReadOnlyList<PedalPoint> Pedals => PedalPoint.Of(Sonorities, Reading.Chords);

    /// <summary>Whether a pedal is the lowest tone of everything that sounds while a chord lasts.</summary>
    internal bool IsLowest(PedalPoint pedal, ChordReading chord) =>
        TonesInTime.Between(Sonorities, chord.Onset, chord.End).All(s => s.Bass?.Pitch.Tone == pedal.Tone);

    /// <summary>The home key of the movement that holds a time.</summary>
    public Key HomeKeyAt(Fraction onset) => (Movements.LastOrDefault(m => m.Score.Start <= onset) ?? Movements[0]).Reading.HomeKey;

    // The phrases of a file are numbered on through its movements.
    private static CueAnalysis[] Numbered(IEnumerable<CueAnalysis> movements)
    {
        var before = 0;
        var numbered = new List<CueAnalysis>();
        foreach (var movement in movements)
        {
            var shift = before;
            numbered.Add(movement with { Phrases = [.. movement.Phrases.Select((p, i) => p with { Number = shift + i + 1 })] });
            before += movement.Phrases.Count;
        }

        return [.. numbered];
    }

    private static CueAnalysis Joined(Score score, CueAnalysis[] movements)
    {
        // A vertical names its measure by its place in the score.
        var first = score.Movements.ToDictionary(m => m.Number, m => m.FirstMeasure);
        return new CueAnalysis(
            score,
            [.. movements.SelectMany(m => m.Sonorities.Select(s => s with { Measure = s.Measure + first[m.Movement] }))],
            new HarmonicReading(movements[0].Reading.HomeKey, [.. movements.SelectMany(m => m.Reading.Chords)]),
            [.. movements.SelectMany(m => m.Chords)],
            [.. movements.SelectMany(m => m.Phrases)])
        {
            Parts = movements,
            Source = movements[0].Source,
        };
    }

    /// <summary>
    /// The same score by another rule of keys, without hearing it again. An analysis of a reading from elsewhere has the keys of that
    /// reading under every rule.
    /// </summary>
    public CueAnalysis Under(KeyRule keys) => keys == Keys ? this
        : Parts.Length > 0 ? Joined(Score, Numbered(Parts.Select(p => p.Under(keys)))) with { Keys = keys, _least = _least }
        : _heard is not { } heard ? this
        : heard.Testimony is null && Decided(heard, keys).SequenceEqual(Decided(heard, Keys)) ? this with { Keys = keys }
        : Of(Score, Sonorities, heard, keys).AtLeast(_least);

    /// <summary>The same analysis without devices whose reading is less sure than is asked for.</summary>
    /// <param name="least">The least confidence, 0 to 1; 0 leaves nothing out.</param>
    public CueAnalysis AtLeast(double least) => least <= _least ? this
        : this with
        {
            Chords = [.. Chords.Select(c => c.AtLeast(least))],
            _least = least,
            Parts = [.. Parts.Select(m => m.AtLeast(least))],
        };

    private static IReadOnlyList<ChordReading> Decided(Heard heard, KeyRule keys) => KeyDecision.Apply(
        heard.Reading.Chords, keys, new KeyContext(heard.Reading.HomeKey, heard.Phrases, ReadingSettings.Default));

    /// <summary>The final reading of what is heard, by a rule of keys; the probabilities are the model's own.</summary>
    internal static HarmonicReading Decide(
        Heard heard, KeyRule keys, ReadingSettings settings, Score score, IReadOnlyList<Sonority> sonorities) => HarmonicReader.Finish(
        KeyDecision.Apply(heard.Reading.Chords, keys, new KeyContext(heard.Reading.HomeKey, heard.Phrases, settings)), settings, score,
            sonorities);

    private static CueAnalysis Of(Score score, IReadOnlyList<Sonority> sonorities, Heard heard, KeyRule keys)
    {
        var reading = heard.Testimony is { } testimony ? Witnessed(heard, testimony, keys, score, sonorities)
            : FromNotes(heard, keys, score, sonorities);
        return Of(score, sonorities, heard.Grouping, reading) with
        {
            Keys = keys,
            Source = heard.Testimony is null ? HarmonySource.Notes : heard.Notes is null ? HarmonySource.Symbols : HarmonySource.Both,
            _heard = heard,
        };
    }

    private static HarmonicReading FromNotes(Heard heard, KeyRule keys, Score score, IReadOnlyList<Sonority> sonorities)
    {
        var (plain, verticals) = heard.Plain is { } other ? (other.Score, other.Sonorities) : (score, sonorities);
        var reading = Decide(heard, keys, ReadingSettings.Default, plain, verticals);
        var chords = StatedConfidence.Of(reading.Chords, verticals);
        return reading with
        {
            Chords = heard.Plain is null ? chords : ChordSound.Hear(NoteValues.Times(chords, 1 / heard.Plain.Factor), sonorities),
        };
    }

    // The reading of a score whose harmony is written down, with that of its notes where both count.
    private static HarmonicReading Witnessed(Heard heard, Testimony testimony, KeyRule keys, Score score,
        IReadOnlyList<Sonority> sonorities)
    {
        var context = new KeyContext(heard.Reading.HomeKey, heard.Phrases, ReadingSettings.Default);
        var written = SymbolReader.Finish(KeyDecision.Apply(heard.Reading.Chords, keys, context), testimony);
        return Witnesses.Join(written, heard.Notes is { } notes ? FromNotes(notes, keys, score, sonorities).Chords : null, score,
            sonorities);
    }

    private static CueAnalysis Of(Score score, IReadOnlyList<Sonority> sonorities, GroupingEvidence grouping, HarmonicReading reading)
    {
        var phrases = PhraseFinder.Find(score, sonorities, grouping, reading);
        var chords = DeviceFinder.Find(reading, new Evidence(sonorities, phrases, [.. score.Parts.Select(p => p.Name)]));
        return new CueAnalysis(score, sonorities, reading, chords, phrases);
    }

    /// <summary>What is the same whatever counts as a key.</summary>
    /// <param name="Reading">Every chord in the key that is heard where it stands.</param>
    /// <param name="Grouping">Cues of grouping.</param>
    /// <param name="Phrases">The phrases of that reading.</param>
    internal sealed record Heard(HarmonicReading Reading, GroupingEvidence Grouping, IReadOnlyList<Phrase> Phrases)
    {
        /// <summary>What the score writes down of its harmony, where that is what was heard.</summary>
        public Testimony? Testimony { get; init; }

        /// <summary>What was heard in the notes, where they count beside what is written.</summary>
        public Heard? Notes { get; init; }

        /// <summary>The plainer writing that the score was heard in; null where that is its own.</summary>
        public PlainWriting? Plain { get; init; }

        /// <summary>The same with phrases found in it.</summary>
        public static Heard Of(HarmonicReading reading, Score score, IReadOnlyList<Sonority> sonorities, GroupingEvidence grouping) =>
            new(reading, grouping, PhraseFinder.Find(score, sonorities, grouping, reading));
    }

    /// <summary>A score in usual note values and with quick broken chords gathered.</summary>
    /// <param name="Score">The score.</param>
    /// <param name="Sonorities">Its verticals.</param>
    /// <param name="Factor">What the times of the score as written were multiplied by.</param>
    internal sealed record PlainWriting(Score Score, IReadOnlyList<Sonority> Sonorities, Fraction Factor);
}
