using Chamber.Core.Alerts;
using Chamber.Core.Alerts.Conditions;
using Chamber.Core.Digests;
using NodaTime;

namespace Chamber.Service.Home.Watching;

/// <summary>The digest of this home's day.</summary>
internal static class HomeDigest
{
    private static readonly Duration Day = Duration.FromHours(24);

    public static DigestText Of(HomeReader home, Instant now)
    {
        var facts = home.Facts();
        var style = new WordStyle(home.Scale == TemperatureScale.Fahrenheit, home.Zone);
        IReadOnlyList<AlertText> Words(IEnumerable<AlertEntry> entries) =>
            [.. entries.Select(AlertRecords.ToAlert).OfType<Alert>().OrderByDescending(alert => alert.Severity).ThenBy(alert => alert.Since)
                .Select(alert => ConditionRegistry.InWords(alert, facts, style))];

        return DailyDigest.Of(new()
        {
            Now = now,
            Zone = home.Zone,
            Scale = home.Scale,
            Names = home.Ledger.Names,
            Reminders = new HomeReminders(home, now).All(),
            Risen = [.. home.Ledger.Batches.Select(
                batch => Risen.Since(batch, home.Catalog.Find(batch.Crop)?.CommonName ?? batch.Crop.Text, now - Day)).OfType<Risen>()],
            Spots = [.. home.Spots().Select(spot => (spot.Id, SpotDay.Of(spot.Id, home.Trace(spot.Id, new(now - Day, now)), home.Zone)))],
            Open = [.. new HomeAlerts(home, style).Open().Select(one => ConditionRegistry.InWords(one.Alert, facts, style))],
            Over = Words(home.Ledger.AlertsSince(now - Day).Where(alert => alert.ClosedAt > now - Day)),
            NotWatched = [.. AtHand.Of(home.Records.OutagesAsync()).Where(outage => !outage.When.HasEnd || outage.When.End > now - Day)
                .Select(outage => outage.When)],
        });
    }
}
