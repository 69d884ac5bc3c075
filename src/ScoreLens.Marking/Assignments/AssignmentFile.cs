using System.Globalization;
using ScoreLens.Density;
using ScoreLens.Devices;
using ScoreLens.Keys;
using ScoreLens.Marking.Alignment;
using ScoreLens.Marking.Labels;
using ScoreLens.Marking.PartWriting;
using ScoreLens.Theory;
using YamlDotNet.RepresentationModel;

namespace ScoreLens.Marking.Assignments;

/// <summary>Reads assignment files (YAML 1.2); <c>docs/assignment.md</c> describes every key.</summary>
public static class AssignmentFile
{
    private static readonly string[] Keys =
    [
        "title", "tasks", "due", "late-cost", "points", "model", "labels", "part-writing", "given", "devices", "balance", "differences",
            "at-most", "bands", "comments", "overrule", "keys",
    ];

    private static readonly string[] LabelKeys =
    [
        "compare-with", "worth", "tolerance", "runner-up", "answers", "notations", "capitals", "key-may-be-missing", "wrong-degree",
    ];

    private static readonly string[] VoiceNames = ["soprano", "alto", "tenor", "bass"];

    /// <summary>Reads a file; paths in it are reckoned from its folder.</summary>
    /// <exception cref="AssignmentFormatException">The file does not say what it should.</exception>
    /// <exception cref="IOException">The file cannot be opened.</exception>
    public static Assignment Load(string path) => Parse(File.ReadAllText(path), Path.GetDirectoryName(Path.GetFullPath(path))!);

    /// <summary>Reads the text of a file.</summary>
    /// <param name="text">The text.</param>
    /// <param name="folder">The folder from which paths are reckoned.</param>
    /// <exception cref="AssignmentFormatException">The text does not say what it should.</exception>
    public static Assignment Parse(string text, string folder)
    {
        ArgumentNullException.ThrowIfNull(text);
        ArgumentNullException.ThrowIfNull(folder);
        var problems = new List<AssignmentProblem>();
        var top = new YamlTable(YamlText.Root(text), "", problems, Keys);
        var assignment = Read(top, folder, problems);
        return problems.Count == 0 ? assignment : throw new AssignmentFormatException([.. problems.OrderBy(p => p.Line)]);
    }

    private static Assignment Read(YamlTable top, string folder, List<AssignmentProblem> problems)
    {
        var labels = top.Table("labels", LabelKeys);
        var worth = labels.Table("worth", "key", "degree", "quality", "inversion");
        var writing = top.Table("part-writing", "style", "voices", "cost", "free", "strict-direct-motion", "horn-fifths", "across-phrases",
            "rules", "ranges", "species", "cantus-firmus");
        var devices = top.Table("devices", "required", "forbidden");
        var balance = top.Table("balance", "band", "of");
        var points = Points(top, problems);
        var usual = LabelMarking.Default;
        if (top.Text("title") is null) problems.Add(new AssignmentProblem(1,
            "title is missing: write 'title: ' and the name of the exercise."));
        var assignment = new Assignment
        {
            Title = top.Text("title") ?? "",
            Tasks = top.Texts("tasks"),
            Due = Due(top),
            LateCost = top.Number("late-cost", 0),
            Points = points,
            ModelPaths = [.. top.Items("model").Select(m => FilePath(top, "model", m, folder)).OfType<string>()],
            ComparesWith = labels.Choice(
                "compare-with", LabelSource.Auto, ("auto", LabelSource.Auto), ("model", LabelSource.Model), ("notes", LabelSource.Notes)),
            Labels = new LabelMarking
            {
                Key = worth.Number("key", usual.Key),
                Degree = worth.Number("degree", usual.Degree),
                Quality = worth.Number("quality", usual.Quality),
                Inversion = worth.Number("inversion", usual.Inversion),
                Tolerance = labels.Quarters("tolerance", usual.Tolerance),
                RunnerUp = labels.Number("runner-up", usual.RunnerUp, 0, 1),
                HidesAnswers = labels.Choice("answers", false, ("shown", false), ("hidden", true)),
                Notations = Notations(labels),
                CapitalsByScale = labels.Choice("capitals", false, ("strict", false), ("by-scale", true)),
                KeyMayBeMissing = labels.Flag("key-may-be-missing", false),
                NothingWithoutDegree = labels.Choice("wrong-degree", false, ("parts", false), ("nothing", true)),
            },
            PartWriting = PartWriting(writing),
            FaultCost = writing.Number("cost", 1),
            FreeFaults = writing.Whole("free", 0, 0, 1000),
            Given = Given(top, folder),
            Required = [.. devices.Items("required").Select(i => Demand(i, devices, problems)).OfType<DeviceDemand>()],
            Forbidden = Forbidden(devices),
            Band = ReadBand(balance),
            BandOfHomeKey = balance.Choice("of", false, ("local-key", false), ("home-key", true)),
            Keys = top.Choice("keys", KeyRule.Confirm, [.. Enum.GetValues<KeyRule>().Select(r => (r.Name(), r))]),
            Differences = Differences(top.Table("differences", "missing-measure", "added-measure", "repeated-section", "transposed",
                "note-values")),
            Comments = Comments(top, problems),
            Limits = Limits(top),
            Bands = [.. top.Items("bands").Select(i => ReadBand(i, problems)).OrderByDescending(b => b.From)],
            Overrules = [.. top.Items("overrule").Select(i => ReadOverrule(i, problems))],
        };
        RequireWhatCounts(assignment, top, problems);
        return assignment;
    }

    // Points for something that the file does not ask for would be given to everybody.
    private static void RequireWhatCounts(Assignment assignment, YamlTable top, List<AssignmentProblem> problems)
    {
        if (top["points"] is not { } points) return;
        Require(Criterion.GivenParts, assignment.Given is not null, "given: say which score gives which voices");
        Require(Criterion.Devices, assignment.Required.Count + assignment.Forbidden.Count > 0,
            "devices: say which are required or forbidden");
        Require(Criterion.Balance, assignment.Band is not null, "balance: say the band, such as 20-30");
        if (assignment.ComparesWith == LabelSource.Model && assignment.ModelPaths.Count == 0 && top["labels"] is { } labels)
            top.Problem(labels, "labels are compared with the model answer, but there is none: write 'model: ' and the score's path, or "
                + "compare with notes.");
        return;

        void Require(Criterion criterion, bool isAsked, string what)
        {
            if (assignment.PointsFor(criterion) > 0 && !isAsked
                && !problems.Any(p => p.Message.Contains(what[..what.IndexOf(':', StringComparison.Ordinal)], StringComparison.Ordinal)))
                top.Problem(points, $"points are given for {criterion.Name()}, but nothing is asked under {what}.");
        }
    }

    private static Dictionary<Criterion, double> Points(YamlTable top, List<AssignmentProblem> problems)
    {
        var table = top.Table("points", [.. CriterionNames.All.Select(c => c.Name())]);
        var points = CriterionNames.All.Select(c => (Criterion: c, Points: table.Number(c.Name(), 0))).Where(p => p.Points > 0)
            .ToDictionary(p => p.Criterion, p => p.Points);
        if (points.Count == 0 && !problems.Any(p => p.Message.StartsWith("points", StringComparison.Ordinal)))
        {
            problems.Add(new AssignmentProblem(
                top["points"]?.Start.Line ?? 1, $"points is missing: say what the work is marked for, as in 'points: {{labels: 60, "
                    + $"part-writing: 40}}'."));
        }

        return points;
    }

    private static DateTime? Due(YamlTable top)
    {
        if (top.Text("due") is not { } text) return null;
        string[] forms = ["yyyy-MM-dd", "yyyy-MM-dd HH:mm", "yyyy-MM-dd'T'HH:mm", "yyyy-MM-dd HH:mm:ss"];
        if (DateTime.TryParseExact(text, forms, CultureInfo.InvariantCulture, DateTimeStyles.AssumeLocal, out var due))
            return text.Length == 10 ? due.AddDays(1).AddSeconds(-1) : due;
        top.Problem(top["due"]!, $"due takes a day and, if wanted, a time, such as 2026-11-20 18:00, not '{text}'.");
        return null;
    }

    private static string? FilePath(YamlTable table, string key, string folder) =>
        table.Text(key) is null ? null : FilePath(table, key, table[key]!, folder);

    private static string? FilePath(YamlTable table, string key, YamlNode at, string folder)
    {
        if (at is not YamlScalarNode { Value: { Length: > 0 } text })
        {
            table.Problem(at, $"{key} takes the path of a score, or a list of paths.");
            return null;
        }

        var path = Path.GetFullPath(text.Trim(), Path.GetFullPath(folder));
        if (File.Exists(path)) return path;
        table.Problem(at, $"{key}: there is no file {text}; paths are relative to the folder of the assignment.");
        return null;
    }

    private static PartWritingOptions PartWriting(YamlTable table)
    {
        var style = table.Choice("style", PartWritingStyle.Chorale, ("chorale", PartWritingStyle.Chorale),
            ("keyboard", PartWritingStyle.Keyboard), ("counterpoint", PartWritingStyle.Counterpoint));
        var isCounterpoint = style == PartWritingStyle.Counterpoint;
        foreach (var key in (string[])["species", "cantus-firmus"])
            if (!isCounterpoint && table[key] is { } node) table.Problem(node, $"{key} belongs to 'style: counterpoint'.");
        var options = PartWritingOptions.Default with
        {
            Style = style,
            Species = table.Whole("species", 1, 1, 4),
            IsCantusUpper = table.Choice("cantus-firmus", false, ("lower", false), ("upper", true)),
            VoiceCount = isCounterpoint ? table.Whole("voices", 2, 2, 2) : table.Whole("voices", 4, 2, 8),
            StrictDirectMotion = table.Flag("strict-direct-motion", false),
            HornFifths = table.Flag("horn-fifths", true),
            AcrossPhrases = table.Flag("across-phrases", false),
            Ranges = Ranges(table.Table("ranges", VoiceNames)),
        };
        var rules = table.Table("rules", [.. options.Rules.Select(r => r.Name)]);
        foreach (var name in rules.Keys)
        {
            if (options.Rules.FirstOrDefault(r => r.Name == name) is not { } rule || rules.Text(name) is not { } text) continue;
            if (YamlTable.TryFlag(text, out var isOn)) options = options.With(name, isOn ? rule.Weight : 0);
            else options = options.With(name, rules.Number(name, rule.Weight, 0, 100));
        }

        return options;
    }

    private static VoiceRange[] Ranges(YamlTable table)
    {
        if (!table.Exists) return [];
        var ranges = PartWritingOptions.UsualRanges.ToArray();
        for (var i = 0; i < VoiceNames.Length; i++)
        {
            if (table.Text(VoiceNames[i]) is not { } text) continue;
            var ends = text.Split(['-', '–']);
            if (ends.Length == 2 && TryPitch(ends[0], out var low) && TryPitch(ends[1], out var high) && low <= high) ranges[i] =
                new VoiceRange(low, high);
            else table.Problem(table[VoiceNames[i]]!,
                $"{VoiceNames[i]} takes a range such as C4-A5 (C4 is middle C), the lower note first, not '{text}'.");
        }

        return ranges;
    }

    private static bool TryPitch(string text, out Pitch pitch)
    {
        pitch = default;
        var name = text.Trim();
        if (name.Length < 2 || !char.IsAsciiDigit(name[^1]) || !Tone.TryParse(name[..^1], null, out var tone)) return false;
        pitch = new Pitch(tone, name[^1] - '0');
        return true;
    }

    private static GivenParts? Given(YamlTable top, string folder)
    {
        if (top["given"] is null) return null;
        var table = top.Table("given", "score", "voices", "figures");
        if (!table.Exists) return null;
        if (table.Text("score") is null) top.Problem(top["given"]!, "given: score is missing, the file that holds the given voices.");
        var voices = table.Texts("voices");
        foreach (var voice in table.Items("voices").OfType<YamlScalarNode>().Where(v => !VoiceNames.Contains(v.Value)))
            table.Problem(voice, $"there is no voice '{voice.Value}'{YamlTable.Suggestion(voice.Value ?? "", VoiceNames)}");
        return FilePath(table, "score", folder) is { } path ? new GivenParts(path, voices, table.Flag("figures", false)) : null;
    }

    private static DeviceDemand? Demand(YamlNode item, YamlTable devices, List<AssignmentProblem> problems)
    {
        if (item is YamlScalarNode { Value: { } name })
            return TryDevice(name, item, devices) is { } only ? new DeviceDemand(only, null, 1, false) : null;
        var table = new YamlTable(item, "a required device", problems, ["device", "numeral", "count", "resolved"]);
        var (device, numeral) = (table.Text("device"), table.Text("numeral"));
        var (count, resolved) = (table.Whole("count", 1, 1, 99), table.Flag("resolved", false));
        if (!table.Exists || (device is null) == (numeral is null))
        {
            devices.Problem(item, "a required device says either 'device: ' with its name or 'numeral: ' with a Roman numeral.");
            return null;
        }

        if (device is not null) return TryDevice(device, table["device"]!, devices) is { } found
            ? new DeviceDemand(found, null, count, resolved) : null;
        if (Numeral.TryParse(numeral, null, out var asked)) return new DeviceDemand(null, asked, count, resolved);
        devices.Problem(table["numeral"]!, $"'{numeral}' is not a Roman numeral such as V65/V or N6.");
        return null;
    }

    private static List<Device> Forbidden(YamlTable devices)
    {
        var forbidden = new List<Device>();
        foreach (var item in devices.Items("forbidden"))
        {
            if (item is YamlScalarNode { Value: { } name } && TryDevice(name, item, devices) is { } device) forbidden.Add(device);
            else if (item is not YamlScalarNode) devices.Problem(item, "forbidden takes a list of devices.");
        }

        return forbidden;
    }

    private static Device? TryDevice(string name, YamlNode at, YamlTable table)
    {
        if (DeviceNames.TryParse(name.Trim().Replace(' ', '-'), out var device)) return device;
        var names = DeviceNames.All.Select(d => d.Name()).ToList();
        table.Problem(at, $"there is no device '{name}'{YamlTable.Suggestion(name, names)}");
        return null;
    }

    private static LabelNotations Notations(YamlTable labels)
    {
        string[] names = ["numerals", "chord-symbols", "functions"];
        var notations = LabelNotations.None;
        foreach (var item in labels.Items("notations"))
        {
            var place = item is YamlScalarNode { Value: { } name } ? Array.IndexOf(names, name.Trim()) : -1;
            if (place >= 0) notations |= (LabelNotations)(1 << place);
            else labels.Problem(item, $"notations takes a list of "
                + $"{string.Join(", ", names)}{YamlTable.Suggestion(item.ToString(), names)}");
        }

        return notations == LabelNotations.None ? LabelMarking.Default.Notations : notations;
    }

    private static DifferenceCosts Differences(YamlTable table) => new(
        table["missing-measure"] is null ? null : table.Number("missing-measure", 0),
        table.Number("added-measure", 0),
        table.Number("repeated-section", 0),
        table.Number("transposed", 0),
        table.Number("note-values", 0));

    private static CostLimits Limits(YamlTable top)
    {
        string[] criteria = [.. CriterionNames.All.Select(c => c.Name())], kinds = [.. RemarkKinds.All.Select(k => k.Name())];
        var table = top.Table("at-most", [.. criteria, .. kinds, "measure"]);
        if (!table.Exists) return CostLimits.None;
        return new CostLimits(
            RemarkKinds.All.Where(k => table[k.Name()] is not null).ToDictionary(k => k, k => table.Number(k.Name(), 0)),
            CriterionNames.All.Where(c => table[c.Name()] is not null).ToDictionary(c => c, c => table.Number(c.Name(), 0)),
            table["measure"] is null ? null : table.Number("measure", 0));
    }

    private static Dictionary<string, string> Comments(YamlTable top, List<AssignmentProblem> problems)
    {
        if (top["comments"] is not YamlMappingNode mapping)
        {
            if (top["comments"] is { } other) top.Problem(other,
                "comments takes a table: a short name, and the comment that it stands for.");
            return [];
        }

        var table = new YamlTable(mapping, "comments", problems,
            [.. mapping.Children.Keys.OfType<YamlScalarNode>().Select(k => k.Value ?? "")]);
        return table.Keys.ToDictionary(k => k, k => table.Text(k) ?? "", StringComparer.Ordinal);
    }

    private static RubricBand ReadBand(YamlNode item, List<AssignmentProblem> problems)
    {
        var table = new YamlTable(item, "a band", problems, ["from", "name", "say"]);
        if (!table.Exists || table["from"] is null || table.Text("name") is null)
            table.Problem(item, "a band says 'from: ', the share of the points in per cent, and 'name: '.");
        return new RubricBand(table.Number("from", 0, 0, 100), table.Text("name") ?? "", table.Text("say") ?? "");
    }

    private static Band? ReadBand(YamlTable balance)
    {
        if (balance.Text("band") is not { } text) return null;
        if (Band.TryParse(text, CultureInfo.InvariantCulture, out var band)) return band;
        balance.Problem(balance["band"]!, $"band takes two numbers in per cent, the lower one first, such as 20-30, not '{text}'.");
        return null;
    }

    private static RemarkKind? KindOf(YamlTable table)
    {
        if (table.Text("kind") is not { } name) return null;
        if (RemarkKinds.TryParse(name, out var kind)) return kind;
        table.Problem(table["kind"]!, $"there is no kind of remark "
            + $"'{name}'{YamlTable.Suggestion(name, [.. RemarkKinds.All.Select(k => k.Name())])}");
        return null;
    }

    private static Overrule ReadOverrule(YamlNode item, List<AssignmentProblem> problems)
    {
        var table = new YamlTable(item, "overrule", problems, ["submission", "kind", "at", "points", "say"]);
        string? measure = null;
        Fraction? beat = null;
        if (table.Text("at") is { } at)
        {
            var colon = at.LastIndexOf(':');
            measure = colon < 0 ? at : at[..colon];
            if (colon >= 0 && Fraction.TryParse(at[(colon + 1)..], CultureInfo.InvariantCulture, out var number)) beat = number;
            else if (colon >= 0) table.Problem(table["at"]!, $"at takes a measure and, if wanted, a beat, such as 3 or '3:2', not '{at}'.");
        }

        if (table.Exists && table.Text("points") is null) table.Problem(item,
            "overrule: points is missing, what the remark shall cost instead (0 for nothing).");
        return new Overrule(table.Text("submission"), KindOf(table), measure, beat, table.Number("points", 0), table.Text("say")
            ?? "")
        { Line = item.Start.Line };
    }
}
