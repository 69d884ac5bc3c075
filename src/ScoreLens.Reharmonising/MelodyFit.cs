using ScoreLens.Devices;
using ScoreLens.Theory;

namespace ScoreLens.Reharmonising;

/// <summary>How a chord carries the melody over it.</summary>
/// <param name="Share">Share of the melody's time that it carries, 0..1; a tension or a decorating note counts in part; 1 where the melody
/// rests.</param>
/// <param name="Held">Tones of the melody that belong to it, each with what it is in the chord, in order; none where the melody
/// rests.</param>
/// <param name="Others">Tones that decorate, each with how.</param>
internal sealed record MelodyFit(double Share, IReadOnlyList<(Tone Tone, string Role)> Held, IReadOnlyList<(Tone Tone, string Does)> Others)
{
    private const double Respelled = 0.8, Tension = 0.7, Decoration = 0.6;

    private static readonly string[] Members = ["root", "third", "fifth", "seventh"];

    /// <summary>
    /// Judges a chord under melody notes; null where one of them is neither a member of the chord nor a tension that a chord of its
    /// kind takes nor a decorating note, or where the chord holds none of them.
    /// </summary>
    /// <remarks>
    /// Ninths over chords with a seventh are taken (common practice), thirteenths are not, since they make another chord of most settings;
    /// decorating are notes that come and go by step and are no longer than a beat, and those on the chord's first beat that fall or rise
    /// by step into a member of it.
    /// </remarks>
    public static MelodyFit? Of(IReadOnlyList<MelodyNote> notes, Fraction start, Fraction end, IReadOnlyList<Tone> tones,
        ChordQuality quality, Device? device)
    {
        if (notes.Count == 0) return new MelodyFit(1, [], []);
        double carried = 0, all = 0;
        var held = new List<(Tone Tone, string Role)>();
        var others = new List<(Tone, string)>();
        foreach (var note in notes)
        {
            var tone = note.Note.Pitch.Tone;
            var time = (Fraction.Min(end, note.Note.End) - Fraction.Max(start, note.Note.Onset)).ToDouble();
            all += time;
            if (Member(tones, tone) is >= 0 and var member)
            {
                carried += time * (tones[member] == tone ? 1 : Respelled);
                held.Add((tone, Role(member, quality)));
            }
            else if (TensionOf(tones, quality, tone, device) is { } tension)
            {
                carried += time * Tension;
                held.Add((tone, tension));
            }
            else if (Decorates(note, notes, tones, start, end) is { } decoration)
            {
                carried += time * Decoration;
                others.Add((tone, decoration));
            }
            else
            {
                return null;
            }
        }

        if (held.Count == 0) return null;
        return new MelodyFit(carried / all, [.. held.Distinct()], [.. others.Distinct()]);
    }

    /// <summary>The first tone of the melody that a chord does not carry; null where it carries every one.</summary>
    public static Tone? Against(IReadOnlyList<MelodyNote> notes, Fraction start, Fraction end, IReadOnlyList<Tone> tones,
        ChordQuality quality, Device? device) => notes.Where(n => Member(tones, n.Note.Pitch.Tone) < 0
            && TensionOf(tones, quality, n.Note.Pitch.Tone, device) is null && Decorates(n, notes, tones, start, end) is null)
        .Select(n => (Tone?)n.Note.Pitch.Tone).FirstOrDefault();

    private static int Member(IReadOnlyList<Tone> tones, Tone tone)
    {
        for (var i = 0; i < tones.Count; i++)
            if (tones[i].IsEnharmonicWith(tone)) return i;
        return -1;
    }

    private static string Role(int member, ChordQuality quality) => quality switch
    {
        ChordQuality.ItalianSixth => ((string[])["flat sixth degree", "third", "augmented sixth"])[member],
        ChordQuality.FrenchSixth => ((string[])["flat sixth degree", "third", "augmented fourth", "augmented sixth"])[member],
        ChordQuality.GermanSixth => ((string[])["flat sixth degree", "third", "fifth", "augmented sixth"])[member],
        _ => Members[member],
    };

    private static string? TensionOf(IReadOnlyList<Tone> tones, ChordQuality quality, Tone tone, Device? device)
    {
        var isDominant = quality is ChordQuality.DominantSeventh or ChordQuality.AugmentedSeventh;
        var takesNinth = isDominant || quality is ChordQuality.MajorSeventh or ChordQuality.MinorSeventh;
        return (tone - tones[0]) switch
        {
            // Over a substitute it is the fifth of the dominant that the substitute avoids.
            -5 when isDominant && device != Device.TritoneSubstitute => "flat ninth",
            2 when takesNinth => "ninth",
            _ => null,
        };
    }

    private static string? Decorates(MelodyNote note, IReadOnlyList<MelodyNote> all, IReadOnlyList<Tone> tones, Fraction start,
        Fraction end)
    {
        var (from, to) = (Fraction.Max(start, note.Note.Onset), Fraction.Min(end, note.Note.End));
        if ((to - from) * 2 > end - start || !note.GoesByStep) return null;
        if (from > start && note.ComesByStep && to - from <= 1) return note.IsTurned ? "is a neighbour note" : "passes";
        var next = all.SkipWhile(n => n != note).Skip(1).FirstOrDefault();
        return from == start && next is not null && Member(tones, next.Note.Pitch.Tone) >= 0 ? "leans on the note after it" : null;
    }
}
