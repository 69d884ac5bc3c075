using ScoreLens.Marking.Facts;

namespace ScoreLens.Marking.Wording;

/// <summary>Sentences about given notes and figures.</summary>
internal static class GivenPartWords
{
    public static string Text(Remark remark) => (remark.Kind, remark.Facts) switch
    {
        (RemarkKind.GivenNoteMissing, GivenNoteFacts facts) =>
            $"The given {remark.Voices[0]} has {Notes.Pitch(facts.Should)} here; it is missing.",
        (RemarkKind.GivenNoteChanged, GivenNoteFacts facts) =>
            $"The given {remark.Voices[0]} has {Notes.Pitch(facts.Should)} here, not {Notes.Pitch(facts.Written!.Value)}.",
        (_, GivenNoteFacts facts) =>
            $"{Notes.Pitch(facts.Should)} of the given {remark.Voices[0]} is {(facts.IsShorter ? "shorter" : "longer")} than it was given.",
        (RemarkKind.FigureUnreadable, FigureFacts facts) =>
            $"The figure “{facts.Figure}” cannot be read; the chord over it was not checked.",
        (_, FigureFacts facts) => Figure(facts),
        _ => "",
    };

    public static string Advice(Remark remark) => (remark.Kind, remark.Facts) switch
    {
        (_, GivenNoteFacts facts) => $"Write the given {remark.Voices[0]} as it stands: {Notes.Pitch(facts.Should)}.",
        (RemarkKind.FigureUnreadable, _) => "",
        (_, FigureFacts facts) => $"Take {Amounts.List(facts.Asked.Distinct().Select(Notes.Tone))} above {Notes.Tone(facts.Bass)}.",
        _ => "",
    };

    private static string Figure(FigureFacts facts)
    {
        var (missing, foreign) = (facts.Missing.Select(Notes.Tone).ToArray(), facts.Foreign.Select(Notes.Tone).Distinct().ToArray());
        var wrong = (missing.Length, foreign.Length) switch
        {
            (0, _) => $"{Amounts.List(foreign)} {(foreign.Length == 1 ? "does" : "do")} not belong to it",
            (_, 0) => $"{Amounts.List(missing)} {(missing.Length == 1 ? "is" : "are")} missing",
            _ => $"you have {Amounts.List(foreign)} instead of {Amounts.List(missing)}",
        };
        var figure = facts.Figure.Length == 0 ? "no figure, a root position," : $"the figure {facts.Figure}";
        return $"Over {Notes.Tone(facts.Bass)} {figure} asks for {Amounts.List(facts.Needed.Select(Notes.Tone))}: {wrong}.";
    }
}
