using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Logging;

namespace Chamber.Club.Homes;

/// <summary>Tells homes that something was taken in for them, one call a home, and waits for no answer. Who could not be told is told
/// again soon; what is lost all the same the home finds by itself. While no silo can be reached the log says so.</summary>
internal sealed partial class HomeTeller : IAsyncDisposable
{
    // A silo that starts with the intake is there by then.
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(5);
    private static readonly TimeSpan SaidEvery = TimeSpan.FromMinutes(1);
    private static readonly TimeSpan AgainAfter = TimeSpan.FromSeconds(1);

    private readonly CancellationTokenSource ended = new();
    private readonly Lock gate = new();
    // Each with whether it is told of heat.
    private readonly Dictionary<int, bool> untold = [];
    private readonly TimeProvider time;
    private readonly ILogger logger;
    private readonly IHost host;
    private readonly Task joining;
    private readonly Task saying;
    private string problem = "no answer yet";
    private bool isCutOff;
    private bool isToBeToldAgain;

    public HomeTeller(string address, TimeProvider time, ILogger<HomeTeller> logger)
    {
        (this.time, this.logger) = (time, logger);
        host = SiloHost.Client(address, refused => problem = refused.Message, SiloHost.ToldWithin);
        joining = Task.Run(async () =>
        {
            await host.StartAsync(ended.Token);
            Joined(logger);
            Tell();
        });
        saying = SayAsync();
    }

    /// <param name="homes">Homes for which something was taken in, each with whether it is so warm that the home looks at once.</param>
    public void Tell(IReadOnlyDictionary<int, bool> homes)
    {
        lock (gate)
        {
            foreach (var (home, isHot) in homes)
            {
                untold[home] = untold.GetValueOrDefault(home) | isHot;
            }
        }

        if (joining.IsCompletedSuccessfully)
        {
            Tell();
        }
    }

    public async ValueTask DisposeAsync()
    {
        await ended.CancelAsync();
        await joining.ContinueWith(_ => { }, TaskScheduler.Default);
        await saying;
        await host.StopAsync();
        host.Dispose();
        ended.Dispose();
    }

    private async Task SayAsync()
    {
        try
        {
            for (var wait = Patience; await Task.WhenAny(joining, Task.Delay(wait, time, ended.Token)) != joining; wait = SaidEvery)
            {
                ended.Token.ThrowIfCancellationRequested();
                NotJoined(logger, problem);
            }

            await joining;
        }
        catch (OperationCanceledException) when (ended.IsCancellationRequested)
        {
            // It ends.
        }
        catch (Exception never) when (never is OrleansException or InvalidOperationException or IOException
            or System.Data.Common.DbException)
        {
            NeverJoined(logger, never.Message);
        }
    }

    private void Tell()
    {
        var grains = host.Services.GetRequiredService<IGrainFactory>();
        KeyValuePair<int, bool>[] homes;
        lock (gate)
        {
            homes = [.. untold];
            untold.Clear();
        }

        foreach (var (home, isHot) in homes)
        {
            _ = TellAsync(grains.GetGrain<IHomeGrain>(home), home, isHot);
        }
    }

    private async Task TellAsync(IHomeGrain grain, int home, bool isHot)
    {
        try
        {
            await (isHot ? grain.TellOfHeatAsync() : grain.TellAsync());
            if (Turn(cutOff: false))
            {
                ToldAgain(logger);
            }
        }
        catch (Exception refused) when (refused is OrleansException or TimeoutException or OperationCanceledException)
        {
            if (Turn(cutOff: true))
            {
                NotTold(logger, refused.Message);
            }

            await TellAgainAsync(home, isHot);
        }
    }

    // A home that sleeps and was to hear of heat must not wait until something more comes.
    private async Task TellAgainAsync(int home, bool isHot)
    {
        lock (gate)
        {
            untold[home] = untold.GetValueOrDefault(home) | isHot;
            if (isToBeToldAgain)
            {
                return;
            }

            isToBeToldAgain = true;
        }

        await Task.Delay(AgainAfter, time, ended.Token).ContinueWith(_ => { }, TaskScheduler.Default);
        lock (gate)
        {
            isToBeToldAgain = false;
        }

        if (!ended.IsCancellationRequested)
        {
            Tell();
        }
    }

    // Whether that is new.
    private bool Turn(bool cutOff)
    {
        lock (gate)
        {
            (var before, isCutOff) = (isCutOff, cutOff);
            return before != cutOff;
        }
    }

    [LoggerMessage(LogLevel.Information, "The silos are reached: homes are told when something comes.")]
    private static partial void Joined(ILogger logger);

    [LoggerMessage(LogLevel.Warning, "No silo is reached: {Problem} Readings are kept all the same, and homes on a silo find them within a "
        + "minute. Start a silo (chamber-club silo), or let this machine reach the gateway ports of those that run.")]
    private static partial void NotJoined(ILogger logger, string problem);

    [LoggerMessage(LogLevel.Error, "The silos can no longer be asked for by this process: {Problem} Readings are kept all the same, and "
        + "homes find them within a minute. Start it again.")]
    private static partial void NeverJoined(ILogger logger, string problem);

    [LoggerMessage(LogLevel.Warning, "A home cannot be told: {Problem} It is told with the next reading, or finds it within a minute.")]
    private static partial void NotTold(ILogger logger, string problem);

    [LoggerMessage(LogLevel.Information, "Homes are told again.")]
    private static partial void ToldAgain(ILogger logger);
}
