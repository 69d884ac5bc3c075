using ScoreLens.Marking.Facts;

namespace ScoreLens.Marking.Wording;

/// <summary>The sentences of remarks: what is wrong, and what to do instead. Every sentence of the marking stands in this room.</summary>
internal static class RemarkWords
{
    /// <summary>What is wrong, or what is told.</summary>
    public static string Text(Remark remark) => remark.Facts switch
    {
        LabelFacts facts => LabelWords.Text(remark.Kind, facts),
        TeacherFacts facts => facts.Text,
        GivenNoteFacts or FigureFacts => GivenPartWords.Text(remark),
        DemandFacts or DeviceChordFacts => DeviceWords.Text(remark),
        BalanceFacts facts => BalanceWords.Text(facts),
        SpeciesFacts facts => SpeciesWords.Text(remark.Kind, facts),
        _ => PartWritingWords.Text(remark),
    };

    /// <summary>What to do instead; empty where there is nothing to do.</summary>
    public static string Advice(Remark remark) => remark.Facts switch
    {
        LabelFacts facts => LabelWords.Advice(remark.Kind, facts),
        TeacherFacts => "",
        GivenNoteFacts or FigureFacts => GivenPartWords.Advice(remark),
        DemandFacts or DeviceChordFacts => DeviceWords.Advice(remark),
        BalanceFacts facts => BalanceWords.Advice(facts),
        SpeciesFacts => SpeciesWords.Advice(remark.Kind, (SpeciesFacts)remark.Facts),
        _ => PartWritingWords.Advice(remark),
    };

    /// <summary>The kind in words: <c>parallel fifths</c>.</summary>
    public static string Kind(RemarkKind kind) => kind == RemarkKind.TeacherRemark ? "the teacher" : kind.Name().Replace('-', ' ');

    /// <summary>What has room in a score, beside the remark's number.</summary>
    public static string Brief(RemarkKind kind) => kind switch
    {
        _ when kind.IsAcceptance() => "accepted",
        RemarkKind.WrongKey => "key?",
        RemarkKind.WrongDegree => "degree?",
        RemarkKind.WrongQuality => "quality?",
        RemarkKind.WrongInversion => "inversion?",
        RemarkKind.LabelMissing => "label?",
        RemarkKind.LabelExtra => "no change",
        RemarkKind.LabelUnreadable => "unreadable",
        _ => Kind(kind),
    };
}
