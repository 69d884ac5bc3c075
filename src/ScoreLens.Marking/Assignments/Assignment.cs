using ScoreLens.Density;
using ScoreLens.Devices;
using ScoreLens.Keys;
using ScoreLens.Marking.Alignment;
using ScoreLens.Marking.Labels;
using ScoreLens.Marking.PartWriting;
using ScoreLens.Marking.Wording;
using ScoreLens.Theory;

namespace ScoreLens.Marking.Assignments;

/// <summary>What a teacher sets and how it is marked; read from a file by <see cref="AssignmentFile"/>.</summary>
public sealed record Assignment
{
    /// <summary>The title on every page of feedback.</summary>
    public required string Title { get; init; }

    /// <summary>What is to be done, a sentence a task; may be empty.</summary>
    public IReadOnlyList<string> Tasks { get; init; } = [];

    /// <summary>Until when work is handed in, in local time; null for no limit.</summary>
    public DateTime? Due { get; init; }

    /// <summary>Points that late work loses; 0 or more.</summary>
    public double LateCost { get; init; }

    /// <summary>Points a criterion; only the criteria that count are listed, each above 0.</summary>
    public required IReadOnlyDictionary<Criterion, double> Points { get; init; }

    /// <summary>
    /// Paths of the model answers' scores; empty where there is none. Of several the one counts that fits a submission best.
    /// </summary>
    public IReadOnlyList<string> ModelPaths { get; init; } = [];

    /// <summary>What labels are compared with.</summary>
    public LabelSource ComparesWith { get; init; }

    /// <summary>How labels are marked.</summary>
    public LabelMarking Labels { get; init; } = LabelMarking.Default;

    /// <summary>Which part-writing rules apply, with weights, voices and ranges.</summary>
    public PartWritingOptions PartWriting { get; init; } = PartWritingOptions.Default;

    /// <summary>Points that a part-writing fault of weight 1 costs; 0 or more.</summary>
    public double FaultCost { get; init; } = 1;

    /// <summary>How many part-writing faults cost nothing.</summary>
    public int FreeFaults { get; init; }

    /// <summary>Which parts are given; null where none is.</summary>
    public GivenParts? Given { get; init; }

    /// <summary>Devices that have to be there.</summary>
    public IReadOnlyList<DeviceDemand> Required { get; init; } = [];

    /// <summary>Devices that must not be there.</summary>
    public IReadOnlyList<Device> Forbidden { get; init; } = [];

    /// <summary>The band for the share of time outside the key; null where there is none.</summary>
    public Band? Band { get; init; }

    /// <summary>Whether the band is reckoned in the home key rather than in the local one.</summary>
    public bool BandOfHomeKey { get; init; }

    /// <summary>When a key counts as new where no model answer says it.</summary>
    public KeyRule Keys { get; init; } = KeyRule.Confirm;

    /// <summary>What differences from the score that was set cost.</summary>
    public DifferenceCosts Differences { get; init; } = DifferenceCosts.Default;

    /// <summary>How much remarks of a kind, of a criterion or of a measure cost at most.</summary>
    public CostLimits Limits { get; init; } = CostLimits.None;

    /// <summary>Comments that are used again and again, by the name that stands for them behind an @ in the table of remarks.</summary>
    public IReadOnlyDictionary<string, string> Comments { get; init; } = new Dictionary<string, string>();

    /// <summary>Bands of a rubric, the highest first; empty where there are none.</summary>
    public IReadOnlyList<RubricBand> Bands { get; init; } = [];

    /// <summary>Where the teacher decides otherwise than the program.</summary>
    public IReadOnlyList<Overrule> Overrules { get; init; } = [];

    /// <summary>
    /// Decisions about a submission that is not there, as problems of the file. Where only some files of the class are marked, a
    /// name that resembles none of them is taken for that of another student.
    /// </summary>
    /// <param name="names">The names of the students who are marked.</param>
    /// <param name="isClass">Whether these are the whole class.</param>
    public IEnumerable<AssignmentProblem> UnknownSubmissions(IReadOnlyCollection<string> names, bool isClass) =>
        from overrule in Overrules
        where overrule.Submission is { } name && !names.Contains(name)
        let nearest = NearestName.Of(overrule.Submission!, names)
        where isClass || nearest is not null
        let end = nearest is null ? "." : $"; did you mean '{nearest}'?"
        select new AssignmentProblem(overrule.Line, $"overrule: there is no submission '{overrule.Submission}'{end}");

    /// <summary>Points of all criteria together.</summary>
    public double OutOf => Points.Values.Sum();

    /// <summary>The band that a total lies in; null where there is none.</summary>
    public RubricBand? BandOf(double total) => Bands.FirstOrDefault(b => OutOf > 0 && 100 * total / OutOf >= b.From - 1e-9);

    /// <summary>The points of a criterion; 0 where it does not count.</summary>
    public double PointsFor(Criterion criterion) => Points.GetValueOrDefault(criterion);
}

/// <summary>What labels are compared with.</summary>
public enum LabelSource
{
    /// <summary>The model answer where the student's notes are those of the model, else the reading of the student's notes.</summary>
    Auto,

    /// <summary>The model answer.</summary>
    Model,

    /// <summary>The reading of the student's own notes.</summary>
    Notes,
}

/// <summary>Parts that are given and have to be kept.</summary>
/// <param name="ScorePath">Path of the score that gives them.</param>
/// <param name="Voices">Which voices are given, <c>soprano</c>, <c>bass</c> and so on; empty for every voice of that score.</param>
/// <param name="Figures">Whether figured bass in that score has to be realised.</param>
public sealed record GivenParts(string ScorePath, IReadOnlyList<string> Voices, bool Figures);

/// <summary>A device that has to be there.</summary>
/// <param name="Device">The device; null where a numeral is asked for.</param>
/// <param name="Numeral">The numeral, in any inversion that it is written in; null where a device is asked for.</param>
/// <param name="Count">How many, at least 1.</param>
/// <param name="MustResolve">Whether only those count that go on as expected.</param>
public sealed record DeviceDemand(Device? Device, Numeral? Numeral, int Count, bool MustResolve)
{
    /// <summary>The demand in words: <c>1 secondary dominant that resolves</c>.</summary>
    public override string ToString() => DeviceWords.Demand(this);
}

/// <summary>A teacher's decision that replaces the program's.</summary>
/// <param name="Submission">Whose work, by its file name without ending; null for everybody's.</param>
/// <param name="Kind">The kind of remark; null for every kind.</param>
/// <param name="Measure">The measure's printed number; null for every place.</param>
/// <param name="Beat">The beat; null for the whole measure.</param>
/// <param name="Points">What the remark costs instead; 0 or more.</param>
/// <param name="Say">What the teacher adds; may be empty.</param>
public sealed record Overrule(string? Submission, RemarkKind? Kind, string? Measure, Fraction? Beat, double Points, string Say)
{
    /// <summary>The line of the assignment file that says it, from 1; 0 where it comes from elsewhere.</summary>
    public long Line { get; init; }

    /// <summary>Whether the decision is about a remark in a submission.</summary>
    public bool Covers(string submission, Remark remark) =>
        (Submission is null || Submission == submission)
        && (Kind is null || Kind == remark.Kind)
        && (Measure is null || Measure == remark.Measure)
        && (Beat is null || Beat == remark.Beat);
}

/// <summary>The names of criteria in assignment files.</summary>
public static class CriterionNames
{
    /// <summary>Every criterion in order.</summary>
    public static IReadOnlyList<Criterion> All { get; } = Enum.GetValues<Criterion>();

    /// <summary>The name in assignment files: <c>part-writing</c>.</summary>
    public static string Name(this Criterion criterion) => criterion switch
    {
        Criterion.Labels => "labels",
        Criterion.PartWriting => "part-writing",
        Criterion.GivenParts => "given-parts",
        Criterion.Devices => "devices",
        Criterion.Balance => "balance",
        _ => throw new ArgumentOutOfRangeException(nameof(criterion), criterion, "Unknown criterion."),
    };
}
