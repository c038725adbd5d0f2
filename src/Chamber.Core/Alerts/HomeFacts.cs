using Chamber.Core.Alerts.Limits;
using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Diagnosis;
using Chamber.Core.Facts;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Alerts;

/// <summary>
/// What the facts of a home come to for the watch, each part with its time (<see cref="Of"/>), with what is no fact: surveys, forecasts
/// and times in which nobody could hear. The watch is a function of these and the readings; give the whole again when a part has
/// changed.
/// </summary>
public sealed record HomeFacts
{
    /// <summary>The home's time zone: days and hours of day are its.</summary>
    public DateTimeZone Zone { get; init; } = DateTimeZone.Utc;

    public IReadOnlyList<Probe> Probes { get; init; } = [];

    /// <summary>Thermometers that somebody reads: their silence is nobody's fault.</summary>
    public IReadOnlyList<ProbeId> HandRead { get; init; } = [];

    public IReadOnlyList<Spot> Spots { get; init; } = [];

    public IReadOnlyList<Station> Stations { get; init; } = [];

    public IReadOnlyList<WatchedBatch> Batches { get; init; } = [];

    public IReadOnlyList<ProbeCalibration> Calibrations { get; init; } = [];

    /// <summary>Readings that are not to be used.</summary>
    public IReadOnlyList<SetAside> SetAside { get; init; } = [];

    /// <summary>What each survey found, at the time from which it counts.</summary>
    public IReadOnlyList<SurveyMean> Surveys { get; init; } = [];

    /// <summary>Times in which silence proves nothing about the probes.</summary>
    public IReadOnlyList<Outage> Outages { get; init; } = [];

    /// <summary>Times in which somebody works on a spot or the home: silence is excused there, and only danger is reported.</summary>
    public IReadOnlyList<Maintenance> Maintenance { get; init; } = [];

    public WatchLimits Limits { get; init; } = new();

    /// <summary>Limits that somebody has chosen for one batch or one spot.</summary>
    public IReadOnlyList<OwnLimits> OwnLimits { get; init; } = [];

    /// <summary>What is too hot and too cold by somebody's own word for a batch on a spot, °C: that of the batch goes before that of the
    /// spot; null as the crop has it.</summary>
    public (double? Hot, double? Cold) OwnLimitsOf(BatchId batch, SpotId? spot)
    {
        var ofBatch = OwnLimits.FirstOrDefault(own => own.About == FactSubject.Of(batch));
        var ofSpot = spot is { } known ? OwnLimits.FirstOrDefault(own => own.About == FactSubject.Of(known)) : null;
        return (ofBatch?.TooHot ?? ofSpot?.TooHot, ofBatch?.TooCold ?? ofSpot?.TooCold);
    }

    /// <summary>How people see spots, probes and batches.</summary>
    public ShownNames Names { get; init; } = ShownNames.None;

    /// <summary>The diagnosis of a batch under way as it stands when it is asked for, so that an alert says what every other answer says;
    /// null where nothing can be said.</summary>
    public Func<BatchId, BatchDiagnosis?> DiagnosisOf { get; init; } = _ => null;

    /// <summary>Whether every reading counts in the same way: by the same probes, on the same spots, with the same errors, and as many of
    /// them set aside.</summary>
    public bool TakesReadingsLike(HomeFacts other)
    {
        ArgumentNullException.ThrowIfNull(other);
        return Probes.SequenceEqual(other.Probes) && Stations.SequenceEqual(other.Stations)
            && Calibrations.SequenceEqual(other.Calibrations) && SetAside.SequenceEqual(other.SetAside);
    }

    /// <summary>What a home comes to for the watch. A batch of a crop that is not known is left out: it has no limits to be watched
    /// by.</summary>
    /// <param name="home">What the facts come to.</param>
    /// <param name="cropOf">The crops; null for one that is not known.</param>
    /// <param name="endedAfter">Batches that ended before are left out; null for none left out.</param>
    public static HomeFacts Of(HomeParts home, Func<CropId, Crop?> cropOf, Instant? endedAfter = null)
    {
        ArgumentNullException.ThrowIfNull(home);
        ArgumentNullException.ThrowIfNull(cropOf);
        var treated = home.Lots.Where(lot => lot.Treated).Select(lot => lot.Id).ToHashSet();
        return new()
        {
            Probes = [.. home.Probes.Select(entry => entry.Probe)],
            HandRead = [.. home.Probes.Where(entry => entry.HandRead).Select(entry => entry.Probe.Id)],
            Spots = home.Spots,
            Stations = home.Stations,
            Batches =
            [
                .. from batch in home.Batches
                where !(batch.EndedAt <= endedAfter)
                let crop = cropOf(batch.Crop)
                where crop is not null
                select WatchedBatch.Of(batch, crop, batch.Lot is { } lot && treated.Contains(lot)),
            ],
            Calibrations =
            [
                .. home.Calibrations.Select(known => new ProbeCalibration(
                    known.Probe, known.From, known.Offset, known.DryRaw, known.SaturatedRaw)
                {
                    HumidityPoints = known.HumidityPoints ?? 0,
                }),
            ],
            SetAside = home.SetAside,
            OwnLimits = home.Limits,
            Names = ShownNames.Of(home.Settings),
            Maintenance = [.. home.Work.Select(work => new Maintenance(work.Spot, work.When))],
        };
    }
}

/// <summary>Somebody works on a spot, or on the whole home where there is no spot.</summary>
/// <param name="Spot">Which spot, or null.</param>
/// <param name="When">From when to when.</param>
public sealed record Maintenance(SpotId? Spot, Interval When);

/// <summary>A batch as the watch sees it.</summary>
/// <param name="Batch">The batch with its stays and looks.</param>
/// <param name="Crop">Its crop, with limits in force for it.</param>
public sealed record WatchedBatch(Batch Batch, Crop Crop)
{
    /// <summary>When it was wetted again, in order of time; sowing is a wetting too.</summary>
    public IReadOnlyList<Instant> Wettings { get; init; } = [];

    /// <summary>Whether its lot is treated with a pesticide: a caution for whoever handles it.</summary>
    public bool IsTreated { get; init; }

    /// <summary>Whether it stands under a lid, film or in a bag.</summary>
    public bool HasCover { get; init; } = true;

    /// <summary>When its cover came off, or its towel was planted up; null while it has not.</summary>
    public Instant? CoverOffAt { get; init; }

    /// <summary>From a forecast: when the chance that the first is up is worth a look, and that chance.</summary>
    public ForecastMark? LookFrom { get; init; }

    /// <summary>From a forecast: when the chance of one more seedling has fallen under the chosen share, and that chance.</summary>
    public ForecastMark? StopWaitingFrom { get; init; }

    /// <summary>A batch with what follows from what was done to it.</summary>
    /// <param name="batch">The batch.</param>
    /// <param name="crop">Its crop.</param>
    /// <param name="isTreated">Whether its lot is treated.</param>
    public static WatchedBatch Of(Batch batch, Crop crop, bool isTreated)
    {
        ArgumentNullException.ThrowIfNull(batch);

        // Whatever is done to single plants takes the cover off; moving them to the light does not.
        var off = batch.Stages.FirstOrDefault(stage => stage.Kind != StageKind.MovedToLight)?.At;
        return new(batch, crop) { Wettings = batch.Wettings, CoverOffAt = off, IsTreated = isTreated };
    }
}

/// <summary>The mean of a survey.</summary>
/// <param name="Spot">Which spot.</param>
/// <param name="At">From when on it counts.</param>
/// <param name="Mean">The mean over its hours of day.</param>
public sealed record SurveyMean(SpotId Spot, Instant At, Temperature Mean)
{
    /// <summary>°C at each hour of the day from midnight; null for the mean at each.</summary>
    public IReadOnlyList<double?>? Hours { get; init; }
}

/// <summary>A day that a forecast names.</summary>
/// <param name="At">From when on.</param>
/// <param name="Chance">The chance behind it, 0 to 1.</param>
public readonly record struct ForecastMark(Instant At, double Chance)
{
    /// <summary>Why nothing more is likely to come, as the forecast knows it; null for a day to look.</summary>
    public CauseKind? Why { get; init; }
}

/// <summary>What to add to a probe's temperature, and how its moisture scale runs, from a date on.</summary>
/// <param name="Probe">Which probe.</param>
/// <param name="From">Applies to readings measured from here on, until the next one.</param>
/// <param name="Offset">Added to its temperature.</param>
/// <param name="DryRaw">Raw moisture in dry media; null where never taken.</param>
/// <param name="SaturatedRaw">Raw moisture in saturated media; null where never taken.</param>
public sealed record ProbeCalibration(
    ProbeId Probe,
    Instant From,
    TemperatureDifference Offset,
    double? DryRaw = null,
    double? SaturatedRaw = null)
{
    /// <summary>Percentage points added to its humidity.</summary>
    public double HumidityPoints { get; init; }
}

/// <summary>A time in which the service could not hear.</summary>
/// <param name="When">From when to when; without an end while it lasts.</param>
/// <param name="Cause">Why.</param>
public sealed record Outage(Interval When, OutageCause Cause);

/// <summary>Why nothing could be heard.</summary>
public enum OutageCause
{
    /// <summary>The broker could not be reached.</summary>
    Broker,

    /// <summary>The service itself was not running.</summary>
    Service,
}
