using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;
using Chamber.Core.Alerts;
using Chamber.Core.Alerts.Conditions;
using Chamber.Core.Alerts.Notices;
using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Diagnosis;
using NodaTime;

namespace Chamber.Storage.Seam;

/// <summary>Alerts as Core knows them, to and from what a store keeps of them.</summary>
public static class AlertRecords
{
    // Nine digits: what is read back and written again is the same text on every machine.
    private static readonly JsonSerializerOptions Json = new(JsonSerializerDefaults.Web)
    {
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
        Converters = { new JsonStringEnumConverter(JsonNamingPolicy.CamelCase), new ShortNumber() },
    };

    public static AlertEntry ToEntry(Alert alert, long number) => new(
        number,
        alert.Kind,
        alert.Subject,
        alert.Severity,
        alert.Since,
        alert.OpenedAt,
        JsonSerializer.Serialize(Kept.Of(alert), Json))
    {
        ClosedAt = alert.ClosedAt,
        CloseReason = alert.CloseReason,
    };

    /// <summary>Null for an alert of a kind that this version does not know.</summary>
    public static Alert? ToAlert(AlertEntry entry)
    {
        if (ConditionRegistry.Find(entry.Kind.Name) is not { } kind)
        {
            return null;
        }

        var kept = JsonSerializer.Deserialize(entry.EvidenceJson, KeptAlertContext.Default.Kept) ?? new();
        return new(
            kind,
            entry.Subject,
            entry.Severity,
            entry.Since,
            entry.OpenedAt,
            entry.ClosedAt,
            entry.CloseReason,
            kept.ToEvidence(entry.Since),
            kept.ToHarm());
    }

    /// <summary>An alert with what people were notified of and did; null for one of a kind that this version does not know.</summary>
    public static AlertStanding? ToStanding(AlertEntry entry) => ToAlert(entry) is { } alert
        ? new AlertStanding(entry.Number, alert)
        {
            SeenAt = entry.SeenAt,
            MutedUntil = entry.MutedUntil,
            Notified = new(entry.Notified.At, entry.Notified.Severity ?? default, entry.Notified.SeverityAt, entry.Notified.Times,
                entry.Notified.Over),
        }
        : null;

    public static NotifiedEntry ToEntry(Notified told) => new(told.At, told.Severity, told.SeverityAt, told.Times, told.Over);

    /// <summary>Evidence as it is kept.</summary>
    internal sealed record Kept
    {
        public string? Probe { get; set; }

        public long FromMilliseconds { get; set; }

        public long ToMilliseconds { get; set; }

        public ProbeFault Fault { get; set; }

        /// <summary>By name, so that those of other versions can be read.</summary>
        public string? Why { get; set; }

        public Dictionary<string, double> Figures { get; set; } = [];

        public List<KeptHarm> Harm { get; set; } = [];

        public static Kept Of(Alert alert) => new()
        {
            Probe = alert.Evidence.Probe?.Text,
            FromMilliseconds = alert.Evidence.From.ToUnixTimeMilliseconds(),
            ToMilliseconds = alert.Evidence.To.ToUnixTimeMilliseconds(),
            Fault = alert.Evidence.Fault,
            Why = alert.Evidence.Why?.ToString(),
            Figures = alert.Evidence.Figures.ToDictionary(figure => figure.Name.ToString(), figure => figure.Value),
            Harm = [.. alert.Harm.Select(
                harm => new KeptHarm(harm.Batch.Text, harm.Crop.Text, harm.DelayHours, harm.ShareLost, harm.IsUp, harm.ShareAtStake))],
        };

        public AlertEvidence ToEvidence(Instant since) => new(
            Probe is null ? null : new ProbeId(Probe),
            FromMilliseconds == 0 ? since : Instant.FromUnixTimeMilliseconds(FromMilliseconds),
            ToMilliseconds == 0 ? since : Instant.FromUnixTimeMilliseconds(ToMilliseconds),
            [.. Figures.Where(figure => Enum.IsDefined(typeof(FigureName), figure.Key))
                .Select(figure => new Figure(Enum.Parse<FigureName>(figure.Key), figure.Value))],
            Fault)
        {
            Why = CauseKinds.Read(Why),
        };

        public List<BatchHarm> ToHarm() =>
            Harm.ConvertAll(harm => new BatchHarm(new BatchId(harm.Batch), new CropId(harm.Crop), harm.DelayHours,
            harm.ShareLost) { IsUp = harm.IsUp, ShareAtStake = harm.ShareAtStake });
    }

    internal sealed record KeptHarm(string Batch, string Crop, double DelayHours, double ShareLost, bool IsUp = false,
        double ShareAtStake = 0);
}
