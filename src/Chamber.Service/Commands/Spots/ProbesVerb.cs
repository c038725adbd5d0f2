using Chamber.Core.Climate;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Home.Answers;

namespace Chamber.Service.Commands.Spots;

/// <summary>Every probe: what it said last and where it is; those heard but not placed; what was refused.</summary>
internal static class ProbesVerb
{
    public static Verb Create() => new Verb("probes", "Lists your probes: last reading, spot, and what was refused.",
        "chamber probes", "chamber probes --json")
        .LooksBack()
        .Does(invocation =>
        {
            var answers = ProbeList.Read(invocation.Home);
            invocation.Answer(answers, screen =>
            {
                Show(screen, invocation, answers);
                RefusalsVerb.SayUnheard(screen, invocation.Settings);
            });
        });

    private static void Show(Screen screen, Invocation invocation, List<ProbeAnswer> answers)
    {
        if (answers.Count == 0)
        {
            screen.Headline("No probe has spoken yet.");
            screen.Say("Send to chamber/NAME/reading over MQTT, import a file (chamber import), or read a thermometer (chamber "
                + "read shelf 22.5C).");
            return;
        }

        screen.Table(
            ["Probe", "Spot", "Measures", $">Last {screen.Scale.Unit()}", ">Added", ">RH %", ">Battery %", "When", ">Refused"],
            answers.Select(probe => new[]
            {
                probe.Probe.Text,
                probe.Spot?.Text ?? "(not placed)",
                probe.Measures is { } measures ? Choice.Words(measures) + (probe.HandRead ? ", by hand" : string.Empty) : "(not said)",
                probe.Corrected is { } temperature ? screen.Scale.Number(temperature) : "-",
                probe.Calibration is { } calibration ? screen.Scale.ShowSmall(TemperatureDifference.FromKelvins(calibration.OffsetKelvins))
                    : "-",
                probe.Humidity is { } humidity ? PlainText.Number(humidity.Percent, 0) : "-",
                probe.Battery is { } battery ? PlainText.Number(battery, 0) : "-",
                probe.At is { } at ? DurationText.Ago(invocation.Now - at) : "never",
                probe.Refused.ToString(System.Globalization.CultureInfo.InvariantCulture),
            }));
        foreach (var heard in answers.Where(probe => probe.Spot is null && probe.At is not null))
        {
            screen.Say();
            screen.Say($"{heard.Probe} was heard but is on no spot: chamber probe move {heard.Probe} SPOT");
        }
    }
}
