using System.Text;
using Chamber.Club.Demo;
using Chamber.Club.Homes;
using Chamber.Club.Intake;
using Chamber.Club.Moving;
using Chamber.Club.Store;
using Chamber.Core.Alerts;
using Chamber.Core.Batches;
using Chamber.Core.Crops;
using Chamber.Core.Facts;
using Chamber.Core.Facts.Batches;
using Chamber.Mqtt.Decoding;
using Chamber.Testing;
using NodaTime;

namespace Chamber.Club.Tests.Homes;

/// <summary>The simulated flat, its service at home and its watch in the club side by side, at the same moments: both tell the same. Its
/// readings are invented; what is to be told of them nobody says here, but that it is the same.</summary>
public sealed class SameAtHomeTests(ClubServer server) : IAsyncLifetime
{
    private const string Settings = """
        {
          "home": { "zone": "America/Chicago" }, "units": "F", "quietHours": { "from": "21:30", "to": "06:00" },
          "alertLimits": { "too hot hold": "20 min" }, "stopWaitingBelow": 0.2
        }
        """;

    // A Sunday evening there: a week is surveyed while both run.
    private static readonly Instant Opens = Instant.FromUtc(2026, 3, 15, 20, 0);
    private const int Hours = 20;

    // So often another silo has it, which goes on from a checkpoint.
    private const int WakesEvery = 7;

    // A batch that is given up meanwhile is looked at then.
    private const int LooksAt = 12;
    private static readonly Author Ana = new("Ana", WriteWay.Page);

    private readonly TempFolder folder = new();
    private ClubDatabase? club;

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    public async ValueTask InitializeAsync() => club = await server.Database();

    [Fact]
    public async Task A_home_that_moves_in_is_told_what_it_is_told_at_home()
    {
        var flat = new DemoHome("flat-01", 1, Opens);
        await using var own = new HomeOfItsOwn(folder);
        var taken = await own.Make(Settings, async store =>
        {
            await flat.FillAsync(store, Stop);

            // One that is coming up, and one that is not.
            await store.WriteAsync(Ana, Opens, _ => [.. Radishes("R8", days: 4, looks: []), .. Radishes("R9", days: 13,
                looks: [new(Opens - Duration.FromHours(3), 0)])], Stop);
        }, Stop);
        await HomeMove.ImportAsync(club!, "flat-01", taken, Stop);
        var home = await club!.RequireAsync("flat-01", Stop);
        var watched = new WatchedHome(club, home);
        await own.Start(Opens);
        await watched.CatchUpAsync(Opens, Stop);
        await Compare(own, watched, home, Opens);

        var (seen, woken) = (new HashSet<AlertKind>(), false);
        for (var hour = 1; hour <= Hours; hour++)
        {
            var at = Opens + Duration.FromHours(hour);
            var said = Said(flat, at);
            foreach (var store in (IHomeStore[])[own.Store.Home, club.Home(home)])
            {
                await store.AppendAsync(said.Readings, said.Refusals, said.LastKnown, Stop);
                if (hour == LooksAt)
                {
                    await store.WriteAsync(Ana, at, _ => [new BatchLooked(new("L1"), 0, "mouldy").At(at)], Stop);
                }
            }

            if (hour % WakesEvery == 0)
            {
                await watched.KeepAsync(null, Stop);
                watched = new(club, home);
            }

            await own.GoOn(at, said.Refusals);
            await watched.CatchUpAsync(at, Stop);
            Assert.Equal(hour >= WakesEvery, woken |= watched.IsFromCheckpoint);
            seen.UnionWith(await Compare(own, watched, home, at));
        }

        Assert.Superset(new HashSet<AlertKind> { AlertKind.LookNow, AlertKind.StopWaiting }, seen);
    }

    public async ValueTask DisposeAsync()
    {
        await club!.DisposeAsync();
        folder.Dispose();
    }

    private static IEnumerable<DatedFact> Radishes(string name, int days, IReadOnlyList<Look> looks)
    {
        var sown = Opens - Duration.FromDays(days);
        return BatchFacts.Of(new Batch(new(name), new("radish"), null, SowingMethod.CoveredMix, sown, 15,
            [new(new("boiler-cupboard"), new(sown, null))], looks));
    }

    private async Task<IEnumerable<AlertKind>> Compare(HomeOfItsOwn own, WatchedHome watched, int home, Instant now)
    {
        var since = now - WatchPast.Reach;
        var (told, words) = own.Alerts(since);
        var inClub = await club!.AsAsync(home, session => AlertRows.SinceAsync(session, home, since), Stop);
        string[] atHome = [.. told.Select(Told)], there = [.. inClub.Select(one => Told(one.Alert))];
        Assert.True(atHome.ToHashSet().SetEquals(there), string.Join('\n', atHome.Except(there).Select(line => $"{now} at home: {line}")
            .Concat(there.Except(atHome).Select(line => $"{now} in the club: {line}"))));
        Assert.Equal(words.Order(StringComparer.Ordinal),
            (await watched.ShowAsync(now, Stop)).Alerts.Select(alert => alert.Text).Order(StringComparer.Ordinal));
        return told.Select(alert => alert.Kind);
    }

    // All but its number, and what people were notified of.
    private static string Told(AlertEntry alert) => FormattableString.Invariant(
        $"{alert.Kind} {alert.Subject} {alert.Severity} {alert.Since} {alert.OpenedAt} {alert.ClosedAt} {alert.CloseReason} ")
        + alert.EvidenceJson;

    // What the probes say up to a time.
    private static DecodedBatch Said(DemoHome flat, Instant until)
    {
        var (decoder, said) = (new MessageDecoder(TopicMap.Default), new DecodedBatch());
        for (var minute = 0; minute < NodaConstants.MinutesPerHour; minute++)
        {
            foreach (var (at, topic, payload) in flat.Next().Where(one => one.At <= until))
            {
                Assert.True(HomeTopic.TrySplit(topic, out _, out var atHome));
                decoder.Decode(new(atHome, Encoding.UTF8.GetBytes(payload), Retained: false, at), said);
            }
        }

        return said;
    }
}
