using System.Runtime.CompilerServices;
using Chamber.Core.Climate;
using Chamber.Core.Facts;
using NodaTime;

namespace Chamber.Storage.Past;

/// <summary>
/// A home as it was known at a moment, on any store: the fold of the facts written by then, and the readings received by then. Whoever
/// asks it asks as ever; it can only be read.
/// </summary>
/// <remarks>Of alerts is known when they opened and closed, and what people did about them; how severe they were meanwhile is not, nor
/// how often something had been refused. A stretch that was rolled up, and what filled in a reading, count as received when they were
/// measured.</remarks>
public sealed class HomeAsOf : IHomeStore, IHomeRecords
{
    private readonly IHomeStore store;
    private readonly IHomeRecords records;
    private readonly PastFacts facts;
    private readonly Instant known;
    private readonly HomeState then;

    /// <param name="store">The home as it is.</param>
    /// <param name="records">What it keeps beside facts and readings.</param>
    /// <param name="facts">All its facts.</param>
    /// <param name="known">The moment; what was written or received later does not show.</param>
    public HomeAsOf(IHomeStore store, IHomeRecords records, PastFacts facts, Instant known)
    {
        ArgumentNullException.ThrowIfNull(facts);
        (this.store, this.records, this.facts, this.known) = (store, records, facts, known);
        then = facts.At(known);
    }

    public long Written => 0;

    public bool IsAtHand => store.IsAtHand;

    public ValueTask<IReadOnlyList<FactEntry>> FactsSinceAsync(long after, CancellationToken cancel = default) =>
        new([.. facts.By(known).Where(entry => entry.Number > after)]);

    public ValueTask<KnownHome> HomeAsync(CancellationToken cancel = default) =>
        new(new KnownHome(facts.By(known) is [.., var last] ? last.Number : 0, then));

    public ValueTask<bool> TryAppendAsync(IReadOnlyList<FactEntry> entries, CancellationToken cancel = default) => throw ReadOnly();

    public ValueTask<AppendResult> AppendAsync(IReadOnlyList<Reading> readings, IReadOnlyList<Refusal> refusals,
        IReadOnlyList<Reading> lastKnown, CancellationToken cancel = default) => throw ReadOnly();

    public async IAsyncEnumerable<Reading> ReadingsAsync(ProbeId probe, Interval interval,
        [EnumeratorCancellation] CancellationToken cancel = default)
    {
        await foreach (var reading in store.ReadingsAsync(Now(probe), interval, cancel))
        {
            if (reading.ReceivedAt <= known)
            {
                yield return reading with { Probe = probe };
            }
        }
    }

    public IAsyncEnumerable<ReadOnlyMemory<TemperatureSample>> TemperaturesAsync(ProbeId probe, Interval interval,
        Instant? receivedBy = null, CancellationToken cancel = default) =>
        store.TemperaturesAsync(Now(probe), interval, receivedBy is { } by ? Instant.Min(by, known) : known, cancel);

    public async ValueTask<IReadOnlyList<ProbeId>> ProbesAsync(CancellationToken cancel = default)
    {
        var spoken = new List<ProbeId>();
        foreach (var probe in (await store.ProbesAsync(cancel)).Select(Then).Distinct())
        {
            if (then.Probe(probe) is not null || await HasSpokenAsync(probe, cancel))
            {
                spoken.Add(probe);
            }
        }

        return [.. spoken.OrderBy(probe => probe.Text, StringComparer.Ordinal)];
    }

    public ValueTask<JournalChanges> ChangesSinceAsync(JournalMark mark, CancellationToken cancel = default) =>
        store.ChangesSinceAsync(mark, cancel);

    public async ValueTask<IReadOnlyList<AlertEntry>> AlertsAsync(Instant? closedSince, CancellationToken cancel = default)
    {
        var since = closedSince is { } asked ? Instant.Min(asked, known) : known;
        var alerts = AsThen(await records.AlertsAsync(since, cancel));
        return [.. alerts.Where(alert => alert.ClosedAt is not { } closed || closed >= closedSince)];
    }

    public async ValueTask<AlertEntry?> AlertAsync(long number, CancellationToken cancel = default) =>
        await records.AlertAsync(number, cancel) is { } alert
            ? AsThen(await records.AlertsAsync(Instant.Min(alert.OpenedAt, known), cancel)).FirstOrDefault(one => one.Number == number)
            : null;

    public async ValueTask<IReadOnlyList<OutageEntry>> OutagesAsync(CancellationToken cancel = default) =>
        [.. (await records.OutagesAsync(cancel)).Where(outage => outage.When.Start <= known)
            .Select(outage => outage.When.HasEnd && outage.When.End > known
                ? outage with { When = new(outage.When.Start, null) } : outage)];

    public ValueTask<IReadOnlyList<RefusalCount>> RefusalCountsAsync(CancellationToken cancel = default) =>
        records.RefusalCountsAsync(cancel);

    public async ValueTask<IReadOnlyList<Refusal>> RefusalsAsync(int limit, CancellationToken cancel = default) =>
        [.. (await records.RefusalsAsync(limit, cancel)).Where(refusal => refusal.ReceivedAt <= known)];

    private static InvalidOperationException ReadOnly() => new("What was known at an earlier time can only be read.");

    // What something is called in the store, and what it was called then.
    private ProbeId Now(ProbeId probe) => new(then.NameIn(facts.Present, FactSubject.Of(probe)).Name);

    private ProbeId Then(ProbeId probe) => new(facts.Present.NameIn(then, FactSubject.Of(probe)).Name);

    private async ValueTask<bool> HasSpokenAsync(ProbeId probe, CancellationToken cancel)
    {
        await foreach (var _ in ReadingsAsync(probe, new(null, null), cancel))
        {
            return true;
        }

        return false;
    }

    // Alerts as they stood, under the names of then, with what people had done about them.
    private List<AlertEntry> AsThen(IReadOnlyList<AlertEntry> alerts) => MarkedAlerts.Of(
        alerts.Where(alert => alert.OpenedAt <= known).Select(alert => alert with
        {
            Subject = Subject(alert),
            ClosedAt = alert.ClosedAt <= known ? alert.ClosedAt : null,
            CloseReason = alert.ClosedAt <= known ? alert.CloseReason : null,
            SeenAt = null,
            SeenBy = null,
            MutedUntil = null,
            Notified = new(null, null, null, 0, false),
        }), then.AlertMarks);

    private Core.Alerts.AlertSubject Subject(AlertEntry alert) =>
        Enum.TryParse<FactSubjectKind>(alert.Subject.Kind.ToString(), out var kind)
        ? alert.Subject with { Name = facts.Present.NameIn(then, new(kind, alert.Subject.Name)).Name }
        : alert.Subject;
}
