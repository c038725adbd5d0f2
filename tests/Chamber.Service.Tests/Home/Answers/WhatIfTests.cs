using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Forecasts.BeforeSowing;
using Chamber.Core.Spots;
using Chamber.Service.Home;
using Chamber.Service.Home.Answers;
using Chamber.Storage;
using Chamber.Testing;
using NodaTime;

namespace Chamber.Service.Tests.Home.Answers;

/// <summary>What a change would do: the forecasts of the home as it would be.</summary>
public sealed class WhatIfTests : IDisposable
{
    private static readonly Instant Now = Instant.FromUtc(2027, 3, 10, 8, 0);

    private readonly TempFolder folder = new();
    private readonly ChamberStore store;

    public WhatIfTests()
    {
        store = ChamberStore.Open(folder.File("chamber.db"));
        foreach (var (name, celsius) in new[] { ("mat", 20.0), ("mat-turned-down", 18.0), ("shelf", 15.0) })
        {
            var (spot, probe, begin) = (new SpotId(name), new ProbeId($"p-{name}"), Now - Duration.FromDays(14));
            store.Ledger.SetUp.Save(new Spot(spot, SpotKind.HeatMat, LightLevel.Dim, 4));
            store.Ledger.SetUp.Save(new ProbeEntry(new(probe, Measurand.Media, Duration.FromHours(2))));
            store.Ledger.SetUp.Put(probe, spot, begin);
            store.Journal.Append(
                [.. Enumerable.Range(0, 14 * 24).Select(hour => begin + Duration.FromHours(hour)).Select(at =>
                    new Reading(probe, at, at, Temperature.FromCelsius(celsius), null, null, null, ClockSource.Payload))], []);
        }

        store.Ledger.Batches.Sow(new(new("T1"), new("tomato"), null, SowingMethod.CoveredMix, Now, 12,
            [new Stay(new("mat"), new(Now, null))], []));
    }

    public void Dispose()
    {
        store.Dispose();
        folder.Dispose();
    }

    [Fact]
    public void Two_degrees_less_is_what_a_spot_two_degrees_cooler_gives()
    {
        var down = Ask(null, -2);
        var cooler = Ask("mat-turned-down", 0);

        Assert.Equal(cooler.Then.Half.Mid!.Value.ToUnixTimeSeconds(), down.Then.Half.Mid!.Value.ToUnixTimeSeconds(), 600.0);
        Assert.Equal((cooler.Then.StandLow, cooler.Then.StandHigh, cooler.Then.ReadyOn),
            (down.Then.StandLow, down.Then.StandHigh, down.Then.ReadyOn));
        Assert.True(down.Then.Half.Mid > down.Now.Half.Mid);
    }

    [Fact]
    public void A_cooler_spot_is_later_up_and_later_out_and_nothing_is_written()
    {
        var moved = Ask("shelf", 0);

        Assert.True(moved.Then.Half.Mid > moved.Now.Half.Mid);
        Assert.True(moved.Then.ReadyOn > moved.Now.ReadyOn);
        Assert.Single(store.Ledger.Batches.Find(new("T1"))!.Stays);
    }

    [Fact]
    public void No_change_changes_nothing() => Assert.Equal(Ask(null, 0).Now, Ask(null, 0).Then);

    [Fact]
    public void Sown_four_days_later_all_days_are_four_later()
    {
        var whatIf = new WhatIf(Home, Now);
        var question = new CropQuestion(CropCatalog.Shipped.Require("tomato"), 12);

        var (today, later) = (whatIf.Sown(question, new("mat"), Duration.Zero)!, whatIf.Sown(question, new("mat"), Duration.FromDays(4))!);

        Assert.Equal(4, (later.Half.Mid!.Value - today.Half.Mid!.Value).TotalDays, 0.01);
        Assert.Equal(today.ReadyOn!.Value.PlusDays(4), later.ReadyOn);
    }

    [Fact]
    public void A_batch_that_has_ended_cannot_be_moved()
    {
        store.Ledger.Batches.End(new("T1"), Now + Duration.FromHours(1));
        Assert.StartsWith("T1 has ended", Assert.Throws<BadInputException>(() => Ask("shelf", 0)).Message, StringComparison.Ordinal);
    }

    private HomeReader Home => new(store.Home, store.Records, CropCatalog.Shipped, DateTimeZone.Utc) { Now = Now };

    private WhatIfAnswer Ask(string? spot, double warmer)
    {
        var home = Home;
        return new WhatIf(home, Now).Of(home.RequireBatch("T1"), spot is null ? null : new SpotId(spot), warmer)!;
    }
}
