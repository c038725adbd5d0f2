using NodaTime;

namespace Chamber.Core.Climate;

/// <summary>A number with its declared unit.</summary>
/// <param name="Number">As it came.</param>
/// <param name="Unit">As declared.</param>
public readonly record struct DeclaredValue(double Number, DeclaredUnit Unit);

/// <summary>
/// What a probe said, in whatever units were declared, before it was judged. <see cref="Screen"/> turns it into a
/// <see cref="Reading"/> of what can be used, and a <see cref="Refusal"/> for each number that cannot.
/// </summary>
public struct RawReading
{
    public DeclaredValue? Temperature { get; private set; }
    public DeclaredValue? Humidity { get; private set; }
    public DeclaredValue? Moisture { get; private set; }
    public DeclaredValue? Battery { get; private set; }

    /// <summary>Sets the quantity that the unit measures; a second value replaces the first.</summary>
    public void Set(double number, DeclaredUnit unit)
    {
        ArgumentNullException.ThrowIfNull(unit);
        switch (unit.Quantity)
        {
            case Quantity.Temperature:
                Temperature = new(number, unit);
                break;
            case Quantity.Humidity:
                Humidity = new(number, unit);
                break;
            case Quantity.Moisture:
                Moisture = new(number, unit);
                break;
            default:
                Battery = new(number, unit);
                break;
        }
    }

    /// <summary>Judges every number. The reading may come out empty.</summary>
    /// <param name="origin">Whose reading it is, when and from where.</param>
    /// <param name="refusals">Takes in one refusal for each number that is not used.</param>
    public readonly Reading Screen(in ReadingOrigin origin, ICollection<Refusal> refusals)
    {
        ArgumentNullException.ThrowIfNull(refusals);
        var noAnswer = IsNoAnswer();
        return new(
            origin.Probe,
            origin.MeasuredAt,
            origin.ReceivedAt,
            Judge(Temperature, noAnswer, origin, refusals) is { } t ? Climate.Temperature.FromCelsius(t) : null,
            Judge(Humidity, noAnswer, origin, refusals) is { } h ? RelativeHumidity.FromPercent(Math.Min(h, 100)) : null,
            Judge(Moisture, false, origin, refusals),
            Judge(Battery, false, origin, refusals),
            origin.Clock);
    }

    private readonly bool IsNoAnswer() =>
        Temperature is { } t && Humidity is { } h
        && SentinelValues.ContainsPair(t.Unit.ToHeld(t.Number), h.Unit.ToHeld(h.Number));

    private static double? Judge(DeclaredValue? value, bool noAnswer, in ReadingOrigin origin, ICollection<Refusal> refusals)
    {
        if (value is not { } declared)
        {
            return null;
        }

        var reason = noAnswer
            ? RefusalReason.Sentinel
            : ReadingScreen.Judge(declared.Number, declared.Unit, origin.Previous, origin.MeasuredAt, origin.UnitConfirmed);
        if (reason is { } why)
        {
            refusals.Add(origin.Refuse(declared, why));
            return null;
        }

        return declared.Unit.ToHeld(declared.Number);
    }
}

/// <summary>Whose reading, when, and from where: what a <see cref="RawReading"/> needs to be judged and to name its refusals.</summary>
/// <param name="Probe">Who said it.</param>
/// <param name="MeasuredAt">When it was measured.</param>
/// <param name="ReceivedAt">When it arrived here.</param>
/// <param name="Clock">Whose clock the measurement time comes from.</param>
/// <param name="Source">The topic, or the file and line.</param>
/// <param name="Previous">The probe's last believed temperature.</param>
/// <param name="UnitConfirmed">Somebody said that the declared units are right.</param>
public readonly record struct ReadingOrigin(
    ProbeId Probe,
    Instant MeasuredAt,
    Instant ReceivedAt,
    ClockSource Clock,
    string Source,
    TemperatureSample? Previous = null,
    bool UnitConfirmed = false)
{
    internal Refusal Refuse(DeclaredValue value, RefusalReason reason)
    {
        var raw = string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{value.Number} {value.Unit.Symbol}");
        return new(ReceivedAt, Source, Probe, Fixes.NameOf(value.Unit.Quantity), reason, raw, Fixes.For(reason, value));
    }
}
