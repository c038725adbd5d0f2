using Chamber.Service.Home.Answers;
using NodaTime;

namespace Chamber.Service.Web.Views;

/// <summary>What is to be expected in words, line by line, so that two stand beside each other.</summary>
internal static class ExpectedWords
{
    public static IReadOnlyList<string> Heads { get; } = ["Half up", "How many in all", "Ready to plant out"];

    public static IReadOnlyList<string> Of(Expected expected, DateTimeZone zone, LocalDate today) =>
    [
        expected.Half.Low is { } low
            ? CountdownText.Days(low.InZone(zone).Date, expected.Half.High?.InZone(zone).Date, today) : "not to be expected here",
        $"{expected.StandLow} to {expected.StandHigh} of {expected.Seeds}",
        expected.ReadyOn is { } ready ? $"about {TimeText.ShowDay(ready, today)}" : "cannot say",
    ];
}
