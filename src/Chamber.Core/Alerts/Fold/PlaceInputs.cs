using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Folding;

namespace Chamber.Core.Alerts.Fold;

/// <summary>Hands each input of a place to the conditions that take it, and works out what the inputs of several have in common.</summary>
internal sealed class PlaceInputs(ConditionWatch[] watches)
{
    private readonly IHearProbes[] hearing = [.. watches.OfType<IHearProbes>()];
    private readonly ITakeMeasurements[] measuring = [.. watches.OfType<ITakeMeasurements>()];
    private readonly IJudgeSuspects[] judging = [.. watches.OfType<IJudgeSuspects>()];
    private readonly ITakeTemperatures[] accepting = [.. watches.OfType<ITakeTemperatures>()];
    private readonly IFollowSpots[] following = [.. watches.OfType<IFollowSpots>()];
    private readonly ITakeHours[] hourly = [.. watches.OfType<ITakeHours>()];
    private readonly ITakeHumidity[] ofHumidity = [.. watches.OfType<ITakeHumidity>()];
    private readonly ITakeMoisture[] ofMoisture = [.. watches.OfType<ITakeMoisture>()];
    private readonly ITakeBattery[] ofBattery = [.. watches.OfType<ITakeBattery>()];
    private readonly IPassTime[] passing = [.. watches.OfType<IPassTime>()];
    private readonly IMeetDeadlines[] meeting = [.. watches.OfType<IMeetDeadlines>()];

    public void Heard(StationState station, Moment at)
    {
        foreach (var watch in hearing)
        {
            watch.Heard(station, at);
        }
    }

    public void Measured(StationState station, in TimedTemperature now)
    {
        foreach (var watch in measuring)
        {
            watch.Measured(station, now);
        }
    }

    public void HeldBack(StationState station, in TimedTemperature suspect)
    {
        foreach (var watch in judging)
        {
            watch.HeldBack(station, suspect);
        }
    }

    public void BorneOut(StationState station, in TimedTemperature suspect)
    {
        foreach (var watch in judging)
        {
            watch.BorneOut(station, suspect);
        }
    }

    public void Dropped(StationState station, in TimedTemperature suspect)
    {
        foreach (var watch in judging)
        {
            watch.Dropped(station, suspect);
        }
    }

    public void Accepted(StationState station, in TimedTemperature now)
    {
        foreach (var watch in accepting)
        {
            watch.Accepted(station, now);
        }
    }

    /// <summary>Tells of every whole hour that has ended since the probe's last temperature.</summary>
    public void PassHours(PlaceState place, StationState station, in TimedTemperature now)
    {
        if (station.Last is not { } from || now.At - from.At > station.MaxGap)
        {
            station.Hour.Begin(now.At);
            return;
        }

        while (now.At >= station.Hour.End)
        {
            var end = station.Hour.Crossing(from, now);
            station.Hour.Add(from, end);
            if (station.Hour.Mean is { } mean)
            {
                EndHour(place, station, new(end.At, mean));
            }

            station.Hour.Begin(end.At);
            from = end;
            if (from.At == now.At)
            {
                return;
            }
        }

        station.Hour.Add(from, now);
    }

    /// <summary>Follows the spot's temperature to the present reading of its reference probe.</summary>
    public void Follow(PlaceState place, StationState station, in TimedTemperature now)
    {
        if (place.Batches.Count == 0)
        {
            return;
        }

        var leg = place.Reference == station && station.Last is { } last && now.At - last.At <= station.MaxGap
            ? new SpotLeg(station, last, now, true, null)
            : new SpotLeg(station, default, now, false, place.Reference is { Last: not null } before ? before : null);
        foreach (var watch in following)
        {
            watch.Followed(leg);
        }

        for (var i = 0; leg.IsConnected && i < place.Batches.Count; i++)
        {
            place.Batches[i].CountStand(leg);
        }
    }

    public void TakeHumidity(PlaceState place, StationState station, Moment at, double raw)
    {
        // At the end of its scale a sensor says no more than "saturated", whatever its offset.
        var percent = raw >= HumidityScale.End ? raw : Math.Clamp(raw + station.HumidityPoints, 0, 100);
        var (known, isGap) = Known(station.HumidityAt, station.MaxGap, at);
        var input = new HumidityInput(station, at, raw, percent, IsAnyCovered(place), known, isGap);
        foreach (var watch in ofHumidity)
        {
            watch.TookHumidity(input);
        }

        station.HumidityAt = at;
        station.HumidityPercent = percent;
    }

    public void TakeMoisture(PlaceState place, StationState station, Moment at, double raw)
    {
        if (place.Batches.Count == 0 || MediaMoisture.PercentOf(raw, station.DryRaw, station.SaturatedRaw) is not { } percent)
        {
            return;
        }

        var isTowel = place.Batches.Any(batch => batch.Method == SowingMethod.DampTowel);
        var (known, isGap) = Known(station.MoistureAt, station.MaxGap, at);
        var input = new MoistureInput(station, at, percent, isTowel, known, isGap);
        foreach (var watch in ofMoisture)
        {
            watch.TookMoisture(input);
        }

        station.MoistureAt = at;
    }

    public void TakeBattery(StationState station, Moment at, double percent)
    {
        foreach (var watch in ofBattery)
        {
            watch.TookBattery(station, at, percent);
        }
    }

    public void Advance(Moment to)
    {
        foreach (var watch in passing)
        {
            watch.Advance(to);
        }
    }

    public Moment NextDue()
    {
        var due = Moment.Never;
        foreach (var watch in meeting)
        {
            due = Moment.Earlier(due, watch.Due);
        }

        return due;
    }

    public void MeetDue(Moment due)
    {
        foreach (var watch in meeting)
        {
            if (watch.Due <= due)
            {
                watch.MeetDue(due);
            }
        }
    }

    private static bool IsAnyCovered(PlaceState place)
    {
        for (var i = 0; i < place.Batches.Count; i++)
        {
            if (place.Batches[i].IsCovered)
            {
                return true;
            }
        }

        return false;
    }

    private static (Moment Known, bool IsGap) Known(Moment? last, TimeSpan maxGap, Moment at) => last is { } before
        ? (Moment.Earlier(at, before + maxGap), at - before > maxGap)
        : (Moment.Beginning, true);

    private void EndHour(PlaceState place, StationState station, in TimedTemperature mean)
    {
        if (place.Place.Spot is null)
        {
            return;
        }

        var start = new Moment(mean.At.Ticks - NodaTime.NodaConstants.TicksPerHour);
        var hour = new StationHour(station, mean, start.HourOfDay(place.Settings.Zone),
            place.Reference is null || place.Reference == station);
        station.LastHour = mean;
        station.LastDay.Add(hour.HourOfDay, mean.Temperature);
        foreach (var watch in hourly)
        {
            watch.HourEnded(hour);
        }
    }
}
