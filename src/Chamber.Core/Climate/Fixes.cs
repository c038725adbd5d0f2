using System.Globalization;

namespace Chamber.Core.Climate;

/// <summary>The one sentence beside a refusal that says what to do about it.</summary>
public static class Fixes
{
    /// <summary>The name of a quantity in payloads and refusals: <c>temperature</c>.</summary>
    public static string NameOf(Quantity quantity) => quantity switch
    {
        Quantity.Temperature => "temperature",
        Quantity.Humidity => "humidity",
        Quantity.Moisture => "moisture",
        _ => "battery",
    };

    /// <summary>What to do about a number that is not used.</summary>
    public static string For(RefusalReason reason, DeclaredValue value) => reason switch
    {
        RefusalReason.OtherUnit => OtherUnit(value),
        RefusalReason.Sentinel => Sentinel(value),
        RefusalReason.Impossible => $"Nowhere in or near a home is it {Written(value)}: check the declared unit, then the probe's wiring.",
        _ => For(reason),
    };

    /// <summary>What to do about a message, a line or a field that is not used.</summary>
    public static string For(RefusalReason reason) => reason switch
    {
        RefusalReason.UnknownTopic => "No mapping knows this topic: chamber listen proposes one.",
        RefusalReason.Malformed => "Compare it with the declared form in docs/topics.md.",
        RefusalReason.TooLarge => "A reading is small: send one at a time, or raise the bound in the configuration.",
        RefusalReason.Missing =>
            "The sensor or its bridge sent no number: look at its battery and its radio, and at the field that the mapping names.",
        RefusalReason.UnknownUnit =>
            "Declare a unit that measures this quantity: Cel, [degF] or K for temperature, % or 1 for humidity and battery.",
        RefusalReason.OtherUnit => "Declare the unit that the sensor really sends.",
        RefusalReason.Sentinel => "The sensor says that it measured nothing: look at its wiring and its battery.",
        RefusalReason.Impossible => "Check the declared unit, then the probe's wiring.",
        RefusalReason.FutureTime => "Set the sensor's clock; until then the time of arrival is used.",
        RefusalReason.BadTime => "Send RFC 3339 with an offset (2026-11-25T10:00:00Z), or declare the form of the time; until then the "
            + "time of arrival is used.",
        RefusalReason.NotStored => "The data file takes other messages, so the disk is not the cause: record the values with \"chamber "
            + "read\", and report this line with the log of that minute.",
        RefusalReason.RetainedWithoutTime =>
            "Shown as last known, and not counted: publish readings without retain, or with their own time.",
        _ => "Add the probe, or allow new probes in the configuration.",
    };

    private static string OtherUnit(DeclaredValue value)
    {
        if (value.Unit.Quantity != Quantity.Temperature)
        {
            return $"Declared {value.Unit.Code}, but {Number(value.Number)} looks like "
                + $"{(value.Unit.Code == "%" ? "a ratio: declare 1" : "percent: declare %")}.";
        }

        var other = value.Unit == DeclaredUnit.Celsius ? DeclaredUnit.Fahrenheit : DeclaredUnit.Celsius;
        return $"Declared {value.Unit.Code}, but {Number(value.Number)} looks like {other.Symbol}: declare {other.Code}, or, if a trusted "
            + $"thermometer beside it agrees with {Written(value)}, confirm the unit of this mapping.";
    }

    private static string Sentinel(DeclaredValue value) => value.Unit.Quantity switch
    {
        Quantity.Temperature =>
            $"{Written(value)} is how a sensor says that it measured nothing: check its wiring and its supply, then its battery.",
        Quantity.Humidity => $"{Written(value)} is how a sensor says that it measured nothing: let it dry out, then check its battery.",
        Quantity.Battery => $"{Written(value)} is how a sensor says that it does not know its charge.",
        _ => $"{Written(value)} is how a sensor says that it measured nothing: check its wiring.",
    };

    private static string Written(DeclaredValue value) => $"{Number(value.Number)} {value.Unit.Symbol}";

    private static string Number(double number) => number.ToString(CultureInfo.InvariantCulture);
}
