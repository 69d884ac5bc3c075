using System.Reflection;
using System.Security.Cryptography;
using System.Text;
using ScoreLens.Cli.Shared;

namespace ScoreLens.Cli.Annotating;

/// <summary>
/// Tells whether results are there already: by a small file beside them that holds what they were made from (the input's bytes, what was
/// asked, the program's version) and which files they are.
/// </summary>
internal static class EarlierRun
{
    /// <summary>The name of the file for an input.</summary>
    public static string FileName(ScoreInput input) => $"{input.Name}.resume.txt";

    /// <summary>What results would be made from now, as text.</summary>
    /// <exception cref="IOException">The input cannot be read.</exception>
    public static string Fingerprint(ScoreInput input, Session session, AnnotationRequest request)
    {
        var version = typeof(EarlierRun).Assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()?.InformationalVersion;
        var asked = Encoding.UTF8.GetBytes($"{version}\n{session.Movement}\n{session.From}\n{request}\n");
        return Convert.ToHexStringLower(SHA256.HashData([.. asked, .. File.ReadAllBytes(input.Path)]));
    }

    /// <summary>Whether all results of an input are there and were made from the same.</summary>
    public static bool IsThere(ScoreInput input, string fingerprint)
    {
        var place = Path.Combine(input.Folder, FileName(input));
        return File.Exists(place) && File.ReadAllLines(place) is [var first, .. var files] && first == fingerprint
            && files.Length > 0 && files.All(f => File.Exists(Path.Combine(input.Folder, f)));
    }

    /// <summary>Adds the file to the results that it tells of.</summary>
    public static void AddTo(ResultFiles results, ScoreInput input, string fingerprint) =>
        results.Add(FileName(input), string.Join('\n', [fingerprint, .. results.Names]) + "\n");
}
