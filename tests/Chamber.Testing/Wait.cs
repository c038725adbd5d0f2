namespace Chamber.Testing;

/// <summary>
/// The one way for a test to wait: for an answer, with a bound and a reason that the failure says. It never waits for time to pass, so on a
/// quick machine it takes no longer than what is awaited.
/// </summary>
public static class Wait
{
    // Long enough that a question over HTTP or to a file leaves the cores to those who are to answer it.
    private static readonly TimeSpan Pause = TimeSpan.FromMilliseconds(20);
    private static readonly TimeSpan Glance = TimeSpan.FromMilliseconds(1);

    /// <summary>What a task comes to.</summary>
    /// <param name="what">What is awaited, as "the notice".</param>
    /// <param name="task">It.</param>
    /// <exception cref="TimeoutException">It did not come within <see cref="RunningProgram.Patience"/>.</exception>
    public static async Task<T> For<T>(string what, Task<T> task)
    {
        await For(what, (Task)task);
        return await task;
    }

    /// <inheritdoc cref="For{T}(string, Task{T})"/>
    public static async Task For(string what, Task task)
    {
        try
        {
            await task.WaitAsync(RunningProgram.Patience);
        }
        catch (TimeoutException) when (!task.IsCompleted)
        {
            throw Missed(what, null);
        }
    }

    /// <summary>Asks again and again until there is an answer, with a pause between.</summary>
    /// <param name="what">What is awaited, as "the health page".</param>
    /// <param name="ask">Null for no answer yet. An exception of a connection is no answer yet either.</param>
    /// <exception cref="TimeoutException">There was none within <see cref="RunningProgram.Patience"/>.</exception>
    public static async Task<T> Until<T>(string what, Func<Task<T?>> ask)
        where T : class
    {
        using var patience = new CancellationTokenSource(RunningProgram.Patience);
        Exception? last = null;
        while (!patience.IsCancellationRequested)
        {
            try
            {
                if (await ask() is { } answer)
                {
                    return answer;
                }
            }
            catch (Exception problem) when (problem is HttpRequestException or IOException)
            {
                last = problem;
            }

            await Task.Delay(Pause, TimeProvider.System);
        }

        throw Missed(what, last);
    }

    /// <summary>Waits for something inside this process, which costs little to look at.</summary>
    /// <param name="what">What is awaited.</param>
    /// <param name="isSo">Whether it has come.</param>
    /// <exception cref="TimeoutException">It did not come within <see cref="RunningProgram.Patience"/>.</exception>
    public static async Task Until(string what, Func<bool> isSo)
    {
        using var patience = new CancellationTokenSource(RunningProgram.Patience);
        while (!isSo())
        {
            if (patience.IsCancellationRequested)
            {
                throw Missed(what, null);
            }

            await Task.Delay(Glance, TimeProvider.System);
        }
    }

    private static TimeoutException Missed(string what, Exception? last) =>
        new($"Waited {RunningProgram.Patience.TotalSeconds} s in vain for {what}.", last);
}
