using System.Xml.Linq;
using ScoreLens.Theory;
using static ScoreLens.Notation.MusicXml.MusicXmlNumbers;

namespace ScoreLens.Notation.MusicXml;

/// <summary>Key signatures: non-traditional ones, modes, and the one that stands for the whole score.</summary>
internal static class KeySignatures
{
    /// <summary>
    /// The mode, where it is major or minor under another name too. A church mode has another tonic than the signature's
    /// major or minor key, so that nothing is said of it.
    /// </summary>
    public static Mode? ModeOf(string? mode) => mode?.ToLowerInvariant() switch
    {
        "major" or "ionian" => Mode.Major,
        "minor" or "aeolian" => Mode.Minor,
        _ => null,
    };

    /// <summary>
    /// The circle-of-fifths signature that differs in the fewest letters from a non-traditional one; of several the one with
    /// as many sharps less flats as it writes. Microtones count as the semitone that they bend.
    /// </summary>
    public static int Nearest(XElement key)
    {
        var alterations = new Dictionary<char, int>();
        char? step = null;
        foreach (var element in key.Elements())
        {
            if (element.Name.LocalName == "key-step") step = element.Value.Trim() is [>= 'A' and <= 'G' or >= 'a' and <= 'g'] s
                ? char.ToUpperInvariant(s[0]) : null;
            if (element.Name.LocalName == "key-alter" && step is { } letter)
                alterations[letter] = (int)Math.Truncate(Math.Clamp(Number(element).ToDouble(), -3, 3));
        }

        var balance = alterations.Values.Sum();
        return Enumerable.Range(-7, 15)
            .OrderBy(fifths => "FCGDAEB".Index().Count(l => Alteration(l.Index, fifths) != alterations.GetValueOrDefault(l.Item)))
            .ThenBy(fifths => Math.Abs(fifths - balance))
            .First();

        static int Alteration(int place, int fifths) => fifths > place ? 1 : fifths < 0 && 6 - place < -fifths ? -1 : 0;
    }

    /// <summary>
    /// The signature in force in each measure at concert pitch. Every pitched staff has a voice; staves that write what
    /// sounds are asked first, most of them decide, and where they are even a signature with accidentals, since horns and
    /// trumpets are often written without one; then the topmost.
    /// </summary>
    public static (int Fifths, Mode? Mode)[] Of(MusicXmlLayout layout, IReadOnlyList<bool> isUnpitched, bool isConcertScore)
    {
        var changes = new Dictionary<int, List<(int Part, StaffKey[] Keys)>>();
        for (var part = 0; part < layout.PartIds.Count; part++)
        {
            if (isUnpitched[part]) continue;
            var state = new PartState(isConcertScore);
            for (var measure = 0; measure < layout.MeasuresOf(part); measure++)
            {
                var (atStart, later) = (false, false);
                foreach (var (element, offset, _) in layout.Contents(part, measure))
                {
                    if (element.Name.LocalName != "attributes") continue;
                    if (offset.Sign > 0 && atStart)
                    {
                        Add(measure);
                        atStart = false;
                    }

                    state.Update(element);
                    if (offset.Sign == 0) atStart = true;
                    else later = true;
                }

                if (atStart) Add(measure);
                if (later) Add(measure + 1);
            }

            void Add(int measure)
            {
                if (!changes.TryGetValue(measure, out var list)) changes[measure] = list = [];
                list.Add((part, Keys(state)));
            }
        }

        var current = new SortedDictionary<int, StaffKey[]>();
        var signatures = new (int, Mode?)[layout.MeasureCount];
        (int, Mode?) signature = (0, null);
        for (var measure = 0; measure < signatures.Length; measure++)
        {
            if (changes.TryGetValue(measure, out var list))
            {
                foreach (var (part, keys) in list) current[part] = keys;
                signature = Vote(current.Values.SelectMany(k => k)) ?? signature;
            }

            signatures[measure] = signature;
        }

        return signatures;
    }

    private static (int Fifths, Mode? Mode)? Vote(IEnumerable<StaffKey> staves)
    {
        var all = staves.ToArray();
        var concert = Array.FindAll(all, k => !k.IsTransposed);
        var voters = concert.Length > 0 ? concert : all;
        if (voters.Length == 0) return null;
        var most = voters.GroupBy(k => k.Fifths).OrderByDescending(g => g.Count()).ThenBy(g => g.Key == 0 ? 1 : 0).First();
        var mode = most.Select(k => k.Mode).FirstOrDefault(m => m is not null);
        // More than seven accidentals in transposed parts alone are a key that is written with fewer on the other side.
        var fifths = concert.Length > 0 ? most.Key : most.Key > 7 ? most.Key - 12 : most.Key < -7 ? most.Key + 12 : most.Key;
        return (Math.Clamp(fifths, -14, 14), mode);
    }

    private static StaffKey[] Keys(PartState state)
    {
        var keys = new List<StaffKey>();
        for (var staff = 1; staff <= state.Staves; staff++)
        {
            if (state.IsPercussion(staff) || state.KeyOf(staff) is not { } key) continue;
            var fifths = state.WrittenTranspositionOf(staff).Fifths;
            keys.Add(new StaffKey(key.Fifths + fifths, key.Mode, fifths != 0));
        }

        return [.. keys];
    }

    private readonly record struct StaffKey(int Fifths, Mode? Mode, bool IsTransposed);
}
