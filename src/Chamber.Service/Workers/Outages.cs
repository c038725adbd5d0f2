using Chamber.Core.Alerts;
using Chamber.Service.Health;
using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Workers;

/// <summary>
/// Records the times in which nothing could be heard, or nothing stored, so that silence then is no probe's fault. Belongs to the
/// thread of the watch.
/// </summary>
/// <param name="store">Where they are recorded.</param>
/// <param name="isConnected">Whether there is a broker.</param>
/// <param name="isStoring">Whether what arrives can be stored.</param>
/// <param name="hasSkipped">Whether the clock has just skipped a time, which is recorded.</param>
internal sealed class Outages(ChamberStore store, Func<bool> isConnected, Func<bool> isStoring, Func<bool> hasSkipped)
{
    private static readonly Duration Unnoticed = Duration.FromMinutes(5);

    private Instant? brokerLostAt;
    private Instant? unwrittenSince;

    /// <summary>What has arrived cannot be stored, and so is not known to the watch: silence is ours now, and no probe's fault.</summary>
    public bool IsDeaf => !isStoring();

    /// <summary>Up to when the service is known to have run before this start; null when it never did.</summary>
    public Instant? AliveBefore { get; private set; }

    /// <summary>After a start: since when the service was down.</summary>
    public void Begin(Instant now)
    {
        AliveBefore ??= ServicePulse.Last(store.Ledger);
        if (AliveBefore is { } alive && now - alive > Unnoticed)
        {
            store.Ledger.Alerts.Save(new OutageEntry(new(alive, now), OutageCause.Service));
        }

        foreach (var open in store.Ledger.Alerts.Outages().Where(outage => !outage.When.HasEnd))
        {
            store.Ledger.Alerts.Save(open with { When = Until(open.When.Start, now) });
        }

        Alive(now);

        // What the clock says from now on is compared with what it says now.
        hasSkipped();
    }

    /// <summary>Every minute. Whether what is known of outages has changed.</summary>
    public bool Pass(Instant now)
    {
        var hasEnded = hasSkipped() | PassWriting(now);
        if (isConnected() == brokerLostAt is null)
        {
            return hasEnded;
        }

        if (brokerLostAt is { } since)
        {
            store.Ledger.Alerts.Save(new OutageEntry(Until(since, now), OutageCause.Broker));
            brokerLostAt = null;
        }
        else
        {
            store.Ledger.Alerts.Save(new OutageEntry(new(now, null), OutageCause.Broker));
            brokerLostAt = now;
        }

        return true;
    }

    /// <summary>A time in which nothing could be written is one in which nobody watched. Whether such a one has just ended.</summary>
    private bool PassWriting(Instant now)
    {
        try
        {
            Alive(now);
        }
        catch (StoreException)
        {
            unwrittenSince ??= now;
            throw;
        }

        if (IsDeaf)
        {
            unwrittenSince ??= now;
        }
        else if (unwrittenSince is { } since)
        {
            if (now - since > Unnoticed)
            {
                store.Ledger.Alerts.Save(new OutageEntry(new(since, now), OutageCause.Service));
            }

            unwrittenSince = null;
            return true;
        }

        return false;
    }

    // A clock that was put back in between leaves no time at all; what is recorded has an end after its start.
    private static Interval Until(Instant since, Instant now) => new(since, Instant.Max(now, since + Duration.FromMilliseconds(1)));

    private void Alive(Instant now) => ServicePulse.Beat(store.Ledger, now);
}
