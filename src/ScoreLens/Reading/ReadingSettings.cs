using System.Globalization;
using System.Reflection;

namespace ScoreLens.Reading;

/// <summary>
/// Every number that was chosen for a reading, from the search to the last refinement, in one place. Unless a property says otherwise it
/// was chosen on the validation works of the open corpus (docs/method.md); the training tool varies any of them by name (<c>measure CORPUS
/// validation --set KeyChange=2</c>). Immutable, safe to share between threads.
/// </summary>
internal sealed record ReadingSettings
{
    /// <summary>The settings that the library reads with.</summary>
    public static ReadingSettings Default { get; } = new();

    // ---- The search for keys ----

    /// <summary>
    /// Weight of a vertical's own log probability of a key, in a short piece; it falls to 1 in a movement of usual length.
    /// </summary>
    public double KeyEvidence { get; init; } = 3;

    /// <summary>Cost of a change of key beside the model's own 'a new key', in nats, up to a movement of usual length.</summary>
    public double KeyChange { get; init; } = -1;

    /// <summary>What a change of key costs more for every natural logarithm of the length over the usual one, in nats.</summary>
    /// <remarks>
    /// In the open works a key holds about 4 quarter notes in textbook examples of 11, 8 in chorales of 50, 20 in songs and keyboard pieces
    /// of 150, 53 in the one movement of 1,176.
    /// </remarks>
    public double KeyChangePerLength { get; init; } = 8;

    /// <summary>A movement of usual length, in sounding quarter notes: the length of the open corpus's songs.</summary>
    public double UsualLength { get; init; } = 200;

    /// <summary>
    /// The longest movement that keys were counted in, in sounding quarter notes; a longer one is taken to have this length.
    /// </summary>
    public double LongestLength { get; init; } = 1200;

    /// <summary>
    /// Share of the evidence for keys that probabilities are formed from, 0..1: neighbouring verticals see the same notes.
    /// </summary>
    public double KeyTrust { get; init; } = 0.3;

    /// <summary>How far below the best key's own score a key is passed over at a vertical, in nats; saves time.</summary>
    public double KeyMargin { get; init; } = 8;

    /// <summary>A key that nowhere comes up to this log probability is left out of the search; saves time.</summary>
    public double LeastLogOfKey { get; init; } = -7;

    /// <summary>A key below this probability at a vertical gives no runner-up, 0..1.</summary>
    public double LeastShareOfKey { get; init; } = 0.02;

    /// <summary>The least log probability that evidence counts with: one vertical alone rules nothing out.</summary>
    public double Floor { get; init; } = -18;

    // ---- The search for numerals ----

    /// <summary>Weight of a vertical's own log probability of a numeral in the key.</summary>
    public double ChordEvidence { get; init; } = 1.5;

    /// <summary>Share of the evidence for numerals that probabilities are formed from, 0..1.</summary>
    public double ChordTrust { get; init; } = 0.4;

    /// <summary>How many numerals of a vertical come into question at all; saves time.</summary>
    public int BestNumerals { get; init; } = 10;

    /// <summary>How many of a neighbouring vertical's best numerals come into question too.</summary>
    public int CarriedNumerals { get; init; } = 4;

    /// <summary>From how many other keys runner-up readings are taken at a vertical.</summary>
    public int OtherKeys { get; init; } = 3;

    // ---- What the notes themselves say for a numeral ----

    /// <summary>Gain of a numeral whose tones sound whole and as spelled, no others, in nats.</summary>
    public double WholeAsSpelled { get; init; } = 2;

    /// <summary>The same where the score spells a tone otherwise, in nats: it may spell a chord more simply than it means it.</summary>
    public double WholeAsSounding { get; init; } = 1.5;

    /// <summary>Loss of a numeral to which nothing belongs that sounds, in nats; in proportion to the foreign share of the time.</summary>
    public double AllForeign { get; init; } = 1;

    /// <summary>Loss of a seventh chord whose seventh does not sound, in nats.</summary>
    public double SeventhMissing { get; init; } = 1;

    /// <summary>
    /// Gain of the inversion whose bass is the lowest tone from one likely change of chord to the next, pedals left out, in nats.
    /// </summary>
    public double LowestIsBass { get; init; } = 1.5;

    /// <summary>A tone that sounds for less than this share of the longest one's time is no member of a whole chord, 0..1.</summary>
    public double LeastOfLongest { get; init; } = 0.2;

    /// <summary>A tone that sounds for less than this share of all tones' time does not count as heard, 0..1.</summary>
    public double LeastOfAll { get; init; } = 0.02;

    // ---- Runner-up readings ----

    /// <summary>How many runner-up readings a chord keeps.</summary>
    public int RunnersUpKept { get; init; } = 3;

    /// <summary>The least probability of a runner-up reading, 0..1.</summary>
    public double LeastRunnerUp { get; init; } = 0.005;

    // ---- The home key ----

    /// <summary>What a key gains by holding the last chord, as a share of the cue's time.</summary>
    public double LastChordForHome { get; init; } = 0.35;

    /// <summary>What a key gains by holding the first chord, as a share of the cue's time.</summary>
    public double FirstChordForHome { get; init; } = 0.35;

    /// <summary>What a key gains by having the first key signature, as a share of the cue's time.</summary>
    public double SignatureForHome { get; init; } = 0.2;

    // ---- Keys that are only touched ----

    /// <summary>The most chords of a stay in another key without its dominant that are taken for borrowed ones.</summary>
    public int MostBorrowedChords { get; init; } = 3;

    /// <summary>The most chords of a stay in another key that are taken for a tonicisation, in a piece of any length.</summary>
    public int MostTonicisedChords { get; init; } = 2;

    /// <summary>The same in long movements.</summary>
    public int MostTonicisedChordsInLongMovements { get; init; } = 16;

    /// <summary>The longest stay of few chords that is borrowed or tonicised, in quarter notes.</summary>
    public int LongestShortStay { get; init; } = 16;

    /// <summary>
    /// Share of what a movement has beyond <see cref="ShortMovement"/> that a longer stay may take and still be a tonicisation, 0..1: the
    /// open works' experts leave a key and come back to it one to four times a movement, whether it has 50 quarter notes or 1,200.
    /// </summary>
    public double TonicisedShareOfMovement { get; init; } = 0.04;

    /// <summary>A movement up to this length has no longer tonicisations, in sounding quarter notes.</summary>
    public double ShortMovement { get; init; } = 120;

    // ---- What plainly sounds, whatever the search says ----

    /// <summary>
    /// By the strictest rule of keys: share of a usual phrase that a key must hold, 1 and above a whole one. By the rule's words.
    /// </summary>
    public double PhraseOfKey { get; init; } = 1;

    /// <summary>By the same rule: share of a usual phrase that a key must hold which closes one. By the rule's words.</summary>
    public double PhraseOfClosingKey { get; init; } = 0.5;

    /// <summary>What a missing third takes from the fit of a sounding chord, as a share of the time.</summary>
    public double MissingThird { get; init; } = 0.3;

    /// <summary>What a missing fifth takes from it: handbooks leave it out freely.</summary>
    public double MissingFifth { get; init; } = 0.06;

    /// <summary>What any other missing member takes from it.</summary>
    public double MissingOther { get; init; } = 0.25;

    /// <summary>What a member takes from it that the score spells otherwise.</summary>
    public double Misspelled { get; init; } = 0.05;

    /// <summary>What a root in the bass adds to it: handbooks take the root position where nothing speaks against it.</summary>
    public double RootInBass { get; init; } = 0.03;

    /// <summary>What a third in the bass adds to it.</summary>
    public double ThirdInBass { get; init; } = 0.015;

    /// <summary>What a bass takes from it that is no member of the chord.</summary>
    public double ForeignBass { get; init; } = 0.05;

    /// <summary>What a diminished triad or a dominant seventh takes from it: a rarer quality than a major or minor triad's.</summary>
    public double RarityOfDominant { get; init; } = 0.03;

    /// <summary>What any other seventh chord of the major or minor scale takes from it.</summary>
    public double RarityOfSeventh { get; init; } = 0.05;

    /// <summary>What an augmented triad or an augmented sixth takes from it.</summary>
    public double RarityOfAugmented { get; init; } = 0.06;

    /// <summary>What every other quality takes from it.</summary>
    public double RarityOfOther { get; init; } = 0.1;

    /// <summary>A tone that sounds for less than this share of the span's notes is no member that anybody hears, 0..1.</summary>
    public double LeastMember { get; init; } = 0.05;

    /// <summary>How much of a span another chord has to explain to be believed instead of the numeral, 0..1.</summary>
    public double PlainFit { get; init; } = 0.97;

    /// <summary>How long each of its tones has to sound beside the longest one, 0..1.</summary>
    public double LeastTimeOfMember { get; init; } = 0.5;

    /// <summary>How long each of its tones has to sound where it only adds a seventh from outside the key, 0..1.</summary>
    public double LeastTimeOfColour { get; init; } = 0.8;

    /// <summary>How much of the span the numeral may explain at most, 0..1.</summary>
    public double MostlyElsewhere { get; init; } = 0.6;

    /// <summary>
    /// How long the semitone beside a member has to sound to stand in its place, as a share of the longest member's time, 0..1.
    /// </summary>
    public double VariantTime { get; init; } = 0.3;

    /// <summary>
    /// How long a raised or lowered fifth has to sound to stand in a dominant's place, as a share of the member that sounds least, 0..1.
    /// </summary>
    public double AlteredFifthOfMember { get; init; } = 0.5;

    /// <summary>The same beside the dominant's own fifth: so many times as long.</summary>
    public double AlteredFifthOfFifth { get; init; } = 2;

    /// <summary>
    /// How far from the tonic roots are written, in fifths: up to the raised root of a diminished seventh of the sixth degree.
    /// </summary>
    public int FarthestRoot { get; init; } = 7;

    // ---- Stated confidence ----

    /// <summary>The highest and, taken from one, the lowest probability that is stated, 0..1.</summary>
    public double Surest { get; init; } = 0.999;

    /// <summary>The constant of the curve that states a confidence, in nats; like the next three fitted by <c>ScoreLens.Training
    /// calibrate</c>.</summary>
    public double ConfidenceConstant { get; init; } = -0.09;

    /// <summary>Weight of the log odds of the model's own probability in it.</summary>
    public double ConfidenceOfModel { get; init; } = 0.46;

    /// <summary>Weight of the natural logarithm of the number of verticals that a chord spans.</summary>
    public double ConfidenceByVerticals { get; init; } = -0.09;

    /// <summary>Weight of the score's pace: the mean natural logarithm of its chords' quarter notes.</summary>
    public double ConfidenceByPace { get; init; } = -0.39;

    /// <summary>The names of all settings.</summary>
    public static IReadOnlyList<string> Names { get; } =
        [.. typeof(ReadingSettings).GetProperties(BindingFlags.Public | BindingFlags.Instance).Where(p => p.CanWrite).Select(p => p.Name)];

    /// <summary>The same settings with one changed by name: how the training tool varies them.</summary>
    /// <param name="name">The property's name.</param>
    /// <param name="value">Its value in the invariant culture.</param>
    /// <exception cref="FormatException">There is no such setting, or the value is not a number of its kind.</exception>
    public ReadingSettings With(string name, string value)
    {
        var property = typeof(ReadingSettings).GetProperty(name, BindingFlags.Public | BindingFlags.Instance);
        if (property is not { CanWrite: true }) throw new FormatException($"There is no setting '{name}'; there are "
            + $"{string.Join(", ", Names)}.");
        var changed = this with { };
        property.SetValue(changed, Convert.ChangeType(value, property.PropertyType, CultureInfo.InvariantCulture));
        return changed;
    }
}
