using Chamber.Core.Alerts;
using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Tests.Commands;

/// <summary>Answers that were silent or said too much. The homes are invented.</summary>
public sealed class SaysSomethingTests : IDisposable
{
    private readonly HomeRig home = new();

    public void Dispose() => home.Dispose();

    [Fact]
    public async Task Days_that_are_over_are_no_days_ahead() =>
        Assert.StartsWith("chamber: -3 is ", await home.Refusal("todo", "--days", "-3"), StringComparison.Ordinal);

    [Fact]
    public async Task A_first_that_came_between_two_looks_is_put_on_no_day_between()
    {
        await home.Do("spot add ledge --light bright --room 9", "sow radish --seeds 10 --spot ledge --name R1 --when 2027-02-20T12:00:00Z",
            "look R1 9 --when 2027-02-24T02:24:00Z", "end R1");
        Assert.Contains("between day 0 and 3.6", (await home.Run("review", "R1")).Out, StringComparison.Ordinal);
        var season = await home.Run("season");
        Assert.Contains("0 to 3.6", season.Out, StringComparison.Ordinal);
        Assert.DoesNotContain("1.8", season.Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Alerts_stand_in_the_order_of_what_waiting_costs_with_who_has_seen_them()
    {
        await home.Do("spot add ledge", "spot add mat --kind heat-mat");
        var (first, now) = (Instant.FromUtc(2027, 2, 27, 8, 0), Instant.FromUtc(2027, 2, 28, 8, 0));
        using (var store = ChamberStore.Open(home.File("chamber.db")))
        {
            store.Ledger.Alerts.Save(new AlertEntry(0, AlertKind.SurveyStale, new(SubjectKind.Spot, "ledge"), Severity.Note, first, first,
                "{}"));
            store.Ledger.Alerts.Save(new AlertEntry(0, AlertKind.Hazard, new(SubjectKind.Spot, "mat"), Severity.Danger, now, now, "{}"));
        }

        await home.Do("alerts seen 1 --by Ada");
        Assert.Equal([2, 1], (await home.Json("alerts")).EnumerateArray().Select(alert => alert.GetProperty("number").GetInt32()));
        Assert.Contains("seen by Ada)", (await home.Run("alerts")).Out, StringComparison.Ordinal);
    }
}
