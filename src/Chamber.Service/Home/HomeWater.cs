using Chamber.Core.Alerts;
using Chamber.Core.Batches;
using Chamber.Core.Diagnosis;
using NodaTime;

namespace Chamber.Service.Home;

/// <summary>What is known of a batch's water: what people recorded at a look, then what a moisture probe where it was proved.</summary>
internal sealed class HomeWater(HomeReader home, Instant now)
{
    /// <summary>Media that lay so long too wet or too dry in all harms seed. Common practice, no source.</summary>
    private static readonly Duration Harmful = Duration.FromHours(12);

    /// <summary>The trouble that a batch had until a moment.</summary>
    public WaterTrouble Of(Batch batch, Instant until) =>
        Noted(batch) is var noted and not WaterTrouble.None ? noted
            : Felt(batch, until) is var felt and not WaterTrouble.None ? felt : Measured(batch, until);

    /// <summary>How damp it felt at its looks, and how dry a calibrated probe measured it.</summary>
    private WaterTrouble Felt(Batch batch, Instant until)
    {
        var dry = BatchMoisture.DryTimesOf(home, batch, until)
            .Aggregate(Duration.Zero, (sum, time) => sum + time.When.Duration * (1 - time.Pace));
        return dry >= Harmful ? WaterTrouble.DriedOut
            : batch.Looks.LastOrDefault(look => look.Moisture is not null) is { Moisture: LookMoisture.Wet } ? WaterTrouble.TooWet
            : WaterTrouble.None;
    }

    /// <summary>People record trouble with water in their own words; these are the ones they use.</summary>
    private static WaterTrouble Noted(Batch batch)
    {
        var notes = string.Join(' ', batch.Looks.Select(look => look.Note).OfType<string>());
        bool Says(params string[] words) => words.Any(word => notes.Contains(word, StringComparison.OrdinalIgnoreCase));
        return Says("mould", "mold", "fuzz") ? WaterTrouble.Mould
            : Says("too wet", "soaked", "pool", "swimming", "slimy") ? WaterTrouble.TooWet
            : Says("dried", "too dry", "bone dry") ? WaterTrouble.DriedOut
            : WaterTrouble.None;
    }

    private WaterTrouble Measured(Batch batch, Instant until)
    {
        // A note that a lid leaks proves nothing about the media: only warnings count, which rest on a moisture probe.
        List<Alert> alerts = [.. home.Ledger.AlertsSince(batch.SownAt).Select(AlertRecords.ToAlert).OfType<Alert>()
            .Where(alert => alert.Severity >= Severity.Warning)];
        var (wet, dry) = (Time(alerts, AlertKind.TooWet, batch, until), Time(alerts, AlertKind.DryingOut, batch, until));
        return Duration.Max(wet, dry) < Harmful ? WaterTrouble.None : wet >= dry ? WaterTrouble.TooWet : WaterTrouble.DriedOut;
    }

    private Duration Time(List<Alert> alerts, AlertKind kind, Batch batch, Instant until) => alerts
        .Where(alert => alert.Kind == kind)
        .SelectMany(alert => batch.Stays.Where(stay => alert.Subject == AlertSubject.Of(stay.Spot))
            .Select(stay => Overlap(alert, stay, until)))
        .Aggregate(Duration.Zero, (sum, time) => sum + time);

    private Duration Overlap(Alert alert, Stay stay, Instant until)
    {
        var from = Instant.Max(alert.Since, stay.When.Start);
        var to = Instant.Min(Instant.Min(alert.ClosedAt ?? now, until), stay.When.HasEnd ? stay.When.End : now);
        return to > from ? to - from : Duration.Zero;
    }
}
