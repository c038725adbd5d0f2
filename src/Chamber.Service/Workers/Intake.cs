using Chamber.Core.Climate;
using Chamber.Mqtt.Decoding;
using Chamber.Mqtt.Intake;
using Chamber.Service.Configuration;
using Chamber.Service.Health;
using Chamber.Service.Home;
using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Workers;

/// <summary>Commits what was decoded and hands on to the watch what was new. The one writer of readings in this process.</summary>
internal sealed class Intake
{
    private readonly ChamberStore store;
    private readonly WatchInbox inbox;
    private readonly HomeChanges changes;
    private readonly TimeProvider clock;

    public Intake(Settings settings, SettingsInForce inForce, ChamberStore store, WatchInbox inbox, HomeChanges changes, ProbeUnits units,
        HomeClock clock, ILogger<ReadingIntake> logger)
    {
        this.store = store;
        this.inbox = inbox;
        this.changes = changes;
        this.clock = clock;
        Map = TopicMap.Create(settings.Mappings);
        inForce.Changed += () => Map.Change(inForce.Mappings);
        var decoder = new MessageDecoder(Map, new DecoderOptions
        {
            PayloadLengthMax = settings.Limits.PayloadBytes,
            ProbesMax = settings.Limits.Probes,
            Time = new(settings.Limits.TimeAhead, settings.Limits.TimeBehind),
            SeenUnit = units.Of,
            DoubtsArrival = () => clock.IsDoubted,
            IsSetUp = IsSetUp,
            AcceptsProbe = settings.NewProbes ? null : _ => false,
            LastTemperature = LastTemperature,
        });
        Readings = new(decoder, CommitAsync, clock, logger, new IntakeOptions
        {
            QueueLengthMax = settings.Limits.QueuedMessages,
            Passes = problem => problem is StoreException { Fault: not (StoreFault.Content or StoreFault.Unexpected) } or IOException
                or OutOfMemoryException,
        });
    }

    public TopicMap Map { get; }

    public ReadingIntake Readings { get; }

    private bool IsSetUp(ProbeId probe) => Undamaged(() => store.Ledger.SetUp.Probe(probe) is not null);

    private TemperatureSample? LastTemperature(ProbeId probe) =>
        Undamaged(() => store.Journal.Latest(probe, Instant.FromDateTimeOffset(clock.GetUtcNow()))?.Temperature is { } last
            ? new TemperatureSample(last.At, last.Value)
            : (TemperatureSample?)null);

    // What lies on damaged pages is not known; what arrives now is taken in all the same.
    private static T? Undamaged<T>(Func<T> ask)
    {
        try
        {
            return ask();
        }
        catch (StoreException problem) when (problem.IsDamage)
        {
            return default;
        }
    }

    private async ValueTask CommitAsync(DecodedBatch batch, CancellationToken cancel)
    {
        if (batch.IsEmpty)
        {
            return;
        }

        var result = await AppendAsync(batch);
        changes.NoteHeard();
        CountMerged(result.Filled, "filled");
        CountMerged(result.Duplicates, "dropped");
        if (result.Changed.Count > 0 || batch.Refusals.Count > 0)
        {
            await inbox.PostAsync(new(result.Changed, [.. batch.Refusals]), cancel);
        }
    }

    private static void CountMerged(int readings, string outcome)
    {
        if (readings > 0)
        {
            Signals.Merged.Add(readings, new KeyValuePair<string, object?>("outcome", outcome));
        }
    }

    // Not cancelled: what was decoded is committed also while the service stops.
    private async ValueTask<AppendResult> AppendAsync(DecodedBatch batch)
    {
        using var span = Signals.Spans.StartActivity("commit");
        var begun = Signals.Begin(Signals.CommitTime, clock);
        var result = await store.Home.AppendAsync(batch.Readings, batch.Refusals, batch.LastKnown);
        Signals.Since(Signals.CommitTime, begun, clock);
        span?.SetTag("readings", batch.Readings.Count).SetTag("refusals", batch.Refusals.Count);
        if (Signals.Lag.Enabled && batch.Readings.Count > 0)
        {
            Signals.Lag.Record((Instant.FromDateTimeOffset(clock.GetUtcNow()) - batch.Readings[0].ReceivedAt).TotalSeconds);
        }

        return result;
    }
}
