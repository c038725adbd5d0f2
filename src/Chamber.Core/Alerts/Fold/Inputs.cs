using Chamber.Core.Folding;
using NodaTime;

namespace Chamber.Core.Alerts.Fold;

/// <summary>Hears that a probe said anything at all.</summary>
internal interface IHearProbes
{
    void Heard(StationState station, Moment at);
}

/// <summary>Takes every temperature as it was measured, before lone values are held back.</summary>
internal interface ITakeMeasurements
{
    void Measured(StationState station, in TimedTemperature now);
}

/// <summary>Takes what becomes of a temperature that lies far off the last.</summary>
internal interface IJudgeSuspects
{
    /// <summary>It is held back.</summary>
    void HeldBack(StationState station, in TimedTemperature suspect);

    /// <summary>The next one bears it out.</summary>
    void BorneOut(StationState station, in TimedTemperature suspect);

    /// <summary>It was a lone value.</summary>
    void Dropped(StationState station, in TimedTemperature suspect);
}

/// <summary>Takes each temperature that counts, before it becomes the last.</summary>
internal interface ITakeTemperatures
{
    void Accepted(StationState station, in TimedTemperature now);
}

/// <summary>Follows the temperature of the spot, as its reference probe says it.</summary>
internal interface IFollowSpots
{
    void Followed(in SpotLeg leg);
}

/// <summary>Takes the mean of each whole hour of a probe on a spot.</summary>
internal interface ITakeHours
{
    void HourEnded(in StationHour hour);
}

/// <summary>Takes humidity.</summary>
internal interface ITakeHumidity
{
    void TookHumidity(in HumidityInput input);
}

/// <summary>Takes moisture of media where a batch stands.</summary>
internal interface ITakeMoisture
{
    void TookMoisture(in MoistureInput input);
}

/// <summary>Takes the charge of a battery.</summary>
internal interface ITakeBattery
{
    void TookBattery(StationState station, Moment at, double percent);
}

/// <summary>Lets time pass without a reading.</summary>
internal interface IPassTime
{
    void Advance(Moment to);
}

/// <summary>Has something to do at a moment that nothing else brings about.</summary>
internal interface IMeetDeadlines
{
    /// <summary>The next such moment; never when there is none.</summary>
    Moment Due { get; }

    void MeetDue(Moment due);
}

/// <summary>A straight line of the spot's temperature, from the last reading of its reference probe to the present one.</summary>
/// <param name="Station">The reference probe.</param>
/// <param name="From">Where it begins; meaningless unless connected.</param>
/// <param name="To">Where it ends.</param>
/// <param name="IsConnected">Whether the temperature in between is known.</param>
/// <param name="Before">The reference probe before a gap, or before another one took over; null when connected, or when there was
/// none.</param>
internal readonly record struct SpotLeg(StationState Station, TimedTemperature From, TimedTemperature To, bool IsConnected,
    StationState? Before)
{
    public double Hours { get; } = IsConnected ? (To.At.Ticks - From.At.Ticks) / (double)NodaConstants.TicksPerHour : 0;

    public double MeanCelsius { get; } = IsConnected ? (From.Temperature.Celsius + To.Temperature.Celsius) / 2 : To.Temperature.Celsius;

    /// <summary>Up to where the temperature before a gap is known; null when there was none.</summary>
    public Moment? KnownBefore => Before?.KnownUntil is { } known ? Moment.Earlier(To.At, known) : null;
}

/// <summary>A whole hour of a probe on a spot.</summary>
/// <param name="Station">The probe.</param>
/// <param name="Mean">Its mean, at its end.</param>
/// <param name="HourOfDay">0 to 23, by the home's clock.</param>
/// <param name="IsReference">Whether the probe speaks for the spot.</param>
internal readonly record struct StationHour(StationState Station, TimedTemperature Mean, int HourOfDay, bool IsReference)
{
    public Moment End => Mean.At;
}

/// <summary>A reading of humidity.</summary>
/// <param name="Station">The probe.</param>
/// <param name="At">When.</param>
/// <param name="Raw">As it was said, %.</param>
/// <param name="Percent">After its calibration, %.</param>
/// <param name="IsCovered">Whether a batch here stands under a cover.</param>
/// <param name="Known">Up to where the humidity before is known.</param>
/// <param name="IsGap">Whether it is not known up to now.</param>
internal readonly record struct HumidityInput(StationState Station, Moment At, double Raw, double Percent, bool IsCovered,
    Moment Known, bool IsGap);

/// <summary>A reading of media moisture.</summary>
/// <param name="Station">The probe.</param>
/// <param name="At">When.</param>
/// <param name="Percent">% of its own saturated reading.</param>
/// <param name="IsTowel">Whether a damp towel lies here.</param>
/// <param name="Known">Up to where the moisture before is known.</param>
/// <param name="IsGap">Whether it is not known up to now.</param>
internal readonly record struct MoistureInput(StationState Station, Moment At, double Percent, bool IsTowel, Moment Known, bool IsGap);
