using ScoreLens.Devices;
using ScoreLens.Marking.Assignments;
using ScoreLens.Marking.Facts;
using ScoreLens.Marking.Labels;
using ScoreLens.Theory;

namespace ScoreLens.Marking;

/// <summary>Checks which devices a piece has against those that an assignment requires and forbids.</summary>
internal static class DeviceCheck
{
    /// <summary>How many things are demanded: each required occurrence and each forbidden device is one.</summary>
    public static int Demands(Assignment assignment) => assignment.Required.Sum(d => d.Count) + assignment.Forbidden.Count;

    /// <summary>The remarks, each costing one demand's worth.</summary>
    public static IEnumerable<Remark> Run(CueAnalysis analysis, Assignment assignment, double worth)
    {
        foreach (var demand in assignment.Required)
        {
            var found = Occurrences(analysis.Chords, c => Meets(c, demand)).ToList();
            var resolved = found.Where(o => o.Any(c => c.Resolution is Resolution.Resolved or Resolution.Delayed)).ToList();
            var missing = demand.Count - (demand.MustResolve ? resolved.Count : found.Count);
            if (missing <= 0) continue;
            foreach (var loose in found.Except(resolved).Take(demand.MustResolve ? missing : 0))
            {
                missing--;
                yield return Unresolved(analysis, loose[0], worth);
            }

            if (missing > 0)
            {
                yield return Remark.OfWhole(RemarkKind.DeviceMissing,
                    new DemandFacts(demand, demand.Count - missing)) with
                { Points = missing * worth };
            }
        }

        foreach (var device in assignment.Forbidden)
        {
            foreach (var occurrence in Occurrences(analysis.Chords, c => c.Device == device))
            {
                var chord = occurrence[0].Reading;
                var facts = new DeviceChordFacts(chord.Key, chord.Numeral!, device);
                yield return Remark.At(analysis.Score, chord.Onset, RemarkKind.DeviceForbidden, facts) with { Points = worth };
            }
        }
    }

    private static Remark Unresolved(CueAnalysis analysis, TaggedChord chord, double worth)
    {
        var facts = new DeviceChordFacts(chord.Reading.Key, chord.Reading.Numeral!, chord.Device, chord.Target);
        return Remark.At(analysis.Score, chord.Reading.Onset, RemarkKind.DeviceUnresolved, facts) with { Points = worth };
    }

    private static bool Meets(TaggedChord chord, DeviceDemand demand) => demand.Device is { } device
        ? chord.Device == device || chord.Also.Contains(device)
        : chord.Reading.Numeral is { } numeral
            && IsSame(chord.Reading.Key, demand.Numeral!, numeral);

    private static bool IsSame(Key key, Numeral a, Numeral b) =>
        LabelComparison.Of(new LabelMeaning(key, a), new LabelMeaning(key, b)).Right == LabelParts.All;

    // Chords in a row over one root are one occurrence, whatever their inversions.
    private static IEnumerable<IReadOnlyList<TaggedChord>> Occurrences(IReadOnlyList<TaggedChord> chords, Func<TaggedChord, bool> meets)
    {
        var run = new List<TaggedChord>();
        foreach (var chord in chords)
        {
            if (chord.Reading.Numeral is not null && meets(chord) && (run.Count == 0 || Root(run[^1]) == Root(chord)))
            {
                run.Add(chord);
                continue;
            }

            if (run.Count > 0) yield return run;
            run = chord.Reading.Numeral is not null && meets(chord) ? [chord] : [];
        }

        if (run.Count > 0) yield return run;

        static int Root(TaggedChord chord) => chord.Reading.Numeral!.Root(chord.Reading.Key).PitchClass;
    }
}
