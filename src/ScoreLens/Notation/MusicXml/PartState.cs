using System.Globalization;
using System.Xml.Linq;
using ScoreLens.Theory;
using static ScoreLens.Notation.MusicXml.MusicXmlNumbers;

namespace ScoreLens.Notation.MusicXml;

/// <summary>A key signature as a staff writes it.</summary>
internal readonly record struct WrittenKey(int Fifths, Mode? Mode);

/// <summary>What the attributes of a part say up to a place: transposition, key signature, clef, staves.</summary>
internal sealed class PartState(bool isConcertScore = false)
{
    /// <summary>Most staves that a part may have.</summary>
    public const int MaxStaves = 100;

    private readonly Dictionary<int, Transposition> _transpositions = [];
    private readonly Dictionary<int, WrittenKey> _keys = [];
    private readonly HashSet<int> _percussionStaves = [];

    public int Staves { get; set; } = 1;

    /// <summary>
    /// The signature in force in the score, at concert pitch: a transposed part is spelled on its side of the circle of fifths.
    /// </summary>
    public int? ScoreSignature { get; set; }

    /// <summary>From what a staff writes to concert pitch.</summary>
    public Transposition TranspositionOf(int staff)
    {
        var transposition = WrittenTranspositionOf(staff);
        if (transposition.Fifths == 0 || KeyOf(staff) is not { } key) return transposition;
        var concert = key.Fifths + transposition.Fifths;
        // A clarinet in B flat that writes D flat major plays C flat, where the others write B: twelve fifths, one sound.
        if (ScoreSignature is not { } score) return transposition;
        return (score - concert) switch
        {
            >= 11 and <= 13 => transposition with { Respelling = 12 },
            <= -11 and >= -13 => transposition with { Respelling = -12 },
            _ => transposition,
        };
    }

    /// <summary>The transposition as it is written, whatever the other parts' spelling.</summary>
    public Transposition WrittenTranspositionOf(int staff) =>
        _transpositions.TryGetValue(staff, out var own) ? own : _transpositions.GetValueOrDefault(0);

    /// <summary>The key signature that a staff writes, if it has one.</summary>
    public WrittenKey? KeyOf(int staff) =>
        _keys.TryGetValue(staff, out var own) ? own : _keys.TryGetValue(0, out var all) ? all : null;

    /// <summary>Whether the staff has a percussion clef, so that places on it are instruments.</summary>
    public bool IsPercussion(int staff) => _percussionStaves.Contains(staff);

    /// <summary>Takes an <c>attributes</c> element into account.</summary>
    public void Update(XElement attributes)
    {
        foreach (var element in attributes.Elements())
        {
            switch (element.Name.LocalName)
            {
                case "staves": Staves = Math.Max(Staves, Integer(element, 0, MaxStaves)); break;
                case "key": ReadKey(element); break;
                case "transpose": ReadTranspose(element); break;
                case "clef":
                    var staff = Math.Max(1, StaffNumber(element));
                    if (Text(element, "sign") == "percussion") _percussionStaves.Add(staff);
                    else _percussionStaves.Remove(staff);
                    break;
            }
        }
    }

    private void ReadKey(XElement element)
    {
        int fifths;
        if (Child(element, "fifths") is { } f && !string.IsNullOrWhiteSpace(f.Value)) fifths = Math.Clamp(Integer(f, -100, 100), -14, 14);
        else if (Child(element, "key-step") is not null) fifths = KeySignatures.Nearest(element);
        else return;
        var staff = StaffNumber(element);
        if (staff == 0) _keys.Clear();
        _keys[staff] = new WrittenKey(fifths, KeySignatures.ModeOf(Text(element, "mode")));
    }

    private void ReadTranspose(XElement element)
    {
        var chromatic = Integer(element, "chromatic", -100, 100, 0);
        var diatonic = Integer(element, "diatonic", -100, 100, int.MinValue);
        var octaves = Integer(element, "octave-change", -10, 10, 0);
        // A concert score writes what sounds, but for octaves (MusicXML 4.0, concert-score).
        if (isConcertScore) (chromatic, diatonic) = (0, 0);
        // Without letters, or with letters that no instrument's interval has (C to C with two flats), the nearest spelling is meant.
        var interval = diatonic == int.MinValue || Math.Abs(new Transposition(diatonic, chromatic).Fifths) > 12
            ? Transposition.Nearest(chromatic)
            : new Transposition(diatonic, chromatic);
        var doubled = Child(element, "double") is { } d ? d.Attribute("above")?.Value == "yes" ? 1 : -1 : 0;
        var staff = StaffNumber(element);
        if (staff == 0) _transpositions.Clear();
        _transpositions[staff] = new Transposition(interval.Diatonic + (7 * octaves), interval.Chromatic
            + (12 * octaves))
        { DoubledOctave = doubled };
    }

    // The staff that an attribute is for; 0 for all.
    private static int StaffNumber(XElement element) =>
        int.TryParse(element.Attribute("number")?.Value, NumberStyles.Integer, CultureInfo.InvariantCulture, out var n)
            && n is > 0 and <= MaxStaves ? n : 0;
}
