using System.Globalization;
using System.Text;
using Chamber.Core.Climate;
using Chamber.Core.Simulation;
using Chamber.Mqtt.Decoding;

namespace Chamber.Service.Demo;

/// <summary>One message of a probe of the simulated home.</summary>
internal readonly record struct DemoMessage(string Topic, string Payload)
{
    public byte[] Bytes => Encoding.UTF8.GetBytes(Payload);
}

/// <summary>How each probe of the simulated home puts what it says: four shapes, as cheap sensors have them.</summary>
internal static class DemoMessages
{
    /// <summary>What the configuration says of the topics that are not Chamber's own.</summary>
    public static IReadOnlyList<TopicMapping> Mappings { get; } =
    [
        new()
        {
            Topic = "flat/boiler/thermo",
            Form = PayloadForm.Json,
            Probe = "boiler-air",
            Temperature = new("/tempF", "[degF]"),
            Humidity = new("/rh", "%"),
            Battery = new("/battery", "%"),
            Time = new("/time", TimeForm.EpochSeconds),
        },
        new()
        {
            Topic = "flat/sill/climate",
            Form = PayloadForm.Senml,
            Probe = "sill-air",
            Names = new Dictionary<string, SenmlName>
            {
                ["sill/temperature"] = new(Quantity.Temperature),
                ["sill/humidity"] = new(Quantity.Humidity),
                ["sill/battery"] = new(Quantity.Battery),
            },
        },
        new()
        {
            Topic = "flat/plain-mat/celsius",
            Form = PayloadForm.Number,
            Probe = "plain-mat-mix",
            Quantity = Quantity.Temperature,
            Unit = "Cel",
        },
    ];

    public static DemoMessage Of(in ProbeSaid said) => said.Probe.Text switch
    {
        "boiler-air" =>
            new("flat/boiler/thermo",
            Text($$"""{"tempF":{{Temperature.FromCelsius(said.Celsius).Fahrenheit:0.0}},"rh":{{said.HumidityPercent}},"battery":{{said.BatteryPercent}},"time":{{said.At.ToUnixTimeSeconds()}}}""")),
        "sill-air" =>
            new("flat/sill/climate",
            Text($$"""[{"bn":"sill/","bt":{{said.At.ToUnixTimeSeconds()}},"n":"temperature","u":"Cel","v":{{said.Celsius}}},{"n":"humidity","u":"%RH","v":{{said.HumidityPercent}}},{"n":"battery","u":"%EL","v":{{said.BatteryPercent}}}]""")),
        "plain-mat-mix" => new("flat/plain-mat/celsius", Text($"{said.Celsius}")),
        _ => new($"chamber/{said.Probe}/reading",
            OwnPayload.Of(said.At, said.Celsius, said.HumidityPercent, said.Moisture, said.BatteryPercent)),
    };

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
