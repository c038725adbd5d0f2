using Chamber.Core.Batches;
using Chamber.Core.Facts;

namespace Chamber.Testing;

/// <summary>All that there is of a home, a line each: equal for equal homes.</summary>
public static class HomeText
{
    public static string Of(HomeState home) => string.Join('\n', Lines(home));

    private static IEnumerable<string> Lines(HomeState home) =>
    [
        .. home.Spots.Select(one => $"{one}"),
        .. home.Probes.Select(one => $"{one}"),
        .. home.Stations.Select(one => $"{one}"),
        .. home.Calibrations.Select(one => $"{one}"),
        .. home.SetAside.Select(one => $"{one}"),
        .. home.Lots.Select(one => $"{one}"),
        .. home.Tests.Select(one => $"{one}"),
        .. home.Batches.Select(Of),
        .. home.Crops.Select(one => $"{one}"),
        .. home.Settings.OrderBy(one => one.Key, StringComparer.Ordinal).Select(one => $"{one}"),
        .. home.Work.Select(one => $"{one}"),
        .. home.AlertMarks.Select(one => $"{one}"),
        .. home.Renamed.Select(one => $"{one}"),
    ];

    private static string Of(Batch batch) =>
        $"{batch with { Stays = [], Looks = [], Stages = [], Losses = [], Wettings = [], Photos = [] }} {string.Join(' ', batch.Stays)} {string.Join(' ', batch.Looks)} {string.Join(' ', batch.Stages)} "
        + $"{string.Join(' ', batch.Losses)} {string.Join(' ', batch.Wettings)} {string.Join(' ', batch.Photos)}";
}
