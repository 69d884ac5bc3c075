using System.Globalization;
using System.Xml.Linq;
using ScoreLens.Notation.MusicXml;
using ScoreLens.Theory;
using static ScoreLens.Notation.MusicXml.MusicXmlNumbers;

namespace ScoreLens.Output.Annotation;

/// <summary>A place between two elements of a measure where something can be put, and how far it then stands from its time.</summary>
/// <param name="After">The element that it comes after; null at the start of the measure.</param>
/// <param name="Offset">Quarter notes from where the document stands there to the wanted time.</param>
/// <param name="Divisions">Divisions of a quarter note in force there.</param>
internal readonly record struct Spot(XElement? After, Fraction Offset, Fraction Divisions);

/// <summary>What a measure of a part holds, by time, for putting labels into it.</summary>
internal sealed class CellGrid
{
    private readonly List<Item> _items = [];

    /// <summary>Lays out the contents of a measure as <see cref="MusicXmlLayout"/> places them.</summary>
    public CellGrid(IReadOnlyList<PlacedElement> contents)
    {
        var cursor = Fraction.Zero;
        foreach (var placed in contents)
        {
            var (element, start, divisions) = placed;
            var name = element.Name.LocalName;
            var isMember = name == "note" && Child(element, "chord") is not null;
            var isGrace = name == "note" && Child(element, "grace") is not null;
            cursor = name switch
            {
                "note" when isMember => cursor,
                "note" => start + placed.Length,
                "forward" => start + Duration(element, divisions),
                "backup" => Fraction.Max(Fraction.Zero, start - Duration(element, divisions)),
                _ => start,
            };
            _items.Add(new Item(element, name, start, cursor, divisions, StaffOf(element), isMember, isGrace));
        }
    }

    /// <summary>The staff that an element names, 1 where it names none.</summary>
    public static int StaffOf(XElement element) =>
        Child(element, "staff") is { } staff && int.TryParse(staff.Value, NumberStyles.Integer, CultureInfo.InvariantCulture,
            out var number) && number > 0
            ? number
            : 1;

    /// <summary>
    /// The note of a staff that starts at a time and can carry a lyric: printed, not a rest, no grace or cue note, the first of a chord.
    /// </summary>
    public XElement? NoteAt(int staff, Fraction time) => _items.FirstOrDefault(i => i.Name == "note" && i.Start == time && i.Staff == staff
        && !i.IsMember && !i.IsGrace && Child(i.Element, "rest") is null && Child(i.Element, "cue") is null
        && i.Element.Attribute("print-object")?.Value != "no").Element;

    /// <summary>
    /// Whether an exact place exists, and the best one: before a note of the staff, of another staff, then before anything.
    /// </summary>
    public Spot? ExactSpot(int staff, Fraction time)
    {
        int best = -1, bestRank = 4;
        for (var i = 0; i < _items.Count; i++)
        {
            if (_items[i].Start != time || !IsBetweenChords(i)) continue;
            var rank = _items[i].Name switch
            {
                "note" => _items[i].Staff == staff ? 0 : 1,
                "forward" => 2,
                "backup" or "barline" => 3,
                _ => 4,
            };
            if (rank < bestRank) (best, bestRank) = (i, rank);
        }

        return best < 0 ? null : Before(best, time);
    }

    /// <summary>
    /// The place right after the note, rest or gap that fills a time, with the chord's other notes; null where nothing does.
    /// </summary>
    public Spot? SpotAfterSounding(int staff, Fraction time)
    {
        if (Sounding(staff, time) is not (>= 0 and var index)) return null;
        var cursor = _items[index].After;
        while (index + 1 < _items.Count && _items[index + 1].IsMember) index++;
        return new Spot(_items[index].Element, time - cursor, _items[index].Divisions);
    }

    /// <summary>The last place before a time: before what fills it, else at the end of the measure.</summary>
    public Spot SpotBefore(int staff, Fraction time)
    {
        if (Sounding(staff, time) is >= 0 and var index) return Before(index, time);
        var last = _items.Count - 1;
        while (last >= 0 && _items[last].Name == "barline") last--;
        return last < 0
            ? new Spot(null, time, _items.Count == 0 ? Fraction.One : _items[0].Divisions)
            : new Spot(_items[last].Element, time - _items[last].After, _items[last].Divisions);
    }

    private Spot Before(int index, Fraction time) =>
        new(index == 0 ? null : _items[index - 1].Element, time - _items[index].Start, _items[index].Divisions);

    private int Sounding(int staff, Fraction time)
    {
        int best = -1, bestRank = 0;
        for (var i = 0; i < _items.Count; i++)
        {
            var item = _items[i];
            if (item.Name is not ("note" or "forward") || item.IsMember || item.Start >= time || item.After <= time) continue;
            var rank = (item.Name == "note" ? 1 : 0) + (item.Staff == staff ? 2 : 0) + 1;
            if (rank > bestRank) (best, bestRank) = (i, rank);
        }

        return best;
    }

    private static Fraction Duration(XElement element, Fraction divisions) =>
        Child(element, "duration") is { } duration ? Number(duration) / divisions : Fraction.Zero;

    // What stands between the notes of one chord is no place: the chord's other notes belong right behind its first.
    private bool IsBetweenChords(int index)
    {
        while (index < _items.Count && _items[index].Name is not ("note" or "forward" or "backup")) index++;
        return index == _items.Count || !_items[index].IsMember;
    }

    private readonly record struct Item(
        XElement Element, string Name, Fraction Start, Fraction After, Fraction Divisions, int Staff, bool IsMember, bool IsGrace);
}
