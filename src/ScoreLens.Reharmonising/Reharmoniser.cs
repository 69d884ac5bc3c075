using ScoreLens.Density;
using ScoreLens.Devices;
using ScoreLens.Notation;
using ScoreLens.Phrases;
using ScoreLens.Reading;
using ScoreLens.Reharmonising.Experts;
using ScoreLens.Reharmonising.Rules;
using ScoreLens.Reharmonising.Voicing;
using ScoreLens.Reharmonising.Wording;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Reharmonising;

/// <summary>Finds other chords for the chords of an analysed score, ranked. How they are found and ranked: docs/reharmonising.md.</summary>
public sealed class Reharmoniser
{
    // Chords around the one that is replaced in which devices are judged anew, and those whose judgement can change with it.
    private const int ChordsAround = 8, Touched = 2;

    // Of chords that are written together so many settings of each are tried, and so many ways through them kept.
    private const int WaysOfChord = 4, WaysKept = 4;

    // Alternatives that are read again side by side; and so many of the vocabulary's likeliest chords are ranked with what the rules have a
    // reason for. The others come after all of these.
    private const int ReadAtOnce = 4, Likeliest = 6;

    // With fewer pitches that may move a chord is told from what stays, and so is hardly another.
    private const int LeastPitches = 2;

    private static readonly ISubstitutionRule[] Rules =
    [
        new DiatonicRule(), new AppliedRule(), new PredominantRule(), new TritoneSubstituteRule(), new MixtureRule(),
            new AlteredDominantRule(), new CommonToneRule(),
        new MediantRule(), new PlainRule(),
    ];

    private readonly CueAnalysis _analysis;
    private readonly Band _band;
    private readonly ChordInContext?[] _chords;
    private readonly Melody _melody;
    private readonly PartRanges _ranges;
    private readonly Shares _whole;
    private readonly Evidence _evidence;
    private readonly CancellationToken _cancellationToken;

    /// <summary>Prepares a score.</summary>
    /// <param name="analysis">The score with its reading.</param>
    /// <param name="band">The share of time outside the key that is wanted; alternatives that bring a phrase towards it rank
    /// higher.</param>
    /// <param name="melody">The part that carries the melody, from 0; null where it has to be found.</param>
    /// <param name="cancellationToken">
    /// Gives up whatever is asked of this object and of those made from it: the method throws an
    /// <see cref="OperationCanceledException"/>.
    /// </param>
    public Reharmoniser(CueAnalysis analysis, Band band, int? melody = null, CancellationToken cancellationToken = default)
        : this(analysis ?? throw new ArgumentNullException(nameof(analysis)), band,
            new Melody(analysis.Score, analysis.Sonorities, melody), PartRanges.Of(analysis.Score), cancellationToken)
    {
    }

    private Reharmoniser(CueAnalysis analysis, Band band, Melody melody, PartRanges ranges, CancellationToken cancellationToken)
    {
        (_analysis, _band, _melody, _ranges, _cancellationToken) = (analysis, band, melody, ranges, cancellationToken);
        _chords = ChordInContext.Link(analysis.Reading, _evidence = new Evidence(analysis.Sonorities, analysis.Phrases,
            [.. analysis.Score.Parts.Select(p => p.Name)]));
        _whole = CueDensity.Of(analysis, band).Whole;
    }

    /// <summary>The analysis whose chords are counted: that of the score, or one with other borders (<see cref="Over"/>).</summary>
    public CueAnalysis Analysis => _analysis;

    /// <summary>
    /// The same score with one chord over each of some spans, whatever stands there: for a change in the second half of a chord, or one
    /// chord in the place of several.
    /// </summary>
    /// <param name="spans">The spans; no two overlap.</param>
    public Reharmoniser Over(IReadOnlyList<ChordSpan> spans)
    {
        ArgumentNullException.ThrowIfNull(spans);
        return spans.Count == 0 ? this : new Reharmoniser(Regrouping.With(_analysis, spans), _band, _melody, _ranges,
            _cancellationToken);
    }

    /// <summary>The same with a choice in the score: what is offered beside it has it as its neighbour.</summary>
    internal Reharmoniser Beside(Choice choice) => new(Regrouping.With(_analysis, choice), _band, _melody, _ranges, _cancellationToken);

    /// <summary>Work on several items at a time, given up when this object's work is.</summary>
    internal TResult[] Map<T, TResult>(IEnumerable<T> items, Func<T, TResult> of) => InParallel.Map(items, of, _cancellationToken);

    /// <summary>A whole score with choices in it, read again.</summary>
    internal CueAnalysis Read(Score written) => CueAnalysis.Of(written, _analysis.Keys, HarmonySource.Notes, _cancellationToken);

    /// <summary>Whether enough notes begin and end in a chord that another could be told from them.</summary>
    internal bool HasRoom(int index) => _chords[index] is { } chord
        && VoicerAt(Around(index, _analysis.Score), chord).FreePitches >= LeastPitches;

    /// <summary>All alternatives for a chord, as <see cref="List"/> has them.</summary>
    /// <param name="index">Place of the chord in <see cref="CueAnalysis.Chords"/>.</param>
    /// <param name="all">Whether those that would be read as another chord are listed too, after all others.</param>
    /// <param name="order">What they are sorted by.</param>
    /// <exception cref="ArgumentOutOfRangeException">There is no such chord.</exception>
    public IReadOnlyList<Alternative> At(int index, bool all = false, OfferOrder order = OfferOrder.Best) =>
        List(index, order, all: all).Alternatives;

    /// <summary>
    /// Alternatives for a chord of the analysis in an order: those that are read back as they were promised, and those that cannot be
    /// written into the score, which have a lower score. None where no chord is named. No more is read again than is asked for; ranks do
    /// not depend on how much that is.
    /// </summary>
    /// <param name="index">Place of the chord in <see cref="CueAnalysis.Chords"/>.</param>
    /// <param name="order">What they are sorted by.</param>
    /// <param name="most">So many of those that are wanted; then the list ends.</param>
    /// <param name="all">Whether those that would be read as another chord are listed too, after all others; the list has no end
    /// then.</param>
    /// <param name="wanted">Which are counted; all where it is null.</param>
    /// <exception cref="ArgumentOutOfRangeException">There is no such chord.</exception>
    public OfferList List(int index, OfferOrder order = OfferOrder.Best, int most = int.MaxValue, bool all = false,
        Func<Alternative, bool>? wanted = null)
    {
        var work = PlaceOf(index);
        if (work is null) return new OfferList([], 0, 0);
        var candidates = work.Ranked(order);
        var (listed, otherwise, taken, next, isRare) = (new List<Alternative>(), new List<Alternative>(), 0, 0,
            order != OfferOrder.Best);
        while (all || taken < most)
        {
            if (next >= candidates.Count)
            {
                if (isRare) break;
                isRare = true;
                candidates = [.. candidates, .. work.Rare(order)];
                continue;
            }

            foreach (var read in Map(candidates.Skip(next).Take(ReadAtOnce), c => c.Read()))
            {
                if (!all && taken == most) break;
                next++;
                if (read.ReadBack is { IsKept: false })
                {
                    otherwise.Add(read);
                    continue;
                }

                listed.Add(read with { Rank = listed.Count + 1 });
                if (wanted?.Invoke(read) != false) taken++;
            }
        }

        if (all) listed.AddRange([.. otherwise.Select((a, i) => a with { Rank = listed.Count + i + 1 })]);
        return new OfferList(listed, otherwise.Count, candidates.Count - next, !isRare);
    }

    /// <summary>
    /// A chord that is asked for by its numeral, read again in its place; rank 0. Null where it does not carry the melody or leaves the
    /// chord before it hanging.
    /// </summary>
    /// <param name="index">Place of the chord in <see cref="CueAnalysis.Chords"/> of <see cref="Analysis"/>.</param>
    /// <param name="numeral">The chord, in the key that is read there.</param>
    /// <exception cref="ArgumentOutOfRangeException">There is no such chord.</exception>
    public Alternative? Named(int index, Numeral numeral)
    {
        ArgumentNullException.ThrowIfNull(numeral);
        return PlaceOf(index) is { } work
            ? Candidate.Of(work, new Substitution([numeral], null, new InVocabulary()) { IsAnyDevice = true, IsAsked = true })?.Read()
            : null;
    }

    /// <summary>
    /// Why no chord of the key can stand in the place of a coloured one, a sentence that begins in lower case; empty where one is offered
    /// or the chord is of the key.
    /// </summary>
    /// <param name="index">Place of the chord in <see cref="CueAnalysis.Chords"/> of <see cref="Analysis"/>.</param>
    /// <exception cref="ArgumentOutOfRangeException">There is no such chord.</exception>
    public string WhyNotPlain(int index) =>
        _analysis.Chords[index].Device is not null && PlaceOf(index) is { } work && !Unread(index).Any(a => a.Device is null)
            ? ObstacleWords.Of(work.NotPlain()) : "";

    /// <summary>The same before any of it is read again, whether it can be written or not.</summary>
    internal IReadOnlyList<Alternative> Unread(int index) =>
        PlaceOf(index) is { } work ? [.. work.Ranked(OfferOrder.Best).Concat(work.Rare(OfferOrder.Best)).Select((c, i) =>
            c.First with { Rank = i + 1 })] : [];

    /// <summary>The best alternatives of every phrase, as <see cref="BestOf"/> finds them; phrases are worked on side by side.</summary>
    /// <param name="count">At most so many of each.</param>
    /// <param name="wanted">Which are asked for; all where it is null.</param>
    public IReadOnlyList<IReadOnlyList<(int Index, Alternative Alternative)>> BestOfEach(int count, Func<Alternative,
        bool>? wanted = null) =>
        Map(_analysis.Phrases, p => BestOf(p, count, wanted));

    /// <summary>
    /// The best alternatives of a phrase, at most one a chord, in the order of the music: only such as are read back as they were promised
    /// and go on as expected.
    /// Each is the first of its chord's list among those that are asked for.
    /// </summary>
    /// <param name="phrase">The phrase.</param>
    /// <param name="count">At most so many.</param>
    /// <param name="wanted">Which are asked for; all where it is null.</param>
    public IReadOnlyList<(int Index, Alternative Alternative)> BestOf(Phrase phrase, int count, Func<Alternative, bool>? wanted = null)
    {
        ArgumentNullException.ThrowIfNull(phrase);
        var candidates = _analysis.Chords.Index().Where(c => phrase.Start <= c.Item.Reading.Onset && c.Item.Reading.Onset < phrase.End)
            .SelectMany(c => (PlaceOf(c.Index)?.Ranked(OfferOrder.Best) ?? []).Select(o => (c.Index, Candidate: o))).ToArray();
        var best = new Dictionary<int, Alternative>();
        // The ranks of a chord count what is asked for and what is not, so that both are read.
        var ranks = new Dictionary<int, int>();
        foreach (var (index, candidate) in candidates.Where(c => c.Candidate.First.Rewriting.IsPossible)
            .OrderByDescending(c => c.Candidate.First.Score))
        {
            _cancellationToken.ThrowIfCancellationRequested();
            if (best.ContainsKey(index) || candidate.Read() is not { IsKept: true } alternative) continue;
            var rank = ranks[index] = ranks.GetValueOrDefault(index) + 1;
            if (wanted?.Invoke(alternative) == false || !alternative.GoesOn) continue;
            best[index] = alternative with { Rank = rank };
            if (best.Count == count) break;
        }

        return [.. best.OrderBy(b => b.Key).Select(b => (b.Key, b.Value))];
    }

    /// <summary>
    /// Several choices written into the score together. Where two chosen chords follow each other their voices are led from the one to the
    /// other: a few of the best settings of each are tried against those of the next, and the smoothest way through is taken. Then the
    /// whole score is read again with all of them in it.
    /// </summary>
    /// <param name="choices">The choices, at most one a chord; each can be written alone.</param>
    /// <exception cref="ArgumentException">Two choices are for one chord, or one cannot be written.</exception>
    public WrittenChoices Together(IReadOnlyList<Choice> choices)
    {
        var written = Write(choices);
        return written.IsPossible ? written.ReadIn(Read(written.Written)) : written;
    }

    /// <summary>The same, but only what lies about each choice is read again.</summary>
    internal WrittenChoices TogetherNearby(IReadOnlyList<Choice> choices)
    {
        var written = Write(choices);
        return written.IsPossible ? written with
        {
            Choices = [.. Map(written.Choices, c =>
                c.With(Rereading.InWritten(written.Written, c.Alternative, _analysis.Keys)))],
        } : written;
    }

    // The choices in the score, not read again yet.
    private WrittenChoices Write(IReadOnlyList<Choice> choices)
    {
        ArgumentNullException.ThrowIfNull(choices);
        if (choices.DistinctBy(c => c.Index).Count() != choices.Count)
            throw new ArgumentException("Two choices are for one chord.", nameof(choices));
        if (choices.Any(c => !c.Alternative.Rewriting.IsPossible))
            throw new ArgumentException("A choice cannot be written.", nameof(choices));
        Choice[] ordered = [.. choices.OrderBy(c => c.Index)];
        var score = _analysis.Score;
        var done = new List<Choice>();
        for (int first = 0, next; first < ordered.Length; first = next)
        {
            next = first + 1;
            while (next < ordered.Length
                && ordered[next].Alternative.Rewriting.Start == ordered[next - 1].Alternative.Rewriting.End) next++;
            var run = ordered[first..next];
            if (run.Length > 1)
            {
                if (Through(run, score, out var obstacle) is not { } led) return new WrittenChoices(ordered, _analysis.Score, obstacle);
                run = led;
            }

            foreach (var choice in run) score = choice.Alternative.Rewriting.ApplyTo(score);
            done.AddRange(run);
        }

        return new WrittenChoices(done, score, "");
    }

    // Chords that follow each other, by a beam over the settings of each: what counts of those before is the score that they leave.
    private Choice[]? Through(Choice[] run, Score score, out string obstacle)
    {
        obstacle = "";
        List<(Score Written, double Cost, Choice[] Done)> ways = [(score, 0, [])];
        foreach (var choice in run)
        {
            var next = new List<(Score, double, Choice[])>();
            foreach (var (written, cost, done) in ways)
            {
                var (place, alternative) = (_chords[choice.Index]!, choice.Alternative);
                var voicer = VoicerAt(Around(choice.Index, written), place);
                foreach (var way in voicer.All(alternative.Key, NewChord.Of(alternative.Key, alternative.Numeral), WaysOfChord))
                {
                    if (!way.Rewriting.IsPossible)
                    {
                        if (obstacle.Length == 0) obstacle = way.Rewriting.Obstacle;
                        continue;
                    }

                    next.Add((way.Rewriting.ApplyTo(written), cost + way.Cost, [.. done, choice with
                    {
                        Alternative = alternative with { Rewriting = way.Rewriting },
                    }]));
                }
            }

            if (next.Count == 0) return null;
            ways = [.. next.OrderBy(w => w.Item2).Take(WaysKept)];
        }

        obstacle = "";
        return ways[0].Done;
    }

    private Voicer VoicerAt(Score around, ChordInContext place)
    {
        var (start, end) = (place.Reading.Onset, place.Reading.End);
        return new Voicer(new Texture(around.Notes, _melody.Over(start, end), _ranges, place.Tones, start, end), _ranges,
            _analysis.Score.ChordSymbols.Any(s => s.Onset < end && s.Onset >= start) ? BesideMelody.Symbols
                : _analysis.Score.Parts.Any(p => p.IsPercussion) ? BesideMelody.Percussion : BesideMelody.Nothing);
    }

    // The notes about a chord, as far as devices are judged anew; what names old chords is left out.
    private Score Around(int index, Score score)
    {
        var readings = _analysis.Reading.Chords;
        var (from, to) = (readings[Math.Max(0, index - ChordsAround)].Onset,
            readings[Math.Min(readings.Count - 1, index + ChordsAround)].End);
        return score with { Notes = [.. score.Notes.Where(n => n.Onset < to && n.End >= from)], Texts = [], ChordSymbols = [], Rests = [] };
    }

    // The place of a chord; null where none is named.
    private Workplace? PlaceOf(int index)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(index);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(index, _chords.Length);
        return _chords[index] is { } chord
            ? new Workplace(this, index, new ChordPlace(chord, _analysis.Chords[index].Function, _analysis.Chords[index].Device)) : null;
    }

    private static bool IsTonic(Numeral numeral) => numeral is { Kind: NumeralKind.Plain, Degree: 1, Alteration: 0, IsApplied: false };

    private static int Sound(IReadOnlyList<Tone> tones) => tones.Aggregate(0, (all, tone) => all | (1 << tone.PitchClass));

    /// <summary>
    /// A chord that a rule offers, in the inversions that will do, the best first; each is worked out when it is asked for.
    /// </summary>
    private sealed class Candidate
    {
        // Where the best inversion is read as another chord so many are tried.
        private const int Tried = 2;

        private readonly Workplace _work;
        private readonly Substitution _offer;

        private Candidate(Workplace work, Substitution offer, Alternative first) => (_work, _offer, First) = (work, offer, first);

        /// <summary>The best of them, before it is read again.</summary>
        public Alternative First { get; }

        /// <summary>The candidate of an offer; null where no inversion is there what it is offered as.</summary>
        public static Candidate? Of(Workplace work, Substitution offer) =>
            work.Settings(offer).FirstOrDefault() is { } first ? new Candidate(work, offer, first) : null;

        /// <summary>The first inversion that is read back as it was promised, else the best one, read again.</summary>
        public Alternative Read()
        {
            if (!First.Rewriting.IsPossible) return First;
            var first = _work.Read(First);
            if (first.IsKept) return first;
            foreach (var other in _work.Settings(_offer).Skip(1).Where(a => a.Rewriting.IsPossible).Take(Tried - 1))
                if (_work.Read(other) is { IsKept: true } kept) return kept;
            return first;
        }
    }

    /// <summary>The place of one chord with all that judging another chord for it needs.</summary>
    private sealed class Workplace
    {
        private readonly Reharmoniser _owner;
        private readonly int _index;
        private readonly ChordPlace _place;
        private readonly int _first;
        private readonly ChordReading[] _window;
        private readonly Score _score;
        private readonly Voicer _voicer;
        private readonly Lazy<Excerpt> _excerpt;
        private readonly IReadOnlyList<MelodyNote> _melody;
        private readonly Phrase? _phrase;
        private readonly Lazy<ChoicesAt> _experts;
        private readonly Lazy<Substitution[]> _vocabulary;
        private readonly List<Candidate> _found = [];
        private readonly HashSet<int> _known;
        private readonly Shares _phraseShares;

        // Chords whose judgement can change with the one that is replaced, and the phrases that they lie in.
        private readonly (int From, IReadOnlyList<TaggedChord> Old) _touched;
        private readonly Phrase[] _phrases;

        public Workplace(Reharmoniser owner, int index, ChordPlace place)
        {
            (_owner, _index, _place) = (owner, index, place);
            var analysis = owner._analysis;
            _first = Math.Max(0, index - ChordsAround);
            _window = [.. analysis.Reading.Chords.Skip(_first).Take(index + ChordsAround + 1 - _first)];
            _score = owner.Around(index, analysis.Score);
            var (start, end) = (place.Chord.Reading.Onset, place.Chord.Reading.End);
            _voicer = owner.VoicerAt(_score, place.Chord);
            _excerpt = new Lazy<Excerpt>(() => Excerpt.Around(analysis.Score, start, end, Rereading.MeasuresAround));
            _melody = owner._melody.Over(start, end)?.In(start, end) ?? [];
            _phrase = analysis.Phrases.FirstOrDefault(p => p.Start <= start && p.End > start);
            var from = Math.Max(_first, index - Touched);
            _touched = (from, [.. analysis.Chords.Skip(from).Take(Math.Min(index + Touched, _first + _window.Length - 1) + 1 - from)]);
            _phrases = [.. analysis.Phrases.Where(p => p.Start < _touched.Old[^1].Reading.End && p.End > _touched.Old[0].Reading.Onset)];
            _phraseShares = _phrase is null ? Shares.Sum([]) : Shares.Between(analysis.Chords, _phrase.Start, _phrase.End);
            _experts = new Lazy<ChoicesAt>(() => ExpertChoices.Default.At(PlaceEvidence.Of(place.Key, Named(place.Before),
                Named(place.After), _melody, start, end, TonesInTime.Between(analysis.Sonorities, start, end).FirstOrDefault()
                    ?.MetricalWeight ?? 0)));
            _known = [Sound(place.Chord.Tones)];
            _vocabulary = new Lazy<Substitution[]>(() => [.. new VocabularyRule().Offer(place).OfType<Substitution>()
                .OrderByDescending(o => Experts(o.Numerals[0]))]);

            static (Key, Numeral)? Named(ChordInContext? chord) => chord is null ? null : (chord.Key, chord.Numeral);
        }

        /// <summary>
        /// The inversions of an offer that are there what it is offered as, the best bass and the smoothest voices first.
        /// </summary>
        public IEnumerable<Alternative> Settings(Substitution offer)
        {
            var (first, reading) = (NewChord.Of(_place.Key, offer.Numerals[0]), _place.Chord.Reading);
            if (MelodyFit.Of(_melody, reading.Onset, reading.End, first.Tones, offer.Numerals[0].Quality,
                offer.Device) is not { } fit) yield break;
            // By the bass two at a time: of each two the better voices come first.
            var pairs = offer.Numerals.Select(n => (Numeral: n, Chord: NewChord.Of(_place.Key, n), Bass: BassCost(n))).OrderBy(c => c.Bass)
                .Chunk(2).SelectMany(pair => pair.Select(c => (c.Numeral, c.Chord, c.Bass, Voiced: _voicer.For(_place.Key, c.Chord)))
                    .OrderBy(s => s.Voiced.Rewriting.IsPossible ? 0 : 1).ThenBy(s => s.Bass + s.Voiced.Cost));
            foreach (var (numeral, chord, _, voiced) in WritableFirst(pairs, s => s.Voiced.Rewriting.IsPossible))
            {
                var rewriting = voiced.Rewriting;
                var tagged = Retag(numeral, rewriting);
                var here = tagged[_index - _first];
                if (!FollowsWell(chord.Bass, numeral, here.Function) || BreaksChordBefore(tagged)) continue;
                if (offer.IsAnyDevice ? !offer.IsAsked && !IsKnown(numeral, here)
                    : (here.Device != offer.Device || here.Resolution is Resolution.Unresolved or Resolution.Delayed
                    || IsDominantByName(numeral, offer, rewriting))) continue;
                yield return Judge(numeral, chord, offer, fit, rewriting, tagged);
            }
        }

        /// <summary>What stands in the way of the plain chord behind the one that stands here.</summary>
        public Obstacle NotPlain()
        {
            if (PlainChord.Of(_place.Key, _place.Chord.Numeral, _place.Device == Device.TritoneSubstitute).Select(p => p.Numeral)
                .FirstOrDefault() is not { } numeral) return new NothingBehind();
            var (chord, reading) = (NewChord.Of(_place.Key, numeral), _place.Chord.Reading);
            return MelodyFit.Of(_melody, reading.Onset, reading.End, chord.Tones, numeral.Quality, null) is null
                ? new NotCarried(chord.Name, MelodyFit.Against(_melody, reading.Onset, reading.End, chord.Tones, numeral.Quality, null))
                : _place.Before is { } before ? new DoesNotFollow(chord.Name, before.Numeral) : new NothingBehind();
        }

        // What is outside the key is a device that can be named. Common-tone chords and altered dominants are their own rules' alone, which
        // ask for more than that.
        private bool IsKnown(Numeral numeral, TaggedChord here) =>
            here.Device is not (Device.CommonToneDiminished or Device.AlteredDominant)
            && (here.Device is not null || Diatonic.Contains(_place.Key, numeral));

        // In order, but what cannot be written only where nothing else follows.
        private static IEnumerable<T> WritableFirst<T>(IEnumerable<T> settings, Func<T, bool> isWritable)
        {
            var others = new List<T>();
            foreach (var setting in settings)
            {
                if (isWritable(setting)) yield return setting;
                else others.Add(setting);
            }

            foreach (var other in others) yield return other;
        }

        /// <summary>
        /// What the rules offer and the likeliest chords of the vocabulary, before any of it is read again; by another order than the best
        /// first the whole vocabulary.
        /// </summary>
        public List<Candidate> Ranked(OfferOrder order)
        {
            foreach (var rule in Rules)
                foreach (var offer in rule.Offer(_place)) Take(offer);
            foreach (var offer in _vocabulary.Value.Take(order == OfferOrder.Best ? Likeliest : int.MaxValue)) Take(offer);
            return Taken(order);
        }

        /// <summary>The other chords of the vocabulary, once those are known that come before.</summary>
        public List<Candidate> Rare(OfferOrder order)
        {
            foreach (var offer in _vocabulary.Value.Skip(Likeliest)) Take(offer);
            return Taken(order);
        }

        private List<Candidate> Taken(OfferOrder order)
        {
            var ordered = _found.OrderBy(c => c.First, order, _owner._band);
            _found.Clear();
            return ordered;
        }

        // Whether it is the chord that stands there, with or without a seventh.
        private bool IsStanding(Substitution offer) =>
            offer.Device is null && !offer.IsAnyDevice && _place.IsSameHarmony(offer.Numerals[0]);

        private void Take(Substitution? offer)
        {
            if (offer is null || (_place.IsTonicAtEdge && !IsTonic(offer.Numerals[0])) || IsStanding(offer)
                || _known.Contains(Sound(NewChord.Of(_place.Key, offer.Numerals[0]).Tones))
                || Candidate.Of(this, offer) is not { } candidate) return;
            // Where too few notes move for its seventh, the triad says the same.
            if (candidate.First.Rewriting.Hindrance is TooFewNotes && offer.WithoutSeventh() is { } triad
                && !_known.Contains(Sound(NewChord.Of(_place.Key, triad.Numerals[0]).Tones)) && !IsStanding(triad)
                && Candidate.Of(this, triad) is { First.Rewriting.IsPossible: true } simpler) candidate = simpler;
            _known.Add(Sound(NewChord.Of(_place.Key, candidate.First.Numeral).Tones));
            _found.Add(candidate);
        }

        /// <summary>How often experts have a chord here, 0..1.</summary>
        public double Experts(Numeral numeral) => _experts.Value.Of(_place.Key, numeral);

        /// <summary>An alternative with what is read where it is written.</summary>
        public Alternative Read(Alternative alternative) =>
            alternative with { ReadBack = ReadBack.Of(Rereading.In(_excerpt.Value, alternative, _owner._analysis.Keys), alternative) };

        private Alternative Judge(
            Numeral numeral, NewChord chord, Substitution offer, MelodyFit fit, Rewriting rewriting, IReadOnlyList<TaggedChord> tagged)
        {
            var touched = tagged.Skip(_touched.From - _first).Take(_touched.Old.Count).ToArray();
            var phraseAfter = _phrase is null ? Fraction.Zero : With(_phraseShares, OutsideIn(touched, [_phrase])
                - OutsideIn(_touched.Old, [_phrase]));
            var wholeAfter = With(_owner._whole, OutsideIn(touched, _phrases) - OutsideIn(_touched.Old, _phrases));
            var balance = new BalanceChange(_phraseShares.OutsideTime, phraseAfter, _owner._whole.OutsideTime, wholeAfter,
                _owner._band.Judge(phraseAfter));
            ChordInContext[] neighbours = [.. new[] { _place.Before, _place.After }.OfType<ChordInContext>()];
            var semitones = neighbours.Sum(n => Smoothness.Semitones(n.Tones, chord.Tones));
            var common = neighbours.Sum(n => Smoothness.CommonTones(n.Tones, chord.Tones));
            var here = tagged[_index - _first];
            var experts = Experts(numeral);
            var score = Ranking.Score(experts, fit.Share, here.Resolution,
                neighbours.Length == 0 ? 0 : (double)semitones / neighbours.Length, _owner._band, balance, rewriting.IsPossible);
            var reason = OfferWords.Of(ChordName.Of(_place.Key, numeral), offer.Why, _place, fit, here);
            return new Alternative(0, _place.Key, numeral, here.Device, common, semitones, balance, score, reason, rewriting)
            {
                Experts = Math.Round(experts, 6),
                Resolution = here.Resolution,
            };
        }

        private IReadOnlyList<TaggedChord> Retag(Numeral numeral, Rewriting rewriting)
        {
            var chords = _window.ToArray();
            chords[_index - _first] = chords[_index - _first] with { Numeral = numeral, Confidence = 1, RunnersUp = [] };
            var sonorities = rewriting.IsPossible ? SonorityFinder.Find(rewriting.ApplyTo(_score)) : [];
            return DeviceFinder.Find(new HarmonicReading(_owner._analysis.HomeKeyAt(chords[0].Onset), ChordSound.Hear(chords, sonorities)),
                _owner._evidence with { Sonorities = sonorities });
        }

        // A major triad a fifth above a degree is written as that degree's dominant: a mediant only where it is one by that name too. What
        // ends a cue is no dominant.
        private bool IsDominantByName(Numeral numeral, Substitution offer, Rewriting rewriting)
        {
            if (numeral.IsApplied || numeral.Quality != ChordQuality.Major || offer.Device is null || _place.After is null) return false;
            var goal = numeral.Root(_place.Key) + -1;
            if (!OwnDegrees.Has(_place.Key, goal) || OwnDegrees.Target(_place.Key, goal) is not { } target) return false;
            return Retag(new Numeral(5, ChordQuality.Major, numeral.Inversion, 0, target), rewriting)[_index - _first]
                .Device != offer.Device;
        }

        // What was prepared must not be left hanging.
        private bool BreaksChordBefore(IReadOnlyList<TaggedChord> tagged) =>
            _index > _first && _owner._analysis.Chords[_index - 1].Resolution == Resolution.Resolved && tagged[_index - 1 - _first]
                .Resolution == Resolution.Unresolved;

        // A seventh in the bass falls by step, a cadential six-four goes to a dominant over its bass, and after a dominant of the key no
        // chord prepares it anew unless one did so already.
        private bool FollowsWell(Tone bass, Numeral numeral, HarmonicFunction function)
        {
            if (_place.Before is not { } before) return true;
            if (before.IsCadential && !(numeral.Root(_place.Key).IsEnharmonicWith(before.Bass) || function == HarmonicFunction.Dominant
                && bass.IsEnharmonicWith(before.Bass))) return false;
            if (before is { Inversion: 3, Quality: ChordQuality.DominantSeventh }
                && Tone.Semitones(bass, before.Bass) is not (1 or 2)) return false;
            var isAfterDominant = _owner._analysis.Chords[_index - 1].Function == HarmonicFunction.Dominant && !before.IsOutside;
            return !isAfterDominant || function != HarmonicFunction.Predominant || _place.Function == HarmonicFunction.Predominant;
        }

        // How well the bass goes on; a seventh in the bass falls by step, and a six-four is no resting place.
        private double BassCost(Numeral numeral)
        {
            var bass = NewChord.Of(_place.Key, numeral).Bass;
            double cost = numeral.Inversion switch { 0 => 0, 1 => 0.5, 2 => numeral.Quality.IsSeventh() ? 1.5 : 4, _ => 1 };
            if (_place.Before is { } before) cost += Smoothness.Between(before.Bass, bass);
            if (_place.After is { } after) cost += Smoothness.Between(bass, after.Bass);
            if (numeral.Inversion == 3 && _place.After is { } next && Tone.Semitones(next.Bass, bass) is not (1 or 2)) cost += 6;
            return cost;
        }

        // The share of time with so much more of it outside the key.
        private static Fraction With(Shares shares, Fraction more) =>
            shares.Quarters.Sign == 0 ? Fraction.Zero : (shares.OutsideQuarters + more) / shares.Quarters;

        private static Fraction OutsideIn(IReadOnlyList<TaggedChord> chords, IReadOnlyList<Phrase> phrases) =>
            phrases.Aggregate(Fraction.Zero, (sum, p) => sum + Shares.Between(chords, p.Start, p.End).OutsideQuarters);
    }
}
