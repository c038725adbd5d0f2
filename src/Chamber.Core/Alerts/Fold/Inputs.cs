using System.Runtime.CompilerServices;
using Chamber.Core.Folding;
using NodaTime;

namespace Chamber.Core.Alerts.Fold;

/// <summary>A straight line of the spot's temperature between two readings of its reference probe, known all along.</summary>
/// <param name="Station">The reference probe.</param>
/// <param name="From">Where it begins.</param>
/// <param name="To">Where it ends: the present reading.</param>
[method: MethodImpl(MethodImplOptions.AggressiveInlining)]
internal readonly record struct SpotLeg(StationState Station, TimedTemperature From, TimedTemperature To)
{
    public double Hours { get; } = (To.At.Ticks - From.At.Ticks) / (double)NodaConstants.TicksPerHour;

    public double MeanCelsius { get; } = (From.Temperature.Celsius + To.Temperature.Celsius) / 2;
}

/// <summary>Temperatures of a spot that change nothing for a condition of a batch, as things stand; °C, both ends included.</summary>
/// <param name="Low">The coldest of them.</param>
/// <param name="High">The hottest of them.</param>
internal readonly record struct QuietBand(double Low, double High)
{
    /// <summary>Every temperature counts.</summary>
    public static readonly QuietBand None = new(double.PositiveInfinity, double.NegativeInfinity);

    /// <summary>No temperature counts.</summary>
    public static readonly QuietBand All = new(double.NegativeInfinity, double.PositiveInfinity);

    /// <summary>Whether a whole line lies in it.</summary>
    public bool Contains(double from, double to) => from >= Low && to >= Low && from <= High && to <= High;
}

/// <summary>The spot's temperature where it is known again after a gap, or by another probe.</summary>
/// <param name="Station">The reference probe from now on.</param>
/// <param name="To">The present reading.</param>
/// <param name="Before">The one before; null when there was none.</param>
internal readonly record struct SpotGap(StationState Station, TimedTemperature To, StationState? Before)
{
    /// <summary>Up to where the temperature before the gap is known; null when there was none.</summary>
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
/// <param name="Before">When it was said before; null when it was not.</param>
internal readonly record struct HumidityInput(
    StationState Station, Moment At, double Raw, double Percent, bool IsCovered, Moment? Before)
{
    /// <summary>Up to where the humidity before is known.</summary>
    public Moment Known => Station.KnownFrom(Before, At);

    /// <summary>Whether it is not known up to now.</summary>
    public bool IsGap => Known < At;
}

/// <summary>A reading of media moisture.</summary>
/// <param name="Station">The probe.</param>
/// <param name="At">When.</param>
/// <param name="Percent">% of its own saturated reading.</param>
/// <param name="IsTowel">Whether a damp towel lies here.</param>
/// <param name="Before">When it was said before; null when it was not.</param>
internal readonly record struct MoistureInput(StationState Station, Moment At, double Percent, bool IsTowel, Moment? Before)
{
    /// <summary>Up to where the moisture before is known.</summary>
    public Moment Known => Station.KnownFrom(Before, At);

    /// <summary>Whether it is not known up to now.</summary>
    public bool IsGap => Known < At;
}
