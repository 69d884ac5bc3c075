namespace ScoreLens.Marking.Wording;

/// <summary>The first sentences of a page of feedback: what went well, and the one thing to do next.</summary>
internal static class SummaryWords
{
    private const int MostPlaces = 4;
    private const double GoodShare = 0.8, FairShare = 0.5;

    public static string Of(MarkedSubmission submission)
    {
        var faults = submission.Remarks.Where(r => r.Severity == Severity.Fault).ToList();
        string[] sentences = [submission.Message, WhatWentWell(submission, faults.Count), Next(faults)];
        return string.Join(' ', sentences.Where(s => s.Length > 0));
    }

    private static string WhatWentWell(MarkedSubmission submission, int faults)
    {
        var full = submission.Criteria.Where(c => c.OutOf > 0 && c.Points >= c.OutOf).Select(c => CriterionWords.Name(c.Criterion))
            .ToList();
        var share = submission.OutOf <= 0 ? 0 : submission.Total / submission.OutOf;
        if (faults == 0) return "Well done: there is nothing to correct.";
        if (full.Count > 0) return $"Well done in {Amounts.List(full)}: you have all the points.";
        return share >= GoodShare ? "Good work, with a few things to correct." : share >= FairShare ? "Much of this is right." : "";
    }

    private static string Next(List<Remark> faults)
    {
        if (faults.GroupBy(r => r.Kind).OrderByDescending(g => g.Sum(r => r.Points)).FirstOrDefault() is not { } next) return "";
        var places = next.Where(r => !r.IsOfWhole).Select(r => $"m. {r.Measure}").Distinct().Take(MostPlaces).ToList();
        var where = places.Count == 0 ? "" : $" ({string.Join(", ", places)})";
        var often = next.Count() == 1 ? "once" : $"{next.Count()} times";
        return $"Do this next: {RemarkWords.Kind(next.Key)}, {often}{where}. {next.First().Advice}".TrimEnd();
    }
}
