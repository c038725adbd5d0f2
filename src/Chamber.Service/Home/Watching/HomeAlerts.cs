using Chamber.Core.Alerts;
using Chamber.Core.Batches;
using Chamber.Core.Chores;
using NodaTime;

namespace Chamber.Service.Home.Watching;

/// <summary>An alert in words, with what waiting costs.</summary>
/// <param name="Entry">As it is kept, with who has seen it.</param>
/// <param name="Alert">As Core knows it.</param>
/// <param name="Words">In words.</param>
/// <param name="Cost">What one more day of waiting costs, in plants; infinite for danger. 0 once it is over.</param>
internal sealed record RankedAlert(AlertEntry Entry, Alert Alert, AlertAnswer Words, double Cost);

/// <summary>The alerts of this home in the order of what it costs to wait: one order for command line, page, digest and programs.</summary>
internal sealed class HomeAlerts(HomeReader home, WordStyle style)
{
    private readonly Lazy<HomeFacts> facts = new(() => home.Facts(), LazyThreadSafetyMode.PublicationOnly);

    /// <summary>Those that are open, what costs most by waiting first.</summary>
    public IReadOnlyList<RankedAlert> Open() => Ranked(home.Ledger.OpenAlerts);

    /// <summary>Those that are open, then those closed since a time, the last opened first.</summary>
    public IReadOnlyList<RankedAlert> All(Instant since) =>
        [.. Open(), .. Ranked(home.Ledger.AlertsSince(since).Where(entry => entry.ClosedAt is not null && entry.OpenedAt >= since))
            .OrderByDescending(one => one.Alert.OpenedAt)];

    /// <summary>How many plants, or seeds while nothing is up, a batch under way has.</summary>
    public int PlantsOf(BatchId id) => home.Ledger.OpenBatches.FirstOrDefault(batch => batch.Id == id) is { } batch
        ? FirstSeen.Of(batch).By is null ? batch.Seeds : Math.Max(1, BatchRules.Alive(batch))
        : 0;

    private IReadOnlyList<RankedAlert> Ranked(IEnumerable<AlertEntry> entries) =>
        [.. entries.Select(Of).OfType<RankedAlert>()
            .OrderByDescending(one => one.Cost).ThenByDescending(one => one.Alert.Severity).ThenBy(one => one.Alert.Since)];

    private RankedAlert? Of(AlertEntry entry) =>
        AlertRecords.ToAlert(entry) is { } alert && AlertAnswer.Of(entry, facts.Value, style) is { } words
        ? new(entry, alert, words, alert.IsOpen ? WaitingCost.OfAlert(alert, PlantsOf) : 0)
        : null;
}
