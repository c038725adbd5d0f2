using System.Diagnostics;
using System.Runtime.InteropServices;

namespace Chamber.Testing;

/// <summary>
/// A program started by a test. Every line it prints is kept; a test waits for what it prints, never for time to pass.
/// Disposal kills the program with all that it started.
/// </summary>
public sealed class RunningProgram : IAsyncDisposable
{
    /// <summary>A program that says nothing for so long hangs; the wait then fails with everything printed so far.</summary>
    public static readonly TimeSpan Patience = TimeSpan.FromMinutes(3);

    private const int Interrupt = 2;
    private const int Terminate = 15;
    private const int Continue = 18;
    private const int Stop = 19;

    private readonly Process process;
    private readonly string name;
    private readonly Lock gate = new();
    private readonly List<string> output = [];
    private readonly List<string> errors = [];
    private readonly List<(Func<string, bool> Wanted, TaskCompletionSource<string> Found)> waits = [];
    private readonly Task ended;

    private RunningProgram(Process process, string name)
    {
        this.process = process;
        this.name = name;
        process.OutputDataReceived += (_, line) => Take(output, line.Data);
        process.ErrorDataReceived += (_, line) => Take(errors, line.Data);
        process.BeginOutputReadLine();
        process.BeginErrorReadLine();
        ended = WatchEnd();
    }

    public int Id => process.Id;

    public bool HasExited => process.HasExited;

    /// <summary>What the program printed to its standard output so far.</summary>
    public string Output => Text(output);

    /// <summary>What the program printed to its standard error so far.</summary>
    public string Errors => Text(errors);

    /// <param name="program">A file, or a name on the path.</param>
    /// <param name="arguments">Passed as they are, without a shell.</param>
    /// <param name="input">Its whole standard input; null for none.</param>
    /// <param name="environment">Variables set beside the inherited ones; null removes one.</param>
    /// <param name="folder">Where it runs; null for where the test runs.</param>
    public static RunningProgram Start(
        string program,
        IEnumerable<string> arguments,
        string? input = null,
        IReadOnlyDictionary<string, string?>? environment = null,
        string? folder = null)
    {
        var start = new ProcessStartInfo(program, arguments)
        {
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            WorkingDirectory = folder ?? string.Empty,
        };
        foreach (var (variable, value) in environment ?? new Dictionary<string, string?>())
        {
            start.Environment[variable] = value;
        }

        var process = Process.Start(start) ?? throw new InvalidOperationException($"{program} did not start.");
        _ = Feed(process.StandardInput, input);
        return new(process, Path.GetFileName(program));
    }

    // Not awaited: a program that stops reading must not hold up whoever is to stop it.
    private static async Task Feed(StreamWriter standardInput, string? input)
    {
        try
        {
            await using (standardInput)
            {
                await standardInput.WriteAsync(input).ConfigureAwait(false);
            }
        }
        catch (IOException)
        {
            // The program ended without reading all of it.
        }
    }

    /// <summary>Starts a program and waits for its end; <paramref name="patience"/> is for one that works long without a word.</summary>
    public static async Task<ProgramResult> Run(
        string program,
        IEnumerable<string> arguments,
        string? input = null,
        IReadOnlyDictionary<string, string?>? environment = null,
        string? folder = null,
        TimeSpan? patience = null)
    {
        await using var running = Start(program, arguments, input, environment, folder);
        return await running.End(patience);
    }

    /// <summary>The first line, printed already or still to come, that holds <paramref name="text"/>.</summary>
    /// <exception cref="InvalidOperationException">The program ended without it, or hangs.</exception>
    public Task<string> Line(string text) => Line(line => line.Contains(text, StringComparison.Ordinal), text);

    /// <summary>The first line, printed already or still to come, that is <paramref name="wanted"/>.</summary>
    /// <exception cref="InvalidOperationException">The program ended without it, or hangs.</exception>
    public async Task<string> Line(Func<string, bool> wanted, string what = "the awaited line")
    {
        var found = new TaskCompletionSource<string>(TaskCreationOptions.RunContinuationsAsynchronously);
        lock (gate)
        {
            if (output.Concat(errors).FirstOrDefault(wanted) is { } line)
            {
                return line;
            }

            waits.Add((wanted, found));
        }

        await Task.WhenAny(found.Task, ended).WaitAsync(Patience).ContinueWith(_ => { }, TaskScheduler.Default);
        return found.Task.IsCompletedSuccessfully ? await found.Task : throw Missed(what);
    }

    /// <summary>Waits until the program has ended and everything it printed was read.</summary>
    /// <exception cref="InvalidOperationException">The program hangs.</exception>
    public async Task<ProgramResult> End(TimeSpan? patience = null)
    {
        await ended.WaitAsync(patience ?? Patience).ContinueWith(_ => { }, TaskScheduler.Default);
        return ended.IsCompleted ? new(process.ExitCode, Output, Errors) : throw Missed("its end");
    }

    /// <summary>Kills the program at once, without a chance to tidy up (SIGKILL), and waits until it is gone.</summary>
    public async Task Kill()
    {
        process.Kill(entireProcessTree: true);
        await ended;
    }

    /// <summary>What Ctrl-C does (SIGINT).</summary>
    public void PressControlC() => Signal(Interrupt);

    /// <summary>What a service manager does to stop a program (SIGTERM).</summary>
    public void AskToStop() => Signal(Terminate);

    /// <summary>Stops it where it stands, as a machine that hangs does (SIGSTOP).</summary>
    public void Freeze() => Signal(Stop);

    /// <summary>Lets it go on after <see cref="Freeze"/> (SIGCONT).</summary>
    public void Thaw() => Signal(Continue);

    /// <summary>Lets it run a part of the time only, as on a machine with too much to do, until the answer is disposed of.</summary>
    /// <param name="stopped">For so long it stands, again and again.</param>
    /// <param name="running">For so long it runs between.</param>
    public IAsyncDisposable Hobble(TimeSpan stopped, TimeSpan running) => new Hobbled(this, stopped, running);

    public async ValueTask DisposeAsync()
    {
        if (!process.HasExited)
        {
            await Kill();
        }

        process.Dispose();
    }

    [DllImport("libc", SetLastError = true)]
    private static extern int kill(int process, int signal);

    private void Signal(int signal)
    {
        if (kill(process.Id, signal) != 0)
        {
            throw new InvalidOperationException($"Signal {signal} did not reach {name}.");
        }
    }

    private async Task WatchEnd() => await process.WaitForExitAsync();

    private void Take(List<string> lines, string? line)
    {
        if (line is null)
        {
            return;
        }

        lock (gate)
        {
            lines.Add(line);
            foreach (var wait in waits.Where(wait => wait.Wanted(line)))
            {
                wait.Found.TrySetResult(line);
            }
        }
    }

    private string Text(List<string> lines)
    {
        lock (gate)
        {
            return string.Join('\n', lines);
        }
    }

    private sealed class Hobbled : IAsyncDisposable
    {
        private readonly CancellationTokenSource end = new();
        private readonly Task going;

        public Hobbled(RunningProgram program, TimeSpan stopped, TimeSpan running) => going = Task.Run(async () =>
        {
            while (!end.IsCancellationRequested && !program.HasExited)
            {
                program.Freeze();
                await Task.Delay(stopped, TimeProvider.System);
                program.Thaw();
                await Task.Delay(running, TimeProvider.System);
            }
        });

        public async ValueTask DisposeAsync()
        {
            await end.CancelAsync();
            await going;
            end.Dispose();
        }
    }

    private InvalidOperationException Missed(string what) =>
        new($"{name} {(process.HasExited ? $"ended with exit code {process.ExitCode}" : "is still running")} without "
            + $"{what}.\n{Output}\n{Errors}");
}

/// <summary>How a program ended and what it printed.</summary>
public sealed record ProgramResult(int ExitCode, string Output, string Errors)
{
    /// <summary>The standard output of a program that must have succeeded.</summary>
    /// <exception cref="InvalidOperationException">The exit code is not 0.</exception>
    public string Succeeded() =>
        ExitCode == 0 ? Output : throw new InvalidOperationException($"Exit code {ExitCode}.\n{Output}\n{Errors}");
}
