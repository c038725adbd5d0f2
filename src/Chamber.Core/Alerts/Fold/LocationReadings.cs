using Chamber.Core.Climate;
using Chamber.Core.Climate.Moisture;
using Chamber.Core.Crops;
using Chamber.Core.Folding;

namespace Chamber.Core.Alerts.Fold;

/// <summary>
/// Takes the readings of a location apart and works out what several conditions need of them: which temperatures count, whole hours, the
/// line that the spot's temperature follows, for how long a value is known to have held.
/// </summary>
internal sealed class LocationReadings(LocationState location, LocationInputs inputs)
{
    public LocationInputs Inputs { get; } = inputs;

    public void Take(StationState station, in Reading reading, Moment at)
    {
        Inputs.Heard(station, at);
        station.HeardAt = at;
        station.HasSpoken = true;
        if (at < station.PassedOverUntil)
        {
            return;
        }

        if (reading.Temperature is { } temperature)
        {
            TakeTemperature(station, new(at, temperature + station.Offset));
        }

        if (reading.Humidity is { } humidity)
        {
            TakeHumidity(station, at, humidity.Percent);
        }

        if (reading.Moisture is { } moisture)
        {
            TakeMoisture(station, at, moisture);
        }

        if (reading.Battery is { } battery)
        {
            Inputs.TookBattery(station, at, battery);
        }
    }

    private void TakeTemperature(StationState station, in TimedTemperature now)
    {
        SettleSuspect(station, now.Temperature);
        Inputs.Measured(station, now);
        if (LoneValue.IsSuspect(station, now, location.Settings.SpikeKelvins))
        {
            station.Suspect = now;
            Inputs.HeldBack(station, now);
            return;
        }

        Accept(station, now);
    }

    private void SettleSuspect(StationState station, Temperature next)
    {
        if (station.Suspect is not { } suspect)
        {
            return;
        }

        var isBorneOut = station.BearsOut(next);
        station.Suspect = null;
        if (isBorneOut)
        {
            Inputs.BorneOut(station, suspect);
            Accept(station, suspect);
        }
        else
        {
            Inputs.Dropped(station, suspect);
        }
    }

    private void Accept(StationState station, in TimedTemperature now)
    {
        var isFresh = station.TryGetFresh(now.At, out var last);
        if (isFresh)
        {
            PassHours(station, last, now);
        }
        else
        {
            station.Hour.Begin(now.At);
        }

        Inputs.Accepted(station, now);
        if (location.ReferenceAt(station, now.At) == station)
        {
            if (isFresh && location.Reference == station)
            {
                Inputs.Follow(new(station, last, now));
            }
            else
            {
                Inputs.TakeUp(new(station, now, location.Reference is { HasLast: true } before ? before : null));
            }

            location.Reference = station;
        }

        station.Count(now);
    }

    // Tells of every whole hour that has ended since the probe's last temperature.
    private void PassHours(StationState station, TimedTemperature from, in TimedTemperature now)
    {
        while (now.At >= station.Hour.End)
        {
            var end = station.Hour.Crossing(from, now);
            station.Hour.Add(from, end);
            if (station.Hour.Mean is { } mean)
            {
                EndHour(station, new(end.At, mean));
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

    private void EndHour(StationState station, in TimedTemperature mean)
    {
        if (location.Location.Spot is null)
        {
            return;
        }

        var start = new Moment(mean.At.Ticks - NodaTime.NodaConstants.TicksPerHour);
        var hourOfDay = start.HourOfDay(location.Settings.Zone);
        var hour = new StationHour(station, mean, hourOfDay, location.Reference is null || location.Reference == station);
        station.LastHour = mean;
        station.LastDay.Add(hourOfDay, mean.Temperature);
        Inputs.HourEnded(hour);
    }

    private void TakeHumidity(StationState station, Moment at, double raw)
    {
        // At the end of its scale a sensor says no more than "saturated", whatever its offset.
        var percent = raw >= HumidityScale.End ? raw : Math.Clamp(raw + station.HumidityPoints, 0, 100);
        var input = new HumidityInput(station, at, raw, percent, IsAnyCovered(), station.HumidityAt);
        Inputs.TookHumidity(input);
        station.HumidityAt = at;
        station.HumidityPercent = percent;
    }

    private void TakeMoisture(StationState station, Moment at, double raw)
    {
        if (location.Batches.Count == 0 || MediaMoisture.PercentOf(raw, station.DryRaw, station.SaturatedRaw) is not { } percent)
        {
            return;
        }

        var isTowel = location.Batches.Any(batch => batch.Method == SowingMethod.DampTowel);
        var input = new MoistureInput(station, at, percent, isTowel, station.MoistureAt);
        Inputs.TookMoisture(input);
        station.MoistureAt = at;
    }

    private bool IsAnyCovered()
    {
        var batches = location.Batches;
        for (var i = 0; i < batches.Count; i++)
        {
            if (batches[i].IsCovered)
            {
                return true;
            }
        }

        return false;
    }
}
