using System.Globalization;
using Chamber.Core;
using Chamber.Core.Climate;
using Chamber.Storage.Files;
using NodaTime;

namespace Chamber.Storage.Readings;

/// <summary>
/// The quantities of a probe's rows as far as they lie within <see cref="Bounds"/>. What comes in was judged before it was written; a file
/// that was edited or restored from elsewhere may hold anything, and one number must not take the home down. The first row of a probe that
/// holds such a number is reported, and all of them count for nothing.
/// </summary>
internal sealed class KeptQuantities(LeftOut leftOut, ProbeId probe)
{
    /// <summary>Rows lie in this time, in ms: computers count from its beginning, and its end is <see cref="Bounds.Year"/>'s.</summary>
    public const long First = 0;

    public static readonly long End = Instant.FromUtc((int)Bounds.Year.High + 1, 1, 1, 0, 0).ToUnixTimeMilliseconds();

    // A message lies on the way for years at most; beyond that the number is none.
    private const long OnTheWayMax = 3653L * 86_400_000;

    private bool isTold;

    public Temperature? Temperature(double? celsius, long at) =>
        Keep(Bounds.ReadCelsius, celsius, at) is { } value ? Core.Climate.Temperature.FromCelsius(value) : null;

    public RelativeHumidity? Humidity(double? percent, long at) =>
        Keep(Bounds.ReadHumidity, percent, at) is { } value ? RelativeHumidity.FromPercent(value) : null;

    public double? Moisture(double? raw, long at) => Keep(Bounds.RawMoisture, raw, at);

    public double? Battery(double? percent, long at) => Keep(Bounds.ReadBattery, percent, at);

    /// <summary>When a row of a time arrived.</summary>
    public static Instant ReceivedAt(long at, long onTheWay) =>
        Instant.FromUnixTimeMilliseconds(at + (onTheWay is >= -OnTheWayMax and <= OnTheWayMax ? onTheWay : 0));

    /// <summary>Whether a rolled-up stretch is one: it lies within a quarter of an hour.</summary>
    public bool Keeps(long span, long at)
    {
        var keeps = span is >= 0 and <= Stretch.LengthMax;
        return keeps || Tell($"a stretch of {span.ToString(CultureInfo.InvariantCulture)} ms is none", at);
    }

    private double? Keep(Bound bound, double? value, long at)
    {
        if (value is not { } number || bound.Holds(number))
        {
            return value;
        }

        Tell(bound.WhyNot(number)![..^1], at);
        return null;
    }

    // Once: a file may hold millions of them.
    private bool Tell(string why, long at)
    {
        if (!isTold)
        {
            isTold = true;
            leftOut.Keeps($"{why}. The first that was met is of {Instant.FromUnixTimeMilliseconds(at)}.",
                () => $"What {probe} says beyond its range");
        }

        return false;
    }
}
