using System.CommandLine;
using System.Globalization;
using ScoreLens.Cli.Shared;
using ScoreLens.Density;

namespace ScoreLens.Cli.Annotating;

/// <summary>
/// Annotates scores again whenever they are saved. A file is read when it has kept its size and time for a moment, so that a half
/// written one is left alone; one that cannot be read is reported and tried again when it is saved anew.
/// </summary>
internal sealed class Watching(ParseResult parse, ScoreOptions scores, AnnotationRequest request)
{
    private static readonly TimeSpan Pause = TimeSpan.FromMilliseconds(200);

    private readonly Dictionary<string, FileState> _seen = [];
    private readonly Dictionary<string, FileState> _done = [];
    private readonly Dictionary<string, CueDensity> _balances = [];
    private readonly TextWriter _output = parse.InvocationConfiguration.Output;
    private bool _hasInput;

    /// <summary>Watches until it is stopped; an error only where there is nothing to watch at the start.</summary>
    public async Task<int> Run(CancellationToken stop)
    {
        try
        {
            for (var first = true; !stop.IsCancellationRequested; first = false)
            {
                var session = Look(reports: first);
                if (first && !_hasInput) return session.Status;
                if (first) await _output.WriteLineAsync("Watching; Ctrl+C ends it.").ConfigureAwait(false);
                await Task.Delay(Pause, stop).ConfigureAwait(false);
            }
        }
        catch (OperationCanceledException)
        {
            // Being stopped is how watching ends.
        }

        return ExitStatus.Done;
    }

    // Inputs are looked for each time, so that a score that is saved into a watched folder is found.
    private Session Look(bool reports)
    {
        // What is wrong with a path was said at the start.
        var session = new Session(parse, scores, reports: reports);
        var due = new List<ScoreInput>();
        foreach (var input in session.Inputs)
        {
            _hasInput = true;
            if (FileState.Of(input.Path) is not { } state) continue;
            var isStill = reports || (_seen.TryGetValue(input.Path, out var before) && before == state);
            _seen[input.Path] = state;
            if (!isStill || (_done.TryGetValue(input.Path, out var done) && done == state)) continue;
            _done[input.Path] = state;
            due.Add(input);
        }

        if (due.Count == 0) return session;
        session.ForEach(due, input => new Done(input, Annotated.Write(session, input, request, _done[input.Path].Stamp)), Report);
        return session;
    }

    private void Report(Done done)
    {
        var name = done.Input.Path;
        var time = DateTime.Now.ToString("HH:mm:ss", CultureInfo.InvariantCulture);
        _output.WriteLine(_balances.TryGetValue(name, out var before)
            ? $"{time} {name}: {BalanceChange.Of(before, done.Result.Density)}" : done.Result.Summary);
        _output.Flush();
        _balances[name] = done.Result.Density;
    }

    private sealed record Done(ScoreInput Input, Annotated Result);

    private readonly record struct FileState(DateTime Saved, long Size)
    {
        /// <summary>What tells this state from others.</summary>
        public string Stamp => string.Create(CultureInfo.InvariantCulture, $"{Saved.Ticks}-{Size}");

        public static FileState? Of(string path)
        {
            try
            {
                var file = new FileInfo(path);
                return file.Exists && file.Length > 0 ? new FileState(file.LastWriteTimeUtc, file.Length) : null;
            }
            catch (Exception e) when (e is IOException or UnauthorizedAccessException)
            {
                return null;
            }
        }
    }
}
