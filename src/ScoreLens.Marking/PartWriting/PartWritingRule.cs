using ScoreLens.Marking.Facts;
using ScoreLens.Theory;

namespace ScoreLens.Marking.PartWriting;

/// <summary>
/// A part-writing rule: what it is called, what it says, where it comes from and how much it counts. Rules are a closed set; an assignment
/// turns them on and off by name and weighs them. Immutable, and safe to share between threads.
/// </summary>
public abstract class PartWritingRule
{
    private protected PartWritingRule()
    {
    }

    /// <summary>The kind of the rule's remarks.</summary>
    public abstract RemarkKind Kind { get; }

    /// <summary>The trade's name in lower case with hyphens: <c>parallel-fifths</c>.</summary>
    public string Name => Kind.Name();

    /// <summary>The rule as a teacher would say it.</summary>
    public abstract string Sentence { get; }

    /// <summary>What is allowed nevertheless; empty where nothing is.</summary>
    public virtual string Exceptions => "";

    /// <summary>Where the rule is taken from.</summary>
    public abstract string Source { get; }

    /// <summary>How much a fault counts by default: 1 for a fault that no teacher lets pass, less for lesser ones.</summary>
    public virtual double Weight => 1;

    /// <summary>Whether the rule is on unless options say otherwise.</summary>
    public virtual bool IsOnByDefault => true;

    /// <summary>The faults against the rule, by onset.</summary>
    internal abstract IEnumerable<Fault> Find(VoicedProgression progression);

    /// <summary>A fault at a place; the voices are those of its notes.</summary>
    internal static Fault At(Fraction onset, RemarkFacts facts, params IEnumerable<LineNote> notes) => new(onset, facts, [.. notes]);
}

/// <summary>A fault that a rule finds.</summary>
/// <param name="Onset">Where it becomes audible.</param>
/// <param name="Facts">What is wrong.</param>
/// <param name="Notes">The notes that make it.</param>
internal sealed record Fault(Fraction Onset, RemarkFacts Facts, IReadOnlyList<LineNote> Notes);
