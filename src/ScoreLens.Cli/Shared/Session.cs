using System.CommandLine;
using System.Diagnostics;
using System.Runtime.InteropServices;
using ScoreLens.Keys;
using ScoreLens.Notation;
using ScoreLens.Reading;

namespace ScoreLens.Cli.Shared;

/// <summary>
/// One run of a command over its inputs: finds them, works on several at a time, reports in their order, goes on after one
/// that fails, shows progress on a terminal, and knows the exit status.
/// </summary>
internal sealed class Session
{
    private readonly Lock _console = new();
    private readonly int _jobs;
    private readonly bool _showsProgress;
    private readonly IReadOnlySet<string> _inputPaths;
    private int _done;
    private int _failures;
    private int _unreadable;
    private int _misdirected;

    /// <summary>Starts a run.</summary>
    /// <param name="parse">The command line.</param>
    /// <param name="options">The shared options that the command added.</param>
    /// <param name="extensions">Endings that a folder is searched for; those of scores where nothing is said.</param>
    /// <param name="outFolder">Where results go in place of the folder of <c>--out</c>.</param>
    /// <param name="except">Files that are no input though a folder holds them.</param>
    /// <param name="reports">Whether an input that names nothing to read is reported; not where a run looks again.</param>
    public Session(
        ParseResult parse, ScoreOptions options, IReadOnlyCollection<string>? extensions = null, string? outFolder = null,
            IReadOnlyCollection<string>? except = null, bool reports = true)
    {
        Output = parse.InvocationConfiguration.Output;
        Error = parse.InvocationConfiguration.Error;
        IsQuiet = parse.GetValue(options.Quiet);
        OutFolder = outFolder ?? (parse.CommandResult.Command.Options.Contains(options.Out) ? parse.GetValue(options.Out) : null);
        if (OutFolder is { Length: 0 }) throw new UsageException("--out takes a folder.");
        if (File.Exists(OutFolder)) throw new UsageException($"--out: {OutFolder} is a file, so no results can be written into it; "
            + $"choose another folder.");
        From = parse.CommandResult.Command.Options.Contains(options.From) ? parse.GetValue(options.From) : HarmonySource.Automatic;
        Movement = parse.CommandResult.Command.Options.Contains(options.Movement) ? parse.GetValue(options.Movement) : null;
        _jobs = parse.GetValue(options.Jobs);
        _showsProgress = !IsQuiet && ReferenceEquals(Error, Console.Error) && !Console.IsErrorRedirected;
        Inputs = ScoreInputs.Expand(parse.GetRequiredValue(options.Scores), OutFolder, extensions ?? ScoreFile.Extensions,
            reports ? Fail : (_, _) => { });
        if (except is { Count: > 0 })
        {
            var left = except.Select(RealPath.Of).ToHashSet(StringComparer.Ordinal);
            Inputs = [.. Inputs.Where(i => !left.Contains(RealPath.Of(i.Path)))];
        }

        if (parse.CommandResult.Command.Options.Contains(options.Shard) && parse.GetValue(options.Shard) is { } shard)
            Inputs = [.. Inputs.Where(i => shard.Holds(i.NameBelow))];
        _inputPaths = Inputs.Select(i => RealPath.Of(i.Path)).ToHashSet(StringComparer.Ordinal);
    }

    /// <summary>Where results are printed.</summary>
    public TextWriter Output { get; }

    /// <summary>Where errors and progress are printed.</summary>
    public TextWriter Error { get; }

    /// <summary>Whether only errors and what was asked for are to be printed.</summary>
    public bool IsQuiet { get; }

    /// <summary>The folder of <c>--out</c>; null where results go beside the inputs.</summary>
    public string? OutFolder { get; }

    /// <summary>Requested by the first Ctrl-C while the run works on its inputs.</summary>
    public CancellationToken Stopped { get; private set; }

    /// <summary>What harmony is read from.</summary>
    public HarmonySource From { get; }

    /// <summary>The movement that is asked for; null for all.</summary>
    public int? Movement { get; }

    /// <summary>The inputs in the order of the command line.</summary>
    public IReadOnlyList<ScoreInput> Inputs { get; }

    /// <summary>
    /// <see cref="ExitStatus.Done"/>; <see cref="ExitStatus.Unreadable"/> once an input has failed; but <see
    /// cref="ExitStatus.WrongCommandLine"/> where what the command line asks for fits none of the inputs (a measure that none of them has),
    /// or results were sent to where an input lies.
    /// </summary>
    public int Status =>
        _failures == 0 ? ExitStatus.Done : _misdirected > 0 || (_done == 0 && _unreadable == 0)
            ? ExitStatus.WrongCommandLine
            : ExitStatus.Unreadable;

    /// <summary>The exit status: unreadable inputs first, then what was found.</summary>
    public int StatusWhen(bool found) => Status == ExitStatus.Done && found ? ExitStatus.Found : Status;

    /// <summary>Reports that an input could not be read, or its results not written.</summary>
    public void Fail(string path, string message)
    {
        Interlocked.Increment(ref _unreadable);
        Report(path, message);
    }

    /// <summary>Reads the score of an input, and says what was read all the same and should be put right in the file.</summary>
    /// <exception cref="OperationCanceledException">The run was stopped.</exception>
    public ScoreFile Load(ScoreInput input)
    {
        var file = ScoreFile.Load(input.Path, cancellationToken: Stopped);
        if (IsQuiet) return file;
        foreach (var warning in file.Warnings)
        {
            lock (_console)
            {
                ClearProgress();
                Error.WriteLine($"scorelens: {input.Path}: {warning.ToDisplayString()}");
            }
        }

        return file;
    }

    /// <summary>Says which returns in a score could not be followed where times are counted as played.</summary>
    public void SayUnfollowed(ScoreInput input, Score score, ClockOptions clock)
    {
        if (IsQuiet || !clock.AsPlayed || ScoreClock.Of(score, clock) is not { } times) return;
        foreach (var problem in times.Unfollowed)
        {
            lock (_console)
            {
                ClearProgress();
                Error.WriteLine($"scorelens: {input.Path}: {problem}.");
            }
        }
    }

    /// <summary>Analyses a score: all of it, or the movement that is asked for.</summary>
    /// <param name="score">The score.</param>
    /// <param name="keys">When a key counts as new.</param>
    /// <exception cref="UsageException">The score has no such movement.</exception>
    /// <exception cref="OperationCanceledException">The run was stopped.</exception>
    public CueAnalysis Analyse(Score score, KeyRule keys = KeyRule.Confirm)
    {
        var analysis = CueAnalysis.Of(score, keys, From, Stopped);
        if (Movement is not { } number) return analysis;
        if (analysis.Movements.Any(m => m.Movement == number)) return analysis.Only(number);
        throw NoMovement(number, analysis.Movements.Count);
    }

    /// <summary>The score, or the movement of it that is asked for.</summary>
    /// <exception cref="UsageException">The score has no such movement.</exception>
    public Score Chosen(Score score)
    {
        if (Movement is not { } number) return score;
        var movements = score.Movements;
        return score.Of(movements.FirstOrDefault(m => m.Number == number) ?? throw NoMovement(number, movements.Count));
    }

    /// <summary>What is wrong where a file has no such movement.</summary>
    public static UsageException NoMovement(int number, int count) =>
        new($"--movement {number}: {(count == 1 ? "the file holds one movement" : $"the file has the movements 1 to {count}")}.");

    private void Report(string path, string message)
    {
        Interlocked.Increment(ref _failures);
        lock (_console)
        {
            ClearProgress();
            Error.WriteLine($"scorelens: {path}: {message}");
        }
    }

    /// <summary>A set of result files that leaves the inputs of this run alone.</summary>
    public ResultFiles ResultsIn(string folder) => new(folder, _inputPaths);

    /// <summary>
    /// Works on every input, several at a time. Inputs that fail, or that what is asked for does not fit (<see cref="UsageException"/>),
    /// are reported and left out of the result.
    /// </summary>
    /// <param name="work">What to do with an input; called on several threads.</param>
    /// <param name="report">Called with every result in the order of the inputs, as soon as all before it are there.</param>
    /// <exception cref="OperationCanceledException">The run was stopped; the message says how many inputs were finished.</exception>
    public IReadOnlyList<T> ForEach<T>(Func<ScoreInput, T> work, Action<T>? report = null)
        where T : class => ForEach(Inputs, work, report);

    /// <summary>Works on some of the inputs as <see cref="ForEach{T}(Func{ScoreInput, T}, Action{T}?)"/> does on all.</summary>
    public IReadOnlyList<T> ForEach<T>(IReadOnlyList<ScoreInput> inputs, Func<ScoreInput, T> work, Action<T>? report = null)
        where T : class
    {
        var results = new T?[inputs.Count];
        var finished = new bool[inputs.Count];
        int done = 0, reported = 0;
        var began = Stopwatch.StartNew();
        // Never disposed: a signal may come while the last input ends, and there is nothing in it to set free.
        var stopping = new CancellationTokenSource();
        Stopped = stopping.Token;
        using var interrupt = Stopping(PosixSignal.SIGINT, stopping);
        using var terminate = Stopping(PosixSignal.SIGTERM, stopping);
        try
        {
            // One at a time in turn, so that the order of work is the order of reports and little is kept waiting.
            var next = -1;
            Parallel.For(0, Math.Min(_jobs, inputs.Count), new ParallelOptions { MaxDegreeOfParallelism = _jobs }, (_, state) =>
            {
                while (!Stopped.IsCancellationRequested && !state.ShouldExitCurrentIteration
                    && Interlocked.Increment(ref next) is var i && i < inputs.Count) Do(i);
            });
        }
        finally
        {
            lock (_console) ClearProgress();
        }

        // What is made of all inputs, such as a comparison, is not made of some.
        if (Stopped.IsCancellationRequested) throw new OperationCanceledException(
            $"stopped; {done} of {inputs.Count} inputs were finished, and nothing is half written.", Stopped);
        return [.. results.OfType<T>()];

        void Do(int index)
        {
            var input = inputs[index];
            T? result = null;
            try
            {
                result = work(input);
                Interlocked.Increment(ref _done);
            }
            catch (OperationCanceledException) when (Stopped.IsCancellationRequested)
            {
                return;
            }
            catch (UsageException e)
            {
                if (e.IsOfRun) Interlocked.Increment(ref _misdirected);
                Report(input.Path, e.Message);
            }
            catch (Exception e) when (Failures.Describe(e) is { } message)
            {
                Fail(input.Path, message);
            }

            lock (_console)
            {
                (results[index], finished[index]) = (result, true);
                done++;
                ClearProgress();
                for (; reported < finished.Length && finished[reported]; reported++)
                    if (results[reported] is { } ready) report?.Invoke(ready);
                if (_showsProgress && done < inputs.Count) Error.Write($"\r{done} of {inputs.Count} "
                    + $"done{TimeLeft(began.Elapsed, done, inputs.Count)}");
            }
        }
    }

    // What is begun is given up or finished, nothing more is begun; a second signal ends the program at once. A program that runs the
    // command line with writers of its own keeps its own signals.
    private PosixSignalRegistration? Stopping(PosixSignal signal, CancellationTokenSource stopping) =>
        !ReferenceEquals(Error, Console.Error) ? null
        : PosixSignalRegistration.Create(signal, context =>
        {
            context.Cancel = !stopping.IsCancellationRequested;
            stopping.Cancel();
        });

    // Worth saying once there is something to reckon from.
    private static string TimeLeft(TimeSpan gone, int done, int all)
    {
        if (gone.TotalSeconds < 3) return "";
        var left = gone * (all - done) / done;
        return left.TotalMinutes >= 1.5 ? $", about {left.TotalMinutes:0} min left" : $", about {Math.Max(1, left.TotalSeconds):0} s left";
    }

    private void ClearProgress()
    {
        if (_showsProgress) Error.Write("\r\u001b[K");
    }
}
