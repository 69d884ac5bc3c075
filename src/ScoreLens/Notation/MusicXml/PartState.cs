using System.Globalization;
using System.Xml.Linq;
using ScoreLens.Theory;
using static ScoreLens.Notation.MusicXml.MusicXmlLayout;

namespace ScoreLens.Notation.MusicXml;

/// <summary>Written to concert pitch: fifths on the line of fifths, letters and octaves.</summary>
internal readonly record struct Transposition(int Diatonic, int Chromatic)
{
    public int Fifths => (7 * Chromatic) - (12 * Diatonic);

    public Pitch Apply(Pitch written)
    {
        if (Diatonic == 0 && Chromatic == 0) return written;
        var tone = written.Tone + Fifths;
        var staff = written.Staff + Diatonic;
        return new Pitch(tone, Math.Clamp((int)Math.Floor((staff - tone.Step) / 7.0), -1, 10));
    }
}

/// <summary>What the attributes of a part say up to a place: transposition, key and time signature, staves.</summary>
internal sealed class PartState
{
    private readonly Dictionary<int, Transposition> _transpositions = [];
    private int? _signature;

    public int Staves { get; set; } = 1;

    public TimeSignature? Time { get; private set; }

    public Mode? Mode { get; private set; }

    public int? ConcertSignature => _signature is { } s ? Math.Clamp(s + TranspositionOf(1).Fifths, -14, 14) : null;

    public Transposition TranspositionOf(int staff) =>
        _transpositions.TryGetValue(staff, out var own) ? own : _transpositions.GetValueOrDefault(0);

    public void Update(XElement attributes)
    {
        foreach (var element in attributes.Elements())
        {
            switch (element.Name.LocalName)
            {
                case "staves": Staves = Math.Max(Staves, (int)Number(element).Floor()); break;
                case "key" when Child(element, "fifths") is { } fifths:
                    _signature = (int)Number(fifths).Floor();
                    Mode = Child(element, "mode")?.Value.Trim() switch { "major" => Theory.Mode.Major, "minor" => Theory.Mode.Minor, _ => null };
                    break;
                case "time": Time = ReadTime(element) ?? Time; break;
                case "transpose": ReadTranspose(element); break;
            }
        }
    }

    private void ReadTranspose(XElement element)
    {
        var chromatic = Child(element, "chromatic") is { } c ? (int)Number(c).Floor() : 0;
        // Without a diatonic part the letter distance is what the nearest diatonic interval has.
        var diatonic = Child(element, "diatonic") is { } d ? (int)Number(d).Floor() : (int)Math.Round(chromatic * 7 / 12.0, MidpointRounding.ToZero);
        var octaves = Child(element, "octave-change") is { } o ? (int)Number(o).Floor() : 0;
        var staff = int.TryParse(element.Attribute("number")?.Value, NumberStyles.Integer, CultureInfo.InvariantCulture, out var n) ? n : 0;
        if (staff == 0) _transpositions.Clear();
        _transpositions[staff] = new Transposition(diatonic + (7 * octaves), chromatic + (12 * octaves));
    }

    private static TimeSignature? ReadTime(XElement element)
    {
        if (Child(element, "senza-misura") is not null) return new TimeSignature(4, 4, IsFree: true);
        var beats = element.Elements().Where(e => e.Name.LocalName == "beats").Select(e => e.Value).ToArray();
        var types = element.Elements().Where(e => e.Name.LocalName == "beat-type").Select(e => e.Value).ToArray();
        var length = Fraction.Zero;
        var smallest = 1;
        for (var i = 0; i < Math.Min(beats.Length, types.Length); i++)
        {
            if (!int.TryParse(types[i].Trim(), NumberStyles.Integer, CultureInfo.InvariantCulture, out var type) || type <= 0) return null;
            var sum = 0;
            foreach (var term in beats[i].Split('+'))
            {
                if (!int.TryParse(term.Trim(), NumberStyles.Integer, CultureInfo.InvariantCulture, out var count) || count <= 0) return null;
                sum += count;
            }

            length += new Fraction(4L * sum, type);
            smallest = Math.Max(smallest, type);
        }

        if (length.Sign == 0) return null;
        var total = length * smallest / 4;
        return total.Denominator == 1 ? new TimeSignature((int)total.Numerator, smallest) : null;
    }
}
