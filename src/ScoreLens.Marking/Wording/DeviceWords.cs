using ScoreLens.Devices;
using ScoreLens.Marking.Assignments;
using ScoreLens.Marking.Facts;

namespace ScoreLens.Marking.Wording;

/// <summary>Sentences about devices that are asked for or not allowed.</summary>
internal static class DeviceWords
{
    public static string Text(Remark remark) => (remark.Kind, remark.Facts) switch
    {
        (_, DemandFacts facts) => $"Required: {Demand(facts.Demand)}; {(facts.Found == 0 ? "none" : $"{facts.Found}")} found.",
        (RemarkKind.DeviceForbidden, DeviceChordFacts facts) =>
            $"{facts.Numeral.ToDisplayString()} is {Article(facts.Device!.Value)}, which this exercise does not allow.",
        (_, DeviceChordFacts facts) => $"{facts.Numeral.ToDisplayString()} does not resolve as expected.",
        _ => "",
    };

    public static string Advice(Remark remark) => (remark.Kind, remark.Facts) switch
    {
        (_, DemandFacts { Demand: { Device: { } device } }) => HowTo(device),
        (_, DemandFacts facts) => $"Plan a place for {facts.Demand.Numeral!.ToDisplayString()}, lead into it and lead out of it.",
        (RemarkKind.DeviceForbidden, DeviceChordFacts facts) => $"Find a chord of {facts.Key} for this place.",
        (_, DeviceChordFacts { Target: { } target }) => $"Lead it to {target}.",
        (_, DeviceChordFacts { Device: { } device }) => HowTo(device),
        _ => "Lead it on to the dominant or the tonic.",
    };

    /// <summary>A demand in words: <c>1 secondary dominant that resolves</c>.</summary>
    public static string Demand(DeviceDemand demand)
    {
        var what = demand.Device is { } device ? Name(device) : demand.Numeral?.ToDisplayString();
        return $"{demand.Count} {what}{(demand.MustResolve ? " that resolves" : "")}";
    }

    private static string Name(Device device) => device.Name().Replace('-', ' ');

    private static string Article(Device device) => Name(device) is ['a' or 'o', ..] name ? $"an {name}" : $"a {Name(device)}";

    private static string HowTo(Device device) => device switch
    {
        Device.SecondaryDominant =>
            "Choose a chord other than the tonic. Put before it the major triad or the dominant seventh a fifth above its root, as "
            + "V7/V before V.",
        Device.SecondaryLeadingTone =>
            "Choose a chord other than the tonic. Put before it the diminished seventh a semitone below its root, as viio7/V before V.",
        Device.ModalMixture => "Borrow a chord of the parallel key, such as iv or bVI in major, and go on to a chord of the key.",
        Device.TritoneSubstitute => "Replace a dominant by the dominant seventh a tritone away, and let its root fall a semitone.",
        Device.AugmentedSixth =>
            "Put the flat sixth degree in the bass and the raised fourth above it, and open them outward to the octave on the fifth "
            + "degree.",
        Device.Neapolitan =>
            "Use the major triad on the flat second degree in first inversion where ii6 would stand. Go on to V, directly or through "
            + "the cadential six-four.",
        Device.CommonToneDiminished => "Decorate a chord by the diminished seventh that keeps its root, and return to it.",
        Device.ChromaticMediant => "Go to a chord of the same quality whose root lies a third away and that keeps one common tone.",
        Device.DoubleChromaticMediant => "Go to a chord of the opposite quality whose root lies a third away and that shares no tone.",
        Device.AlteredDominant => "Raise or lower the fifth of the dominant, and move the altered note by a semitone into the tonic chord.",
        _ => "Add a chord from outside the key and lead it on by semitones.",
    };
}
