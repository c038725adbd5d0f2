using Chamber.Mqtt.Announcing;
using Chamber.Mqtt.Broker;
using Chamber.Service.Configuration;

namespace Chamber.Service.Workers;

/// <summary>Tells the home network where the own broker is (DNS-SD), while that is switched on and sensors of the network are let
/// in.</summary>
internal sealed class BrokerAnnouncer(Settings settings, SettingsInForce inForce, DataDirectory data, TimeProvider clock) : Worker
{
    protected override async Task WorkAsync(CancellationToken stop)
    {
        if (settings.Broker is not { Own: true, Announce: true })
        {
            await Task.Delay(Timeout.InfiniteTimeSpan, clock, stop);
        }

        while (true)
        {
            stop.ThrowIfCancellationRequested();
            using var changed = CancellationTokenSource.CreateLinkedTokenSource(stop);
            inForce.Changed += Again;
            try
            {
                if (Reachable() is { } listener)
                {
                    await new Announcer($"Chamber on {Environment.MachineName}", Environment.MachineName, listener.Port,
                        listener.CertificateFile is not null, Announcer.Networks(), clock).RunAsync(changed.Token);
                }

                await Task.Delay(Timeout.InfiniteTimeSpan, clock, changed.Token);
            }
            catch (OperationCanceledException) when (!stop.IsCancellationRequested)
            {
                // Who is let in was changed: what is told follows it.
            }
            finally
            {
                inForce.Changed -= Again;
            }

            void Again() => changed.Cancel();
        }
    }

    // A broker that only this machine reaches is nothing to tell of.
    private ListenerOptions? Reachable() => BrokerParts.OfHome(inForce.HomeNetwork)
        ?? BrokerParts.Own(settings.Broker, data).Listeners.FirstOrDefault(listener => !System.Net.IPAddress.IsLoopback(listener.Address));
}
