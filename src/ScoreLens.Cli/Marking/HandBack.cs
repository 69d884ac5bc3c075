using ScoreLens.Cli.Shared;
using ScoreLens.Marking;
using ScoreLens.Marking.Assignments;
using ScoreLens.Marking.Results;

namespace ScoreLens.Cli.Marking;

/// <summary>Writes a folder a student to hand back.</summary>
/// <param name="Folder">Where the folders go; null for none.</param>
/// <param name="IsAnonymous">Whether names are left out.</param>
internal sealed record HandBack(string? Folder, bool IsAnonymous)
{
    /// <summary>Writes the folder of every submission that was marked.</summary>
    public void Write(Session session, IReadOnlyList<MarkedSubmission> submissions, Assignment assignment)
    {
        if (Folder is null) return;
        for (var i = 0; i < submissions.Count; i++)
        {
            if (!submissions[i].IsMarked) continue;
            using var results = session.ResultsIn(Path.Combine(Folder, NameOf(submissions[i], i)));
            if (MarkedScore.Write(submissions[i]) is { } score)
                results.Add(submissions[i].File!.MusicXml!.IsCompressed ? "marked.mxl" : "marked.musicxml", score);
            if (StudentFeedback.Write(submissions[i], assignment, IsAnonymous) is { } page) results.Add("feedback.html", page);
            results.Commit();
        }
    }

    private string NameOf(MarkedSubmission submission, int place)
    {
        var name = !IsAnonymous ? submission.Name : submission.Identifier.Length > 0 ? submission.Identifier : $"{place + 1}";
        return string.Concat(name.Select(c => Path.GetInvalidFileNameChars().Contains(c) || c is '/' or '\\' ? '_' : c));
    }
}
