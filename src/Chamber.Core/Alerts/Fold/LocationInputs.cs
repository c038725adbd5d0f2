using Chamber.Core.Folding;

namespace Chamber.Core.Alerts.Fold;

/// <summary>Hands each input of a location to the conditions that take it.</summary>
internal sealed class LocationInputs(LocationState location, ConditionWatch[] watches, InputTable takers)
{
    private readonly ConditionWatch[] hearing = takers.Heard.Of(watches);
    private readonly ConditionWatch[] measuring = takers.Measured.Of(watches);
    private readonly ConditionWatch[] holding = takers.HeldBack.Of(watches);
    private readonly ConditionWatch[] bearingOut = takers.BorneOut.Of(watches);
    private readonly ConditionWatch[] dropping = takers.Dropped.Of(watches);
    private readonly ConditionWatch[] accepting = takers.Accepted.Of(watches);
    private readonly ConditionWatch[] following = takers.Followed.Of(watches);
    private readonly ConditionWatch[] takingUp = takers.TakenUp.Of(watches);
    private readonly ConditionWatch[] hourly = takers.HourEnded.Of(watches);
    private readonly ConditionWatch[] ofHumidity = takers.TookHumidity.Of(watches);
    private readonly ConditionWatch[] ofMoisture = takers.TookMoisture.Of(watches);
    private readonly ConditionWatch[] ofBattery = takers.TookBattery.Of(watches);
    private readonly ConditionWatch[] passing = takers.Advance.Of(watches);
    private readonly ConditionWatch[] meeting = takers.MeetDue.Of(watches);

    // By condition, then by batch; whoever is not asked yet takes everything.
    private QuietBand[] quiet = [];

    /// <summary>Something has happened to the location: what was quiet may count now.</summary>
    public void Wake()
    {
        Array.Resize(ref quiet, following.Length * location.Batches.Count);
        Array.Fill(quiet, QuietBand.None);
    }

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
        foreach (var watch in holding)
        {
            watch.HeldBack(station, suspect);
        }
    }

    public void BorneOut(StationState station, in TimedTemperature suspect)
    {
        foreach (var watch in bearingOut)
        {
            watch.BorneOut(station, suspect);
        }
    }

    public void Dropped(StationState station, in TimedTemperature suspect)
    {
        foreach (var watch in dropping)
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

    public void HourEnded(in StationHour hour)
    {
        foreach (var watch in hourly)
        {
            watch.HourEnded(hour);
        }
    }

    public void TookHumidity(in HumidityInput input)
    {
        foreach (var watch in ofHumidity)
        {
            watch.TookHumidity(input);
        }
    }

    public void TookMoisture(in MoistureInput input)
    {
        foreach (var watch in ofMoisture)
        {
            watch.TookMoisture(input);
        }
    }

    public void TookBattery(StationState station, Moment at, double percent)
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

    /// <summary>Follows the spot's temperature to the present reading of its reference probe.</summary>
    public void Follow(in SpotLeg leg)
    {
        var batches = location.Batches;
        var (from, to) = (leg.From.Temperature.Celsius, leg.To.Temperature.Celsius);
        for (var i = 0; i < quiet.Length; i++)
        {
            if (!quiet[i].Contains(from, to))
            {
                var watch = following[i / batches.Count];
                var batch = batches[i % batches.Count];
                watch.Followed(batch, leg);
                quiet[i] = watch.QuietFor(batch);
            }
        }

        for (var i = 0; i < batches.Count; i++)
        {
            batches[i].CountStand(leg);
        }
    }

    /// <summary>Goes on with the spot's temperature after a gap.</summary>
    public void TakeUp(in SpotGap gap)
    {
        Wake();
        foreach (var watch in takingUp)
        {
            foreach (var batch in location.Batches)
            {
                watch.TakenUp(batch, gap);
            }
        }
    }
}
