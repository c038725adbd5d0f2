using Chamber.Core.Batches;
using Chamber.Core.Chores;
using Chamber.Core.Diagnosis;
using Chamber.Core.Plans;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Service.Home.Watching;

/// <summary>What every batch of this home needs next.</summary>
internal sealed class HomeReminders(HomeReader home, Instant now)
{
    /// <summary>For every batch that is under way, soonest first.</summary>
    public IReadOnlyList<Reminder> All()
    {
        var diagnoses = home.At(now).Diagnoses;
        return [.. home.Ledger.OpenBatches.SelectMany(batch => Of(batch, diagnoses)).OrderBy(reminder => reminder.From)];
    }

    /// <summary>The days of hardening off of every batch whose planting-out day is set and that is not out yet.</summary>
    public IEnumerable<(BatchId Batch, LadderStep Step)> Ladders() =>
        from batch in home.Ledger.OpenBatches
        where !batch.IsTest && batch.Stages.All(stage => stage.Kind != StageKind.PlantedOut)
        let plantOut = batch.PlantOut
        where plantOut is not null
        from step in HardeningLadder.For(home.Catalog.Find(batch.Crop)?.Guide, plantOut.Value.PlusDays(-HardeningLadder.Days), home.Scale)
        select (batch.Id, step);

    private IReadOnlyList<Reminder> Of(Batch batch, HomeDiagnoses diagnoses)
    {
        if (home.Catalog.Find(batch.Crop) is not { } crop)
        {
            return [];
        }

        var light = batch.Stays is [.., var stay] ? home.Spots().FirstOrDefault(spot => spot.Id == stay.Spot)?.Light : null;
        return Reminders.For(new(
            batch,
            crop,
            Days(diagnoses.Of(batch)),
            light ?? LightLevel.Dim,
            batch.PlantOut,
            now.InZone(home.Zone).Date,
            home.Zone)
        {
            Scale = home.Scale,
            Chill = diagnoses.Forecasts.ChillOf(batch, crop),
            IsTreated = HomeCautions.IsTreated(home, batch.Lot),
        });
    }

    private ForecastDays Days(BatchOutlook outlook) => new(
        DayOf(outlook.Batch, outlook.Forecast?.First.Low),
        DayOf(outlook.Batch, outlook.Forecast?.First.High),
        DayOf(outlook.Batch, outlook.Forecast?.Stop.After),
        outlook.Diagnosis?.Advice)
    {
        LookFirst = outlook.Diagnosis?.Phase == BatchPhase.Unseen ? outlook.Diagnosis.Sentence : null,
    };

    private LocalDate? DayOf(Batch batch, Duration? after) =>
        after is { } time ? (batch.SownAt + time).InZone(home.Zone).Date : null;
}
