using System.Text.Json;
using Chamber.Core.Alerts;
using Chamber.Mqtt;
using NodaTime;

namespace Chamber.Service.Workers;

/// <summary>
/// Keeps the retained alert topics of the broker in step: an open alert is there, a closed one is cleared. What could not be
/// published for want of a connection is published when there is one again.
/// </summary>
internal sealed class RetainedAlerts(BrokerWorker broker, ILogger<RetainedAlerts> logger) : Worker
{
    private readonly Lock gate = new();
    private readonly Dictionary<string, byte[]> open = [];
    private readonly HashSet<string> changed = [];
    private readonly SemaphoreSlim work = new(0, 1);

    public void Set(Alert alert, AlertText text) =>
        Change(alert, JsonSerializer.SerializeToUtf8Bytes(AlertMessage.Of(alert, text), JsonText.Compact));

    public void Clear(Alert alert) => Change(alert, null);

    public override void Dispose()
    {
        work.Dispose();
        base.Dispose();
    }

    protected override async Task WorkAsync(CancellationToken stop)
    {
        broker.Publisher.Connected += (_, _) => Again();
        while (true)
        {
            await work.WaitAsync(stop);
            foreach (var (topic, payload) in Waiting())
            {
                if (!await broker.Publisher.PublishAsync(topic, payload, retain: true, stop))
                {
                    // Connected comes again when there is a connection.
                    Log.AlertNotPublished(logger, topic);
                    break;
                }

                Done(topic, payload);
            }
        }
    }

    private static string Topic(Alert alert) => OwnTopics.Alert(alert.Subject.Name, Choice.Word(alert.Kind));

    private void Change(Alert alert, byte[]? payload)
    {
        var topic = Topic(alert);
        lock (gate)
        {
            changed.Add(topic);
            if (payload is null)
            {
                open.Remove(topic);
            }
            else
            {
                open[topic] = payload;
            }
        }

        Wake();
    }

    private void Again()
    {
        lock (gate)
        {
            changed.UnionWith(open.Keys);
        }

        Wake();
    }

    private void Wake()
    {
        lock (gate)
        {
            if (work.CurrentCount == 0)
            {
                work.Release();
            }
        }
    }

    private List<(string Topic, byte[] Payload)> Waiting()
    {
        lock (gate)
        {
            return [.. changed.Select(topic => (topic, open.GetValueOrDefault(topic) ?? []))];
        }
    }

    private void Done(string topic, byte[] payload)
    {
        lock (gate)
        {
            if ((open.GetValueOrDefault(topic) ?? []).AsSpan().SequenceEqual(payload))
            {
                changed.Remove(topic);
            }
        }
    }
}

/// <summary>An open alert as it is published.</summary>
internal sealed record AlertMessage(
    string Condition,
    SubjectKind SubjectKind,
    string Subject,
    Severity Severity,
    Instant Since,
    Instant OpenedAt,
    string Title,
    string What,
    string Harm,
    string ToDo,
    string Caution,
    string CautionLine)
{
    public static AlertMessage Of(Alert alert, AlertText text) => new(
        Choice.Word(alert.Kind), alert.Subject.Kind, alert.Subject.Name, alert.Severity, alert.Since, alert.OpenedAt, text.Title, text.What,
            text.Harm, text.ToDo, text.Caution,
        text.CautionLine);
}
