using Chamber.Core.Alerts;
using Chamber.Core.Alerts.Watching;
using Chamber.Core.Climate;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Tests.Alerts;

/// <summary>A probe that fell silent and was then moved, or taken away: whoever watched and whoever folds it all at once, or again after a
/// restart, tell the same. Home and numbers are invented.</summary>
public sealed class MovedProbeTests
{
    private static readonly Instant Start = Instant.FromUtc(2026, 3, 2, 0, 0);
    private static readonly SpotId Shelf = new("shelf");
    private static readonly SpotId Sill = new("sill");
    private static readonly Probe Soil = new(new("soil"), Measurand.Media, Duration.FromHours(1));
    private static readonly Instant End = At(20);

    // It speaks every ten minutes for five hours.
    private static readonly List<Reading> Journal =
        [.. Enumerable.Range(0, 31).Select(i => At(i / 6.0)).Select(at => new Reading(Soil.Id, at, at, Temperature.FromCelsius(22)))];

    [Theory]
    [InlineData("shelf", "sill", "5-6-10 Gone, 10-11-")]
    [InlineData("shelf", null, "5-6-10 Gone, 10-11-")]
    [InlineData(null, "sill", "5-6-10 Gone, 10-11-")]
    public void Its_silence_is_told_live_in_one_go_and_after_a_restart(string? from, string? to, string told)
    {
        var (before, after) = (Facts(from, null, moved: false), Facts(from, to, moved: true));
        var live = new HomeWatch(before);
        List<WatchEvent> said = [];
        for (var now = Start; now <= End; now += Duration.FromMinutes(10))
        {
            said.AddRange(live.Step([.. Journal.Where(reading => reading.MeasuredAt == now)], now));
            said.AddRange(now == At(10) ? live.Step(after, now) : live.Step(now));
        }

        Assert.Equal(told, Silences(live));
        Assert.Equal([(6.0, true), (10, false), (11, true)],
            said.Select(InHours).Where(edge => edge is not null).Select(edge => edge!.Value));

        var atOnce = new HomeWatch(after);
        var saidAtOnce = atOnce.Rebuild(_ => Journal, End);
        Assert.Equal(told, Silences(atOnce));
        Assert.Equal([(6.0, true), (10, false), (11, true)],
            saidAtOnce.Concat(atOnce.Step(End)).Select(InHours).Where(edge => edge is not null).Select(edge => edge!.Value));

        var again = new HomeWatch(after, live.Alerts(), End);
        Assert.DoesNotContain(again.Rebuild(_ => Journal, End).Concat(again.Step(End)), happened => happened is not RefoldNeeded);
        Assert.Equal(told, Silences(again));
    }

    private static string Silences(HomeWatch watch) => string.Join(", ", watch.Alerts().Where(alert => alert.Kind == AlertKind.SilentProbe)
        .Select(alert => $"{Hours(alert.Since)}-{Hours(alert.OpenedAt)}-"
            + (alert.ClosedAt is { } at ? $"{Hours(at)} {alert.CloseReason}" : "")));

    private static (double Hours, bool IsOpened)? InHours(WatchEvent happened) => happened switch
    {
        AlertOpened { Alert: var alert } when alert.Kind == AlertKind.SilentProbe => (Hours(alert.OpenedAt), true),
        AlertClosed { Alert: var alert } when alert.Kind == AlertKind.SilentProbe => (Hours(alert.ClosedAt!.Value), false),
        _ => null,
    };

    private static double Hours(Instant at) => Math.Round((at - Start).TotalHours, 2);

    private static Instant At(double hours) => Start + Duration.FromHours(hours);

    private static HomeFacts Facts(string? from, string? to, bool moved)
    {
        List<Station> stations = [];
        if (from is not null)
        {
            stations.Add(new(Soil.Id, new(from), new(Start, moved ? At(10) : null)));
        }

        if (to is not null)
        {
            stations.Add(new(Soil.Id, new(to), new(At(10), null)));
        }

        return new()
        {
            Probes = [Soil],
            Spots = [new(Shelf, SpotKind.Shelf, LightLevel.Dim, 1), new(Sill, SpotKind.Sill, LightLevel.Bright, 1)],
            Stations = stations,
        };
    }
}
