using System.Xml.Linq;
using ScoreLens.Theory;
using static ScoreLens.Notation.MusicXml.MusicXmlNumbers;

namespace ScoreLens.Notation.MusicXml;

/// <summary>
/// Reads a <c>harmony</c> element: a chord symbol on a root, or a Roman numeral as <c>numeral</c> (MusicXML 4.0) or
/// <c>function</c> (before it). A sequence of chords in one element is a polychord, or an applied chord: V of ii.
/// </summary>
internal static class HarmonyReader
{
    /// <summary>What a harmony element says: a chord symbol, a numeral in the plain form, both or neither.</summary>
    /// <remarks>Of a polychord it is the lowest chord; the others are <c>Upper</c>.</remarks>
    public sealed record Content(Tone? Root, string Kind, Tone? Bass, IReadOnlyList<Tone> Tones, bool HasSymbol, string Label)
    {
        public Content? Upper { get; init; }

        /// <summary>The chord symbol that it is, at a place.</summary>
        public ChordSymbol Symbol(Fraction onset, int part) =>
            new(onset, part, Root, Kind, Bass, Tones) { Upper = Upper?.Symbol(onset, part) };
    }

    /// <summary>Reads an element; roots and basses are written pitches, transposed like notes.</summary>
    public static Content Read(XElement harmony, Transposition transposition, Mode mode)
    {
        var chords = Chords(harmony);
        var label = Label([.. chords.Where(c => c.Numeral is not null || c.Function is not null)], mode);
        if (harmony.Attribute("type")?.Value == "alternate") return new(null, "", null, [], false, label);
        var rooted = chords.FindAll(c => c.Root is not null);
        if (rooted.Count == 0)
        {
            var isNone = label.Length == 0 && (chords.Count == 0 || chords[0].Kind == "none");
            return new(null, "none", null, [], isNone, label);
        }

        // Of several roots each stands below the one before (MusicXML 4.0, harmony-arrangement): the last bears the others.
        Content? read = null;
        foreach (var chord in rooted.Where(c => c.Kind != "none")) read = Rooted(chord, transposition, label) with { Upper = read };
        return read ?? new(null, "none", null, [], true, label);
    }

    private static Content Rooted(Chord chord, Transposition transposition, string label)
    {
        var root = transposition.Apply(chord.Root!.Value);
        var tones = ChordKinds.Tones(root, chord.Kind, chord.Degrees);
        Tone? bass = chord.Bass is { } low ? transposition.Apply(low)
            : chord.Inversion > 0 && chord.Inversion < tones.Count ? tones[chord.Inversion] : null;
        return new(root, chord.Kind, bass == root ? null : bass, tones, true, label);
    }

    private static List<Chord> Chords(XElement harmony)
    {
        var chords = new List<Chord>();
        Chord? chord = null;
        foreach (var element in harmony.Elements())
        {
            var name = element.Name.LocalName;
            if (name is "root" or "function" or "numeral" || (name == "kind" && chord is null)) chords.Add(chord = new Chord());
            switch (name)
            {
                case "root": chord!.Root = Tone(element, "root"); break;
                case "function": chord!.Function = element.Value.Trim(); break;
                case "numeral": chord!.Numeral = element; break;
                case "kind": (chord!.Kind, chord.KindText) = (element.Value.Trim(), element.Attribute("text")?.Value.Trim() ?? ""); break;
                case "inversion" when chord is not null: chord.Inversion = Integer(element, 0, 100); break;
                case "bass" when chord is not null: chord.Bass = Tone(element, "bass"); break;
                case "degree" when chord is not null && Child(element, "degree-value") is { } value:
                    chord.Degrees.Add((Integer(value, 0, 1000), Integer(element, "degree-alter", -12, 12, 0), Text(element, "degree-type")
                        ?? "add"));
                    break;
            }
        }

        return chords;
    }

    private static Tone? Tone(XElement element, string prefix)
    {
        if (Text(element, prefix + "-step") is not [>= 'A' and <= 'G' or >= 'a' and <= 'g'] step) return null;
        return Theory.Tone.Of(step[0], Math.Clamp(Integer(element, prefix + "-alter", -12, 12, 0), -2, 2));
    }

    private static string Label(Chord[] chords, Mode mode)
    {
        if (chords.Length == 0) return "";
        // A numeral may name its own key where that is not the signature's.
        var named = chords.Select(c => c.NumeralMode).FirstOrDefault(m => m is not null);
        if (named is not null) mode = named.Contains("minor", StringComparison.Ordinal) ? Mode.Minor : Mode.Major;
        if (Composed(chords, mode) is { } numeral) return numeral.ToString();
        return string.Join('/', chords.Select(Written).Where(t => t.Length > 0));
    }

    private static string Written(Chord chord)
    {
        // A function with figures of its own says everything.
        if (chord.Function is { } function) return function.Any(char.IsAsciiDigit) ? function : function + chord.KindText;
        var root = chord.Numeral is { } numeral ? Child(numeral, "numeral-root") : null;
        return (root?.Attribute("text")?.Value.Trim() ?? root?.Value.Trim() ?? "") + chord.KindText;
    }

    private static Numeral? Composed(Chord[] chords, Mode mode)
    {
        AppliedTarget? target = null;
        foreach (var chord in chords.Skip(1).Reverse())
        {
            if (Quality(chord) is not var (quality, _) || quality.IsAugmentedSixth()) return null;
            var triad = quality.HasMajorThird() ? ChordQuality.Major : ChordQuality.Minor;
            if (Plain(chord, target?.Mode ?? mode, triad, 0) is not { } degree) return null;
            target = new AppliedTarget(degree.Alteration, degree.Degree, quality.HasMajorThird() ? Mode.Major : Mode.Minor, target);
        }

        var first = chords[0];
        if (Quality(first) is not var (own, extension) || first.Inversion >= own.Members().Length) return null;
        if (first.Kind == "Neapolitan") return Numeral.Neapolitan(first.HasInversion ? first.Inversion : 1, target);
        if (own.IsAugmentedSixth()) return Numeral.AugmentedSixth(own, first.Inversion, target);
        return Plain(first, target?.Mode ?? mode, own, first.Inversion) is { } plain
            ? new Numeral(plain.Degree, own, plain.Inversion, plain.Alteration, target, plain.Inversion == 0 ? extension : 0)
            : null;
    }

    private static (ChordQuality, int)? Quality(Chord chord) =>
        chord.Kind == "Neapolitan" ? (ChordQuality.Major, 0) : ChordKinds.Quality(chord.Kind);

    private static Numeral? Plain(Chord chord, Mode mode, ChordQuality quality, int inversion)
    {
        var key = new Key(new Tone(0), mode);
        return Fifths(chord, key, quality) is { } fifths and >= Theory.Tone.MinFifths and <= Theory.Tone.MaxFifths
            ? Numeral.For(key, new Tone(fifths), quality, inversion)
            : null;
    }

    // Fifths from the tonic up to the chord's root.
    private static int? Fifths(Chord chord, Key key, ChordQuality quality)
    {
        if (chord.Function is { } function)
        {
            return Numeral.TryParse(function, null, out var plain) && plain is { Kind: NumeralKind.Plain, Inversion: 0, Target: null }
                ? DegreeFifths.Of(plain.Degree, plain.Alteration, key.Mode, quality)
                : null;
        }

        if (chord.Numeral is not { } numeral || Child(numeral, "numeral-root") is not { } root
            || string.IsNullOrWhiteSpace(root.Value)) return null;
        var degree = Integer(root, 1, 7);
        var alter = Integer(numeral, "numeral-alter", -12, 12, 0);
        // Degrees of a minor key are those of natural minor unless the numeral's own key says otherwise.
        var isRaised = (degree == 7 && chord.NumeralMode is "harmonic minor" or "melodic minor")
            || (degree == 6 && chord.NumeralMode == "melodic minor");
        return key.ScaleFifths[degree - 1] + (7 * (alter + (isRaised ? 1 : 0)));
    }

    private sealed class Chord
    {
        private int _inversion = -1;

        public Tone? Root { get; set; }

        public string? Function { get; set; }

        public XElement? Numeral { get; set; }

        public string? NumeralMode => Numeral is { } n && Child(n, "numeral-key") is { } key ? Text(key, "numeral-mode") ?? "major" : null;

        public string Kind { get; set; } = "none";

        public string KindText { get; set; } = "";

        public bool HasInversion => _inversion >= 0;

        public int Inversion
        {
            get => Math.Max(0, _inversion);
            set => _inversion = value;
        }

        public Tone? Bass { get; set; }

        public List<(int Degree, int Alter, string Type)> Degrees { get; } = [];
    }
}
