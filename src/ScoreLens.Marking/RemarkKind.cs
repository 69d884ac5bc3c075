namespace ScoreLens.Marking;

/// <summary>
/// Everything that the marking can say, by its trade name. Remarks of one kind are counted together in the class's table.
/// </summary>
public enum RemarkKind
{
    /// <summary>A label names another key.</summary>
    WrongKey,

    /// <summary>A label names another degree.</summary>
    WrongDegree,

    /// <summary>A label names another quality, the seventh included.</summary>
    WrongQuality,

    /// <summary>A label names another inversion.</summary>
    WrongInversion,

    /// <summary>A chord has no label.</summary>
    LabelMissing,

    /// <summary>A label stands where no new chord sounds.</summary>
    LabelExtra,

    /// <summary>A label is written and cannot be read.</summary>
    LabelUnreadable,

    /// <summary>An equivalent label, which is right.</summary>
    AcceptedEquivalent,

    /// <summary>A pivot chord, labelled in the other of its two keys.</summary>
    AcceptedPivot,

    /// <summary>A label that another reading, nearly as probable, gives.</summary>
    AcceptedRunnerUp,

    /// <summary>A label that fits every note, though another was expected.</summary>
    AcceptedFitting,

    /// <summary>Parallel fifths.</summary>
    ParallelFifths,

    /// <summary>Parallel octaves.</summary>
    ParallelOctaves,

    /// <summary>Parallel unisons.</summary>
    ParallelUnisons,

    /// <summary>Fifth and twelfth by contrary motion.</summary>
    FifthsByContraryMotion,

    /// <summary>Unison, octave or double octave by contrary motion.</summary>
    OctavesByContraryMotion,

    /// <summary>Parallel fifths with only a non-chord note between.</summary>
    FifthsAroundNonChordNote,

    /// <summary>Parallel octaves with only a non-chord note between.</summary>
    OctavesAroundNonChordNote,

    /// <summary>Direct fifths of the outer voices.</summary>
    DirectFifths,

    /// <summary>Direct octaves of the outer voices.</summary>
    DirectOctaves,

    /// <summary>A diminished fifth that goes to a perfect one.</summary>
    DiminishedToPerfectFifth,

    /// <summary>Voices that cross.</summary>
    VoiceCrossing,

    /// <summary>Voices that overlap.</summary>
    VoiceOverlap,

    /// <summary>Voices too far apart.</summary>
    Spacing,

    /// <summary>A note outside the voice's range.</summary>
    Range,

    /// <summary>The leading tone in two voices.</summary>
    DoubledLeadingTone,

    /// <summary>A leading tone that does not rise.</summary>
    LeadingToneUnresolved,

    /// <summary>A seventh that does not fall.</summary>
    SeventhUnresolved,

    /// <summary>The seventh in two voices.</summary>
    DoubledSeventh,

    /// <summary>An augmented sixth that does not open to the octave.</summary>
    AugmentedSixthNotOutward,

    /// <summary>The flat second of a Neapolitan that does not fall.</summary>
    NeapolitanSecondNotFalling,

    /// <summary>An augmented second in one voice.</summary>
    MelodicAugmentedSecond,

    /// <summary>A tritone in one voice.</summary>
    MelodicTritone,

    /// <summary>A large leap that does not turn back.</summary>
    UnresolvedLeap,

    /// <summary>A chord without its third.</summary>
    MissingThird,

    /// <summary>A six-four chord that is none of the usual ones.</summary>
    SixFourOutOfPlace,

    /// <summary>A doubling that handbooks advise against.</summary>
    Doubling,

    /// <summary>A given note that was changed.</summary>
    GivenNoteChanged,

    /// <summary>A given note that is missing.</summary>
    GivenNoteMissing,

    /// <summary>A given note of another length.</summary>
    GivenNoteLength,

    /// <summary>A figure that the chord does not realise.</summary>
    FigureNotRealised,

    /// <summary>A required device that is not there.</summary>
    DeviceMissing,

    /// <summary>A required device that does not go on as expected.</summary>
    DeviceUnresolved,

    /// <summary>A device that the assignment forbids.</summary>
    DeviceForbidden,

    /// <summary>More time outside the key than asked for.</summary>
    TooColourful,

    /// <summary>Less time outside the key than asked for.</summary>
    TooPlain,

    /// <summary>A figure of the given bass that cannot be read.</summary>
    FigureUnreadable,

    /// <summary>No key is written anywhere.</summary>
    KeyMissing,

    /// <summary>A remark of the teacher's own.</summary>
    TeacherRemark,

    /// <summary>Species counterpoint: another number of notes than the species has.</summary>
    CounterpointRhythm,

    /// <summary>A dissonance that the species does not allow.</summary>
    CounterpointDissonance,

    /// <summary>A counterpoint that does not begin with a perfect consonance.</summary>
    CounterpointOpening,

    /// <summary>A close that is not reached by step from both sides.</summary>
    CounterpointCadence,

    /// <summary>A unison inside a counterpoint.</summary>
    CounterpointUnison,

    /// <summary>A perfect consonance reached in the same direction.</summary>
    CounterpointDirectMotion,

    /// <summary>Fifths or octaves from one strong beat to the next.</summary>
    CounterpointStrongBeats,

    /// <summary>A melodic interval that a counterpoint does not have.</summary>
    CounterpointLeap,

    /// <summary>A note of a counterpoint that is repeated at once.</summary>
    CounterpointRepetition,

    /// <summary>A highest note that comes more than once.</summary>
    CounterpointClimax,

    /// <summary>More than three thirds or sixths in a row.</summary>
    CounterpointRun,
}

/// <summary>Names, criteria and order of the kinds of remarks.</summary>
public static class RemarkKinds
{
    private static readonly (RemarkKind Kind, string Name)[] Named =
        [.. Enum.GetValues<RemarkKind>().Select(k => (k, Hyphened(k.ToString())))];

    /// <summary>Every kind, in the order in which tables and feedback name them.</summary>
    public static IReadOnlyList<RemarkKind> All { get; } = Enum.GetValues<RemarkKind>();

    /// <summary>The name in tables and assignment files: <c>parallel-fifths</c>.</summary>
    public static string Name(this RemarkKind kind) => Named[(int)kind].Name;

    /// <summary>Reads a name.</summary>
    public static bool TryParse(string name, out RemarkKind kind)
    {
        var place = Array.FindIndex(Named, n => n.Name == name);
        kind = place < 0 ? default : Named[place].Kind;
        return place >= 0;
    }

    /// <summary>The criterion of the assignment that remarks of a kind belong to.</summary>
    public static Criterion Criterion(this RemarkKind kind) => kind switch
    {
        <= RemarkKind.AcceptedFitting or RemarkKind.KeyMissing => Marking.Criterion.Labels,
        <= RemarkKind.Doubling or >= RemarkKind.CounterpointRhythm => Marking.Criterion.PartWriting,
        <= RemarkKind.FigureNotRealised or RemarkKind.FigureUnreadable => Marking.Criterion.GivenParts,
        <= RemarkKind.DeviceForbidden => Marking.Criterion.Devices,
        _ => Marking.Criterion.Balance,
    };

    /// <summary>Whether a remark of the kind says that an answer is right though it was not expected.</summary>
    public static bool IsAcceptance(this RemarkKind kind) => kind is >= RemarkKind.AcceptedEquivalent and <= RemarkKind.AcceptedFitting;

    internal static IReadOnlyList<RemarkKind> Of(Criterion criterion) => [.. All.Where(k => k.Criterion() == criterion)];

    private static string Hyphened(string name) =>
        string.Concat(name.Select((c, i) => char.IsUpper(c) ? (i == 0 ? "" : "-") + char.ToLowerInvariant(c) : c.ToString()));
}
