using Chamber.Service.Configuration;

namespace Chamber.Service.Workers;

/// <summary>Puts in force what the command line or an editor has changed in chamber.json, where a running service can change it.</summary>
internal sealed class SettingsFollower(SettingsInForce inForce, ILogger<SettingsFollower> logger) : Worker
{
    private static readonly TimeSpan Period = TimeSpan.FromSeconds(1);

    protected override async Task WorkAsync(CancellationToken stop)
    {
        // Real time: a demo that runs faster does not make people type faster.
        using var timer = new PeriodicTimer(Period);
        while (await timer.WaitForNextTickAsync(stop))
        {
            switch (inForce.Follow())
            {
                case (true, null):
                    Log.SettingsFollowed(logger);
                    break;
                case (true, { } problem):
                    Log.SettingsNotFollowed(logger, problem);
                    break;
            }
        }
    }
}
