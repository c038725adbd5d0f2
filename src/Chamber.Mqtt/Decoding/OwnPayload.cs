using System.Globalization;
using System.Text;
using NodaTime;
using NodaTime.Text;

namespace Chamber.Mqtt.Decoding;

/// <summary>Writes Chamber's own payload of a reading, as docs/topics.md has it.</summary>
public static class OwnPayload
{
    /// <param name="at">When it was measured.</param>
    /// <param name="celsius">°C.</param>
    /// <param name="humidityPercent">0 to 100; null where it was not measured.</param>
    /// <param name="moisture">On the probe's own scale; null where it was not measured.</param>
    /// <param name="batteryPercent">0 to 100; null where it is not known.</param>
    public static string Of(Instant at, double celsius, double? humidityPercent = null, double? moisture = null,
        double? batteryPercent = null)
    {
        var text = new StringBuilder();
        Add(text, "temperature", celsius);
        Add(text, "humidity", humidityPercent);
        Add(text, "moisture", moisture);
        Add(text, "battery", batteryPercent);
        return text.Append("\"at\":\"").Append(InstantPattern.ExtendedIso.Format(at)).Append("\"}").Insert(0, '{').ToString();
    }

    private static void Add(StringBuilder text, string name, double? value)
    {
        if (value is { } number)
        {
            text.Append(CultureInfo.InvariantCulture, $"\"{name}\":{number},");
        }
    }
}
