using Chamber.Core.Alerts;
using Chamber.Storage;
using NodaTime;
using NodaTime.Text;

namespace Chamber.Service.Workers;

/// <summary>Writes down the times in which nothing could be heard, so that silence then is no probe's fault. Belongs to the thread of the watch.</summary>
internal sealed class Outages(ChamberStore store, BrokerWorker broker)
{
    private const string AliveSetting = "service.alive";
    private static readonly Duration Unnoticed = Duration.FromMinutes(5);

    private Instant? brokerLostAt;

    /// <summary>After a start: since when the service was down.</summary>
    public void Begin(Instant now)
    {
        var last = store.Ledger.Settings.Get(AliveSetting) is { } text && InstantPattern.ExtendedIso.Parse(text) is { Success: true } parsed ? parsed.Value : (Instant?)null;
        if (last is { } alive && now - alive > Unnoticed)
        {
            store.Ledger.Alerts.Save(new OutageEntry(new(alive, now), nameof(OutageCause.Service)));
        }

        foreach (var open in store.Ledger.Alerts.Outages().Where(outage => !outage.When.HasEnd))
        {
            store.Ledger.Alerts.Save(open with { When = new(open.When.Start, Instant.Max(open.When.Start, now)) });
        }

        Alive(now);
    }

    /// <summary>Every minute. Whether what is known of outages has changed.</summary>
    public bool Pass(Instant now)
    {
        Alive(now);
        if (broker.IsConnected == brokerLostAt is null)
        {
            return false;
        }

        if (brokerLostAt is { } since)
        {
            store.Ledger.Alerts.Save(new OutageEntry(new(since, now), nameof(OutageCause.Broker)));
            brokerLostAt = null;
        }
        else
        {
            brokerLostAt = now;
            store.Ledger.Alerts.Save(new OutageEntry(new(now, null), nameof(OutageCause.Broker)));
        }

        return true;
    }

    private void Alive(Instant now) => store.Ledger.Settings.Set(AliveSetting, InstantPattern.ExtendedIso.Format(now));
}
