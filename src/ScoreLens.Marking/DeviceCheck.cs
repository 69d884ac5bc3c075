using ScoreLens.Devices;
using ScoreLens.Marking.Assignments;
using ScoreLens.Marking.Labels;

namespace ScoreLens.Marking;

/// <summary>Checks which devices a piece has against those that an assignment requires and forbids.</summary>
internal static class DeviceCheck
{
    /// <summary>The kinds of its remarks.</summary>
    public static IReadOnlyList<string> Kinds { get; } = ["device-missing", "device-unresolved", "device-forbidden"];

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
                var have = demand.Count - missing;
                yield return Remark.OfWhole(
                    "device-missing", Criterion.Devices, $"Asked for: {demand}; {(have == 0 ? "none" : have)} found.",
                    demand.Device is { } device ? HowTo(device) : $"Plan a place for {demand.Numeral!.ToDisplayString()} and lead into it and out of it.")
                    with
                { Points = missing * worth };
            }
        }

        foreach (var device in assignment.Forbidden)
        {
            foreach (var occurrence in Occurrences(analysis.Chords, c => c.Device == device))
            {
                var chord = occurrence[0].Reading;
                yield return Remark.At(
                    analysis.Score, chord.Onset, "device-forbidden", Criterion.Devices,
                    $"{chord.Numeral!.ToDisplayString()} is a {Words(device)}, which this exercise does not allow.",
                    $"Find a chord of {chord.Key} for this place.") with
                { Points = worth };
            }
        }
    }

    private static Remark Unresolved(CueAnalysis analysis, TaggedChord chord, double worth) => Remark.At(
        analysis.Score, chord.Reading.Onset, "device-unresolved", Criterion.Devices,
        $"{chord.Reading.Numeral!.ToDisplayString()} does not go on as expected.",
        chord.Target is { } target ? $"Let it lead to {target}." : chord.Device is { } device ? HowTo(device) : "Let it lead on to the dominant or the tonic.") with
    { Points = worth };

    private static bool Meets(TaggedChord chord, DeviceDemand demand) => demand.Device is { } device
        ? chord.Device == device || chord.Also.Contains(device)
        : chord.Reading.Numeral is { } numeral
            && LabelComparison.Of(new LabelMeaning(chord.Reading.Key, demand.Numeral!), new LabelMeaning(chord.Reading.Key, numeral)).Right == LabelParts.All;

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

    private static string Words(Device device) => device.Name().Replace('-', ' ');

    private static string HowTo(Device device) => device switch
    {
        Device.SecondaryDominant => "Choose a chord other than the tonic and put before it the major triad or the dominant seventh a fifth above its root, as V7/V before V.",
        Device.SecondaryLeadingTone => "Choose a chord other than the tonic and put before it the diminished seventh a semitone below its root, as viio7/V before V.",
        Device.ModalMixture => "Borrow a chord of the parallel key, such as iv or bVI in major, and go on to a chord of the key.",
        Device.TritoneSubstitute => "Replace a dominant by the dominant seventh a tritone away and let its root fall a semitone.",
        Device.AugmentedSixth => "Put the flat sixth degree in the bass and the raised fourth above it, and open them outward to the octave on the fifth degree.",
        Device.Neapolitan => "Use the major triad on the flat second degree in first inversion where ii6 would stand, and go on to V, directly or through the cadential six-four.",
        Device.CommonToneDiminished => "Decorate a chord by the diminished seventh that keeps its root, and return to it.",
        Device.ChromaticMediant => "Go to a chord of the same quality whose root lies a third away and that keeps one common tone.",
        Device.DoubleChromaticMediant => "Go to a chord of the opposite quality whose root lies a third away and that shares no tone.",
        Device.AlteredDominant => "Raise or lower the fifth of the dominant, and let the altered note move on by a semitone into the tonic chord.",
        _ => "Add a chord from outside the key and lead it on by semitones.",
    };
}
