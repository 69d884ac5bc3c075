using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Reading.Refinement;

/// <summary>
/// The chord that plainly sounds in a span, named from its spelled notes alone: no key, no neighbours. A check on a
/// reading, and the chord's name where the reading's vocabulary has no word for what sounds.
/// </summary>
/// <param name="Root">The root; for an augmented sixth the raised fourth degree, as <see cref="ChordQualities.Members"/> counts.</param>
/// <param name="Quality">The quality.</param>
/// <param name="Inversion">Chord member in the bass, 0..3; 0 where the bass is no member.</param>
/// <param name="Fit">Share of what sounds, by time, that belongs to the chord; 0..1.</param>
/// <param name="IsComplete">Whether every member sounds.</param>
/// <param name="IsSpelled">Whether every member is spelled as the chord is; false where a member stands enharmonically (a flat for a
/// sharp).</param>
internal sealed record SoundingChord(Tone Root, ChordQuality Quality, int Inversion, double Fit, bool IsComplete, bool IsSpelled)
{
    private static readonly ChordQuality[] Qualities = Enum.GetValues<ChordQuality>();

    /// <summary>The members' tones, as <see cref="ChordQualities.Members"/> orders them.</summary>
    public IReadOnlyList<Tone> Tones
    {
        get
        {
            var members = Quality.Members();
            var tones = new Tone[members.Length];
            for (var i = 0; i < members.Length; i++) tones[i] = Root + members[i];
            return tones;
        }
    }

    /// <summary>
    /// Names what sounds from <paramref name="from"/> to <paramref name="to"/>. Each tone counts by the time that it sounds,
    /// doublings once, so that short non-chord notes weigh little and a broken chord as much as a block. Null in silence
    /// and where fewer than three different tones sound.
    /// </summary>
    public static SoundingChord? Identify(IReadOnlyList<Sonority> sonorities, Fraction from, Fraction to, ReadingSettings settings)
    {
        var presence = TonesInTime.Of(sonorities, from, to);
        if (presence.Keys.Select(t => t.PitchClass).Distinct().Count() < 3) return null;
        var bass = Bass(sonorities, from, to, presence);
        var total = presence.Values.Sum();
        SoundingChord? best = null;
        var bestScore = double.NegativeInfinity;
        foreach (var (tone, _) in presence)
        {
            foreach (var quality in Qualities)
            {
                var (chord, score) = Measure(presence, total, bass, tone, quality, settings);
                if (score <= bestScore) continue;
                (best, bestScore) = (chord, score);
            }
        }

        return best;
    }

    private static (SoundingChord Chord, double Score) Measure(
        IReadOnlyDictionary<Tone, double> presence, double total, Tone? bass, Tone root, ChordQuality quality, ReadingSettings settings)
    {
        var members = quality.Members();
        double inside = 0, score = 0;
        bool complete = true, spelled = true;
        var inversion = -1;
        for (var i = 0; i < members.Length; i++)
        {
            // A root near the end of the line of fifths may have members that no accidental reaches.
            var at = root.Fifths + members[i];
            if (at is < Tone.MinFifths or > Tone.MaxFifths) return (new SoundingChord(root, quality, 0, 0, false, false),
                double.NegativeInfinity);
            var member = new Tone(at);
            double same = presence.GetValueOrDefault(member), alike = 0;
            foreach (var (tone, time) in presence)
                if (tone != member && tone.IsEnharmonicWith(member)) alike += time;
            if (alike > same)
            {
                spelled = false;
                score -= settings.Misspelled;
            }

            inside += same + alike;
            if (bass is { } b && b.IsEnharmonicWith(member)) inversion = i;
            if (same + alike >= settings.LeastMember * total) continue;
            complete = false;
            score -= i == 1 ? settings.MissingThird : i == 2 && !quality.IsAugmentedSixth() ? settings.MissingFifth : settings.MissingOther;
        }

        var fit = Math.Min(1, inside / total);
        score += fit - Rarity(quality, settings)
            + (inversion switch { 0 => settings.RootInBass, 1 => settings.ThirdInBass, 2 or 3 => 0, _ => -settings.ForeignBass });
        return (new SoundingChord(root, quality, Math.Max(0, inversion), fit, complete, spelled), score);
    }

    // A rarer quality needs better evidence. A diminished seventh and an augmented triad are alike from every member, so
    // that spelling alone chooses their root.
    private static double Rarity(ChordQuality quality, ReadingSettings settings) => quality switch
    {
        ChordQuality.Major or ChordQuality.Minor => 0,
        ChordQuality.Diminished or ChordQuality.DominantSeventh => settings.RarityOfDominant,
        ChordQuality.MinorSeventh or ChordQuality.MajorSeventh or ChordQuality.HalfDiminishedSeventh or ChordQuality.DiminishedSeventh =>
            settings.RarityOfSeventh,
        ChordQuality.Augmented or ChordQuality.ItalianSixth or ChordQuality.GermanSixth or ChordQuality.FrenchSixth =>
            settings.RarityOfAugmented,
        _ => settings.RarityOfOther,
    };

    // The note that carries the span: where the chord is broken its lowest note, else the one that lies lowest longest.
    private static Tone? Bass(IReadOnlyList<Sonority> sonorities, Fraction from, Fraction to, IReadOnlyDictionary<Tone, double> presence)
    {
        var time = new Dictionary<Tone, double>();
        SoundingNote? lowest = null;
        var thickest = 0;
        for (var i = TonesInTime.First(sonorities, from); i < sonorities.Count && sonorities[i].Onset < to; i++)
        {
            if (sonorities[i].Bass is not { } note) continue;
            thickest = Math.Max(thickest, sonorities[i].Notes.Select(n => n.Pitch.Tone).Distinct().Count());
            var length = (Fraction.Min(to, sonorities[i].End) - Fraction.Max(from, sonorities[i].Onset)).ToDouble();
            time[note.Pitch.Tone] = time.GetValueOrDefault(note.Pitch.Tone) + length;
            if (lowest is null || note.Pitch < lowest.Pitch) lowest = note;
        }

        if (lowest is null) return null;
        return thickest <= 2 && presence.Count >= 3 ? lowest.Pitch.Tone : time.MaxBy(p => p.Value).Key;
    }
}
