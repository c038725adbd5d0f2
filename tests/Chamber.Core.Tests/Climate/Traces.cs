using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;
using NodaTime;

namespace Chamber.Core.Tests.Climate;

/// <summary>Short ways to write temperatures down in tests.</summary>
internal static class Traces
{
    public static readonly DateTimeZone Berlin = DateTimeZoneProviders.Tzdb["Europe/Berlin"];

    public static readonly Duration TwoHours = Duration.FromHours(2);

    /// <summary>Base 10, plateau 25 to 30, ceiling 35; limits 15 and 31 °C.</summary>
    public static readonly WarmthLimits Limits = new(
        new(Celsius(10), Celsius(25), Celsius(30), Celsius(35)), Celsius(15), Celsius(31));

    public static Temperature Celsius(double degrees) => Temperature.FromCelsius(degrees);

    public static Instant At(int day, double hour = 0) =>
        Instant.FromUtc(2026, 1, 1, 0, 0) + Duration.FromDays(day) + Duration.FromHours(hour);

    /// <summary>One temperature each so many minutes, from midnight UTC of a day, by a function of the hours since then.</summary>
    public static IEnumerable<TemperatureSample> Every(int minutes, int fromDay, double hours, Func<double, double> celsius)
    {
        for (var minute = 0; minute <= hours * 60; minute += minutes)
        {
            yield return new(At(fromDay) + Duration.FromMinutes(minute), Celsius(celsius(minute / 60.0)));
        }
    }

    public static TemperatureTrace Trace(params (double Hour, double Celsius)[] points) =>
        TemperatureTrace.Of(points.Select(point => new TemperatureSample(At(0, point.Hour), Celsius(point.Celsius))), TwoHours);
}
