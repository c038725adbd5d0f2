using System.CommandLine;
using Chamber.Core.Climate;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Home.Writing;

namespace Chamber.Service.Commands.Spots;

/// <summary>Records what you read off a thermometer.</summary>
internal static class ReadVerb
{
    public static Verb Create()
    {
        var name = new Argument<string>("where") { Description = "The spot where the thermometer hangs, or its own name." };
        var temperature = Typed.Argument("temperature", "What it shows, with its unit: 63F or 17.2C.",
            text => (Text: text, Value: TemperatureText.Parse(text)));
        var humidity = Typed.Option<double?>("--humidity", "PERCENT", "Relative humidity, if it shows that too.", ParsePercent);
        var when = new Option<string?>("--when") { HelpName = "TIME",
            Description = "When you read it: 07:40 or \"2026-03-01 07:40\". Default: now." };
        var sure = new Option<bool>("--sure") { Description = "Take the value as it is, even if it looks like the other unit." };
        return new Verb("read", "Records what you read off a thermometer.", "chamber read boiler-top 24.3C",
            "chamber read shelf 66F --humidity 45 --when 07:40") { name, temperature, humidity, when, sure }
            .Does(invocation =>
            {
                var parse = invocation.Parse;
                var answer = new HandReadings(invocation.Writing, invocation.Now).Write(new(
                    parse.GetValue(name)!,
                    parse.GetValue(temperature).Text,
                    parse.GetValue(humidity),
                    parse.GetValue(sure),
                    parse.GetValue(when)));
                Answer(invocation, answer);
            });
    }

    private static double? ParsePercent(string text) =>
        double.TryParse(text.Trim().TrimEnd('%').TrimEnd(), System.Globalization.NumberStyles.AllowDecimalPoint,
            System.Globalization.CultureInfo.InvariantCulture, out var percent) && percent is > 0 and <= 100
            ? percent
            : throw new FormatException($"\"{text}\" is not a relative humidity: write a percent from 1 to 100.");

    private static void Answer(Invocation invocation, ReadAnswer read) => invocation.Answer(read, screen =>
    {
        screen.Headline($"{screen.Show(read.Temperature!.Value)} on {read.Spot?.Text ?? read.Probe.Text} at {invocation.Show(read.At)} "
            + $"{(read.IsNew ? "is recorded." : "was recorded already.")}");
        if (!invocation.Home.Ledger.Stations.Any(station => station.Probe == read.Probe))
        {
            screen.Say($"There is no spot {read.Probe} yet. Add it and read again: chamber spot add {read.Probe} --kind shelf --light dim  "
                + $" or say where the thermometer hangs: chamber probe move {read.Probe} SPOT");
        }
    });
}
