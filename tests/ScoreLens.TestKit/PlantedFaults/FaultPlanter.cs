using ScoreLens.Notation;
using ScoreLens.Reading;
using ScoreLens.Theory;

namespace ScoreLens.TestKit.PlantedFaults;

/// <summary>
/// Plants one fault of a kind at random into a chorale by changing notes. What makes a fault is written here a second time,
/// from the handbooks' wording, and shares no code with the rules.
/// </summary>
internal static class FaultPlanter
{
    private static readonly Dictionary<string, Func<Draft, Random, PlantedFault?>> Planters = new()
    {
        ["parallel-fifths"] = (d, r) => Parallel(d, r, 4, 7),
        ["parallel-octaves"] = (d, r) => Parallel(d, r, 7, 12),
        ["parallel-unisons"] = (d, r) => Parallel(d, r, 0, 0),
        ["fifths-by-contrary-motion"] = (d, r) => Contrary(d, r, 4, 7),
        ["octaves-by-contrary-motion"] = (d, r) => Contrary(d, r, 0, 0),
        ["fifths-around-non-chord-note"] = (d, r) => Around(d, r, 4, 7),
        ["octaves-around-non-chord-note"] = (d, r) => Around(d, r, 7, 12),
        ["direct-fifths"] = (d, r) => Direct(d, r, 4, 7),
        ["direct-octaves"] = (d, r) => Direct(d, r, 0, 0),
        ["diminished-to-perfect-fifth"] = DiminishedToPerfect,
        ["voice-crossing"] = Crossing,
        ["voice-overlap"] = Overlap,
        ["spacing"] = Spacing,
        ["range"] = Range,
        ["doubled-leading-tone"] = (d, r) => Doubled(d, r, LeadingTone),
        ["doubled-seventh"] = (d, r) => Doubled(d, r, Seventh),
        ["leading-tone-unresolved"] = LeadingToneLeaps,
        ["seventh-unresolved"] = SeventhLeaps,
        ["augmented-sixth-not-outward"] = AugmentedSixth,
        ["neapolitan-second-not-falling"] = Neapolitan,
        ["melodic-augmented-second"] = AugmentedSecond,
        ["melodic-tritone"] = Tritone,
        ["unresolved-leap"] = Leap,
        ["missing-third"] = MissingThird,
        ["six-four-out-of-place"] = SixFour,
        ["doubling"] = Tripled,
    };

    /// <summary>The names of the rules whose faults can be planted.</summary>
    public static IEnumerable<string> Rules => Planters.Keys;

    /// <summary>A copy of an exercise with one fault, or null where no place for it was found in 400 tries.</summary>
    public static (Score Score, HarmonicReading Reading, PlantedFault Fault)? Plant(string rule, Score score, HarmonicReading reading,
        Random random)
    {
        for (var attempt = 0; attempt < 400; attempt++)
        {
            var draft = new Draft(score, reading);
            if (draft.Voices.Length != 4) return null;
            if (Planters[rule](draft, random) is { } fault) return (draft.Score, draft.Reading, fault with { Rule = rule });
        }

        return null;
    }

    private static PlantedFault? Parallel(Draft d, Random r, int steps, int semitones)
    {
        var (upper, lower) = Pair(r);
        if (d.Pick(r, upper, lower) is not { } p || !LowerMoves(d, p, out var l0, out var l1)) return null;
        if (Above(l0, steps, semitones, d.Notes[p.From[0]].Pitch, steps == 0) is not { } u0) return null;
        var u1 = Shift(l1, u0.Staff - l0.Staff, u0.Midi - l0.Midi);
        if (u1 is not { } high || !Fit(p, u0, high, l0, l1)) return null;
        d.Set(p.From[0], u0);
        d.Set(p.To[0], high);
        return Fault(d, p, upper, lower);
    }

    private static PlantedFault? Contrary(Draft d, Random r, int steps, int semitones)
    {
        var (upper, lower) = Pair(r);
        if (d.Pick(r, upper, lower) is not { } p || !LowerMoves(d, p, out var l0, out var l1)) return null;
        var octave = l1 > l0 ? 1 : 0;
        var u0 = Shift(l0, steps + (7 * octave), semitones + (12 * octave));
        var u1 = Shift(l1, steps + (7 * (1 - octave)), semitones + (12 * (1 - octave)));
        if (u0 is not { } from || u1 is not { } to || !Fit(p, from, to, l0, l1)
            || Math.Sign(to.Midi - from.Midi) != -Math.Sign(l1.Midi - l0.Midi)) return null;
        d.Set(p.From[0], from);
        d.Set(p.To[0], to);
        return Fault(d, p, upper, lower);
    }

    private static PlantedFault? Around(Draft d, Random r, int steps, int semitones)
    {
        var (upper, lower) = Pair(r);
        if (d.Pick(r, upper, lower) is not { } p || !LowerMoves(d, p, out var l0, out var l1)) return null;
        if (Above(l0, steps, semitones, d.Notes[p.From[0]].Pitch, false) is not { } u0) return null;
        if (Shift(l1, u0.Staff - l0.Staff, u0.Midi - l0.Midi) is not { } u1 || !Fit(p, u0, u1, l0, l1)) return null;
        // Inside one harmony no fifths move.
        if (steps == 4 && Draft.IsSameHarmony(p.First, p.Second)) return null;
        var note = d.Notes[p.From[0]];
        var half = note.Duration / 2;
        if (p.First.Onset > note.Onset || d.Notes[p.From[1]].Onset > note.Onset) return null;
        var way = r.Next(2) == 0 ? 1 : -1;
        var foreign = Enumerable.Range(1, 7).Select(p.First.Key.Degree).Where(t => t.Step == Mod(u0.Staff + way, 7))
            .Select(t => Near(t, u0)).First();
        if (Draft.Has(p.First, foreign.Tone) || foreign.Midi == u1.Midi || Math.Abs(foreign.Midi - u0.Midi) > 2) return null;
        d.Set(p.To[0], u1);
        d.Notes[p.From[0]] = note with { Pitch = u0, Duration = half };
        d.Notes.Add(note with { Pitch = foreign, Onset = note.Onset + half, Duration = half });
        return Fault(d, p, upper, lower);
    }

    private static PlantedFault? Direct(Draft d, Random r, int steps, int semitones)
    {
        if (d.Pick(r, 0, 3) is not { } p || !LowerMoves(d, p, out var l0, out var l1)
            || Draft.IsSameHarmony(p.First, p.Second)) return null;
        if (Above(l1, steps, semitones, d.Notes[p.To[0]].Pitch, false) is not { } u1 || !Draft.Has(p.Second, u1.Tone)
            || u1.Midi - l1.Midi < 7) return null;
        var way = Math.Sign(l1.Midi - l0.Midi);
        var u0 = Tones(p.First, r).SelectMany(Octaves).FirstOrDefault(q =>
            way * (u1.Staff - q.Staff) is >= 2 and <= 5 && Math.Sign(u1.Midi - q.Midi) == way && Mod(q.Staff - l0.Staff, 7) is not (0 or 4)
                && q > l0);
        if (u0 == default) return null;
        d.Set(p.From[0], u0);
        d.Set(p.To[0], u1);
        return Fault(d, p, 0, 3);
    }

    private static PlantedFault? DiminishedToPerfect(Draft d, Random r)
    {
        var upper = r.Next(3);
        if (d.Pick(r, upper, 3) is not { } p || !LowerMoves(d, p, out var l0, out var l1)) return null;
        if (Above(l0, 4, 6, d.Notes[p.From[0]].Pitch, false) is not { } u0) return null;
        if (Shift(l1, u0.Staff - l0.Staff, u0.Midi - l0.Midi + 1) is not { } u1 || !Fit(p, u0, u1, l0, l1)) return null;
        if (Math.Sign(u1.Midi - u0.Midi) != Math.Sign(l1.Midi - l0.Midi)) return null;
        d.Set(p.From[0], u0);
        d.Set(p.To[0], u1);
        return Fault(d, p, upper, 3);
    }

    private static PlantedFault? Crossing(Draft d, Random r)
    {
        var upper = r.Next(3);
        if (d.Pick(r, upper) is not { } p || d.At(upper + 1, p.Time) is not (>= 0 and var below)) return null;
        var lower = d.Notes[below].Pitch;
        if (!Draft.Has(p.Second, lower.Tone)) return null;
        var under = Tones(p.Second, r).SelectMany(Octaves).Where(q => q.Midi < lower.Midi && lower.Midi - q.Midi < 9).ToArray();
        if (under.Length == 0) return null;
        d.Set(p.To[0], under[0]);
        return Fault(d, p, upper, upper + 1);
    }

    private static PlantedFault? Overlap(Draft d, Random r)
    {
        var upper = r.Next(3);
        if (d.Pick(r, upper, upper + 1) is not { } p || Draft.IsSameHarmony(p.First, p.Second)) return null;
        var (u0, l0) = (d.Notes[p.From[0]].Pitch, d.Notes[p.From[1]].Pitch);
        var tones = Tones(p.Second, r).SelectMany(Octaves).Order().ToArray();
        var l1 = tones.FirstOrDefault(q => q.Midi > u0.Midi);
        var u1 = tones.FirstOrDefault(q => q.Midi > l1.Midi);
        if (l1 == default || u1 == default || u0 <= l0) return null;
        d.Set(p.To[0], u1);
        d.Set(p.To[1], l1);
        return Fault(d, p, upper, upper + 1);
    }

    private static PlantedFault? Spacing(Draft d, Random r)
    {
        var upper = r.Next(3);
        var (moved, other) = upper == 0 ? (0, 1) : (upper + 1, upper);
        var most = upper == 2 ? 24 : 12;
        if (d.Pick(r, moved) is not { } p || d.At(other, p.Time) is not (>= 0 and var beside)) return null;
        var fixedPitch = d.Notes[beside].Pitch;
        var pitch = d.Notes[p.To[0]].Pitch;
        if (!Draft.Has(p.Second, fixedPitch.Tone) || !Draft.Has(p.Second, pitch.Tone)) return null;
        var octaves = moved == 0 ? 1 : -1;
        if (upper == 2 && pitch.Midi > fixedPitch.Midi) return null;
        while (Math.Abs(pitch.Midi - fixedPitch.Midi) <= most) pitch = new Pitch(pitch.Tone, pitch.Octave + octaves);
        d.Set(p.To[0], pitch);
        return Fault(d, p, upper, upper + 1);
    }

    private static PlantedFault? Range(Draft d, Random r)
    {
        var voice = r.Next(4);
        if (d.Pick(r, voice) is not { } p) return null;
        // C4 to A5, F3 to D5, B2 to A4, D2 to E4, and the octave of the note that lies nearest beyond.
        var (lowest, highest) = (new[] { 60, 53, 47, 38 }[voice], new[] { 81, 74, 69, 64 }[voice]);
        var way = r.Next(2) == 0 ? 1 : -1;
        var pitch = d.Notes[p.To[0]].Pitch;
        while (pitch.Midi >= lowest && pitch.Midi <= highest) pitch = new Pitch(pitch.Tone, pitch.Octave + way);
        d.Set(p.To[0], pitch);
        return Fault(d, p, voice);
    }

    private static PlantedFault? Doubled(Draft d, Random r, Func<ChordReading, Tone?> toneOf)
    {
        var voice = r.Next(4);
        if (d.Pick(r, voice) is not { } p || toneOf(p.Second) is not { } tone) return null;
        var beat = d.MeasureAt(p.Time).Time.PulseLength;
        if (d.Notes[p.To[0]].Duration < beat) return null;
        var holders = Enumerable.Range(0, 4).Where(v => v != voice && d.At(v, p.Time) is >= 0 and var n && d.Notes[n].Pitch.Tone == tone
            && d.Notes[n].Duration >= beat).ToArray();
        if (holders.Length != 1 || d.Notes[p.To[0]].Pitch.Tone == tone) return null;
        // Not doubled already earlier in the chord by a moving voice, which would be found there.
        if (p.Second.Onset != p.Time) return null;
        d.Set(p.To[0], Near(tone, d.Notes[p.To[0]].Pitch));
        return Fault(d, p, [voice, holders[0]]);
    }

    private static PlantedFault? LeadingToneLeaps(Draft d, Random r)
    {
        var voice = r.Next(4);
        if (d.Pick(r, voice) is not { } p || p.Second.Onset != p.Time || LeadingTone(p.First) is not { } tone
            || Draft.Has(p.Second, tone)) return null;
        var tonic = tone + -5;
        var next = p.Second.Numeral!;
        var isDeceptive = next is { Degree: 6, Target: null } && p.First.Numeral!.Target is null && p.First.Key == p.Second.Key
            && next.Quality is ChordQuality.Major or ChordQuality.Minor
            && next.Root(p.Second.Key) - tonic is 3 or -4;
        if (next.Kind != NumeralKind.Plain || next.Inversion == 2 || (next.Root(p.Second.Key) != tonic && !isDeceptive)) return null;
        var from = Near(tone, d.Notes[p.From[0]].Pitch);
        if (IsInAnotherVoice(d, p, voice, tone) || Takes(d, p, voice, q => q.Midi == from.Midi + 1)) return null;
        var goals = Tones(p.Second, r).SelectMany(Octaves).Where(q =>
            q.Tone != tonic && Math.Abs(q.Staff - from.Staff) is >= 2 and <= 4 && (voice is 0 or 3 || q > from)).ToArray();
        if (goals.Length == 0) return null;
        d.Set(p.From[0], from);
        d.Set(p.To[0], goals[r.Next(goals.Length)]);
        return Fault(d, p, voice);
    }

    private static PlantedFault? SeventhLeaps(Draft d, Random r)
    {
        var voice = r.Next(4);
        if (d.Pick(r, voice) is not { } p || p.Second.Onset != p.Time || Seventh(p.First) is not { } tone) return null;
        if (Draft.Has(p.Second, tone) || Draft.IsSameHarmony(p.First, p.Second)) return null;
        var from = Near(tone, d.Notes[p.From[0]].Pitch);
        if (IsInAnotherVoice(d, p, voice, tone)) return null;
        var bass = d.At(3, p.Time);
        var mayRise = voice == 3 || bass < 0 || d.Notes[p.From[0]].Duration < d.MeasureAt(p.Time).Time.PulseLength
            || Mod(from.Staff - d.Notes[bass].Pitch.Staff, 7) == 1;
        var goals = Tones(p.Second, r).SelectMany(Octaves)
            .Where(q => Math.Abs(q.Staff - from.Staff) is >= 2 and <= 4
                || (!mayRise && q.Staff - from.Staff == 1 && q.Midi - from.Midi < 3)).ToArray();
        if (goals.Length == 0) return null;
        d.Set(p.From[0], from);
        d.Set(p.To[0], goals[r.Next(goals.Length)]);
        return Fault(d, p, voice);
    }

    // A doubled tendency note is a fault of another kind: one of the two resolves, and the other must not.
    private static bool IsInAnotherVoice(Draft d, Place p, int voice, Tone tone) =>
        Enumerable.Range(0, 4).Any(v => v != voice && d.Voices[v]
            .Any(n => d.Notes[n].Onset < p.Time && d.Notes[n].End > p.First.Onset && d.Notes[n].Pitch.Tone == tone));

    // The resolution handed to another voice at its very pitch is allowed.
    private static bool Takes(Draft d, Place p, int voice, Func<Pitch, bool> isGoal) =>
        Enumerable.Range(0, 4).Any(v => v != voice && d.At(v, p.Time) is >= 0 and var n && isGoal(d.Notes[n].Pitch));

    private static PlantedFault? AugmentedSixth(Draft d, Random r)
    {
        if (BeforeDominant(d, r) is not { } p) return null;
        var quality = r.Next(2) == 0 ? ChordQuality.ItalianSixth : ChordQuality.GermanSixth;
        var numeral = Numeral.AugmentedSixth(quality);
        var tones = numeral.Tones(p.First.Key);
        Tone[] upper = [tones[^1], tones[1], quality == ChordQuality.ItalianSixth ? tones[1] : tones[2]];
        r.Shuffle(upper);
        Replace(d, p, numeral, [.. upper, tones[0]]);
        var wrongRises = r.Next(2) == 0;
        var voice = wrongRises ? Array.IndexOf(upper, tones[^1]) : 3;
        var from = d.Notes[p.From[voice]].Pitch;
        var goals = Tones(p.Second, r).SelectMany(Octaves).Where(q => Math.Abs(q.Staff - from.Staff) is >= 2 and <= 4).ToArray();
        d.Set(p.To[voice], goals[r.Next(goals.Length)]);
        // The other note opens as it should.
        var other = wrongRises ? 3 : Array.IndexOf(upper, tones[^1]);
        d.Set(p.To[other], Shift(d.Notes[p.From[other]].Pitch, wrongRises ? -1 : 1, wrongRises ? -1 : 1)!.Value);
        return Fault(d, p, voice);
    }

    private static PlantedFault? Neapolitan(Draft d, Random r)
    {
        if (BeforeDominant(d, r) is not { } p) return null;
        var numeral = Numeral.Neapolitan();
        var tones = numeral.Tones(p.First.Key);
        Tone[] upper = [tones[0], tones[1], tones[2]];
        r.Shuffle(upper);
        Replace(d, p, numeral, [.. upper, tones[1]]);
        var voice = Array.IndexOf(upper, tones[0]);
        var from = d.Notes[p.From[voice]].Pitch;
        var goals = Tones(p.Second, r).SelectMany(Octaves).Where(q => q.Midi > from.Midi && q.Staff - from.Staff < 5).ToArray();
        d.Set(p.To[voice], goals[r.Next(goals.Length)]);
        return Fault(d, p, voice);
    }

    private static PlantedFault? AugmentedSecond(Draft d, Random r)
    {
        var voice = r.Next(4);
        if (d.Pick(r, voice) is not { } p || p.First.Key != p.Second.Key || !p.First.Key.IsMinor
            || Draft.IsSameHarmony(p.First, p.Second)) return null;
        var (sixth, leading) = (p.First.Key.Tonic + -4, p.First.Key.Tonic + 5);
        if (r.Next(2) == 0) (sixth, leading) = (leading, sixth);
        if (!Draft.Has(p.First, sixth) || !Draft.Has(p.Second, leading)) return null;
        var from = Near(sixth, d.Notes[p.From[0]].Pitch);
        d.Set(p.From[0], from);
        d.Set(p.To[0], Octaves(leading).First(q => Math.Abs(q.Staff - from.Staff) == 1));
        return Fault(d, p, voice);
    }

    private static PlantedFault? Tritone(Draft d, Random r)
    {
        var voice = r.Next(4);
        if (d.Pick(r, voice) is not { } p || Draft.IsSameHarmony(p.First, p.Second)) return null;
        foreach (var first in Tones(p.First, r))
        {
            foreach (var second in Tones(p.Second, r).Where(t => Math.Abs(t - first) == 6))
            {
                var from = Near(first, d.Notes[p.From[0]].Pitch);
                d.Set(p.From[0], from);
                d.Set(p.To[0], Octaves(second).First(q => Math.Abs(q.Staff - from.Staff) == 3));
                return Fault(d, p, voice);
            }
        }

        return null;
    }

    private static PlantedFault? Leap(Draft d, Random r)
    {
        var voice = r.Next(3);
        if (d.Pick(r, voice) is not { } p || Draft.IsSameHarmony(p.First, p.Second)) return null;
        var place = Array.IndexOf(d.Voices[voice], p.To[0]) + 1;
        if (place >= d.Voices[voice].Length) return null;
        var next = d.Voices[voice][place];
        if (d.IsTied(next) || d.Notes[next].Onset != d.Notes[p.To[0]].End || d.PhraseEnds.Contains(d.Notes[next].Onset)
            || d.ChordAt(d.Notes[next].Onset) is not { } after) return null;
        var from = d.Notes[p.From[0]].Pitch;
        var way = r.Next(2) == 0 ? 1 : -1;
        var to = Tones(p.Second, r).SelectMany(Octaves).FirstOrDefault(q => way * (q.Staff - from.Staff) is 5 or 6
            && way * (q.Midi - from.Midi) > 7);
        if (to == default) return null;
        var on = Tones(after, r).SelectMany(Octaves).FirstOrDefault(q => way * (q.Staff - to.Staff) is >= 1 and <= 3
            && Math.Sign(q.Midi - to.Midi) == way);
        if (on == default) return null;
        d.Set(p.To[0], to);
        d.Set(next, on);
        return Fault(d, p, voice);
    }

    private static PlantedFault? MissingThird(Draft d, Random r)
    {
        if (Block(d, r) is not { } p) return null;
        var numeral = p.Second.Numeral!;
        if (numeral.Quality.IsAugmentedSixth() || p.Second.Duration < d.MeasureAt(p.Time).Time.PulseLength) return null;
        var tones = numeral.Tones(p.Second.Key);
        if (p.To.Any(n => !Draft.Has(p.Second, d.Notes[n].Pitch.Tone)) || Neighbours(d, p)
            .Any(c => Draft.IsSameHarmony(c, p.Second))) return null;
        foreach (var note in p.To.Where(n => d.Notes[n].Pitch.Tone.IsEnharmonicWith(tones[1])))
            d.Set(note, Near(tones[r.Next(2) * 2], d.Notes[note].Pitch));
        return Fault(d, p, 0, 1, 2, 3);
    }

    private static PlantedFault? SixFour(Draft d, Random r)
    {
        if (Block(d, r) is not { } p) return null;
        var numeral = p.Second.Numeral!;
        if (numeral.Kind != NumeralKind.Plain || numeral.Quality is not (ChordQuality.Major or ChordQuality.Minor)
            || numeral.Inversion == 2) return null;
        var neighbours = Neighbours(d, p).ToArray();
        if (neighbours.Length < 2 || neighbours.Any(c => Draft.IsSameHarmony(c, p.Second)
            || c.Numeral!.Root(c.Key) == numeral.Tones(p.Second.Key)[2])) return null;
        var bass = Near(numeral.Tones(p.Second.Key)[2], d.Notes[p.To[3]].Pitch);
        if (Math.Abs(bass.Staff - d.Notes[p.From[3]].Pitch.Staff) < 2
            || Mod(bass.Staff - d.Notes[p.From[3]].Pitch.Staff, 7) == 0) return null;
        d.Set(p.To[3], bass);
        d.Chords[d.Chords.IndexOf(p.Second)] = p.Second with
        {
            Numeral = new Numeral(numeral.Degree, numeral.Quality, 2,
            numeral.Alteration, numeral.Target)
        };
        return Fault(d, p, 0, 1, 2, 3);
    }

    private static PlantedFault? Tripled(Draft d, Random r)
    {
        if (Block(d, r) is not { } p) return null;
        var numeral = p.Second.Numeral!;
        if (numeral is not { Kind: NumeralKind.Plain, Inversion: 0, Quality: ChordQuality.Major or ChordQuality.Minor }) return null;
        if (p.Second.Duration < d.MeasureAt(p.Time).Time.BeatLength || d.Notes[p.To[3]]
            .Pitch.Tone != numeral.Root(p.Second.Key)) return null;
        var tone = numeral.Tones(p.Second.Key)[1 + r.Next(2)];
        for (var voice = 0; voice < 3; voice++) d.Set(p.To[voice], Near(tone, d.Notes[p.To[voice]].Pitch));
        return Fault(d, p, 0, 1, 2);
    }

    // A chord that all four voices strike together and hold to its end.
    private static Place? Block(Draft d, Random r) =>
        d.Pick(r, 0, 1, 2, 3) is { } p && p.Second.Onset == p.Time && p.To.All(n => d.Notes[n].End == p.Second.End) ? p : null;

    // A chord of that kind with V of the same key after it: the place of a chromatic predominant.
    private static Place? BeforeDominant(Draft d, Random r)
    {
        if (d.Pick(r, 0, 1, 2, 3) is not { } p || p.Second.Onset != p.Time || p.First.Key != p.Second.Key) return null;
        var isDominant = p.Second.Numeral is
        {
            Kind: NumeralKind.Plain, Degree: 5, Inversion: 0, Target: null,
            Quality: ChordQuality.Major or ChordQuality.DominantSeventh
        };
        return isDominant && p.From.All(n => d.Notes[n].Onset == p.First.Onset) && p.First.Key.Tonic.Fifths is > -8 and < 10 ? p : null;
    }

    private static void Replace(Draft d, Place p, Numeral numeral, Tone[] tones)
    {
        d.Chords[d.Chords.IndexOf(p.First)] = p.First with { Numeral = numeral };
        for (var voice = 0; voice < 4; voice++) d.Set(p.From[voice], Near(tones[voice], d.Notes[p.From[voice]].Pitch));
    }

    private static IEnumerable<ChordReading> Neighbours(Draft d, Place p) =>
        d.Chords.Where(c => c.Numeral is not null && (c.End == p.Second.Onset || c.Onset == p.Second.End));

    private static PlantedFault Fault(Draft d, Place p, params int[] voices) =>
        new("", p.Time, [.. voices.Order()], p.From.Min(n => d.Notes[n].Onset), p.To.Max(n => d.Notes[n].End));

    private static bool LowerMoves(Draft d, Place p, out Pitch from, out Pitch to)
    {
        (from, to) = (d.Notes[p.From[1]].Pitch, d.Notes[p.To[1]].Pitch);
        return from.Staff != to.Staff && from.Tone != to.Tone && Draft.Has(p.First, from.Tone) && Draft.Has(p.Second, to.Tone);
    }

    private static bool Fit(Place p, Pitch u0, Pitch u1, Pitch l0, Pitch l1) =>
        u0.Midi != u1.Midi && Draft.Has(p.First, u0.Tone) && Draft.Has(p.Second, u1.Tone) && Draft.Has(p.First, l0.Tone)
            && Draft.Has(p.Second, l1.Tone);

    private static (int Upper, int Lower) Pair(Random r)
    {
        var upper = r.Next(3);
        return (upper, r.Next(upper + 1, 4));
    }

    private static Tone? LeadingTone(ChordReading chord)
    {
        var context = chord.Numeral!.Target?.In(chord.Key) ?? chord.Key;
        var leads = chord.Numeral is { Kind: NumeralKind.Plain, Alteration: 0 } n
            && (n is { Degree: 5, Quality: ChordQuality.Major or ChordQuality.DominantSeventh }
                || n is
                {
                    Degree: 7, Quality: ChordQuality.Diminished or ChordQuality.DiminishedSeventh or ChordQuality.HalfDiminishedSeventh
                });
        return leads ? context.Tonic + 5 : null;
    }

    private static Tone? Seventh(ChordReading chord) => chord.Numeral!.Quality.IsSeventh() ? chord.Numeral.Tones(chord.Key)[3] : null;

    private static Tone[] Tones(ChordReading chord, Random r)
    {
        Tone[] tones = [.. chord.Numeral!.Tones(chord.Key)];
        r.Shuffle(tones);
        return tones;
    }

    private static IEnumerable<Pitch> Octaves(Tone tone) => Enumerable.Range(1, 6).Select(octave => new Pitch(tone, octave));

    private static Pitch Near(Tone tone, Pitch pitch) => Octaves(tone).MinBy(q => Math.Abs(q.Midi - pitch.Midi));

    // The pitch so many letters and semitones higher, where its accidental can be written.
    private static Pitch? Shift(Pitch pitch, int steps, int semitones)
    {
        var staff = pitch.Staff + steps;
        var octave = (int)Math.Floor(staff / 7.0);
        if (octave is < 0 or > 8) return null;
        var natural = new Pitch(Tone.Of("CDEFGAB"[Mod(staff, 7)]), octave);
        var alteration = pitch.Midi + semitones - natural.Midi;
        return Math.Abs(alteration) > 2 ? null : new Pitch(natural.Tone + (7 * alteration), octave);
    }

    // The interval above a pitch, with as many octaves as bring it nearest to another pitch; none added where it must be simple.
    private static Pitch? Above(Pitch lower, int steps, int semitones, Pitch near, bool isSimple)
    {
        if (Shift(lower, steps, semitones) is not { } pitch) return null;
        while (!isSimple && near.Midi - pitch.Midi > 6) pitch = new Pitch(pitch.Tone, pitch.Octave + 1);
        return pitch;
    }

    private static int Mod(int value, int modulus) => ((value % modulus) + modulus) % modulus;
}
