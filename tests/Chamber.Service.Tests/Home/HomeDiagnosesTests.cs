using System.Globalization;
using System.Text.Json;
using Chamber.Core.Alerts;
using Chamber.Core.Alerts.Watching;
using Chamber.Core.Crops;
using Chamber.Service.Home;
using Chamber.Service.Tests.Commands;
using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Tests.Home;

/// <summary>One question, one answer: whoever asks what is wrong with a batch is told the same. The home is invented; the bounds on what
/// it lost are the program's own, kept to notice change.</summary>
public sealed class HomeDiagnosesTests : IDisposable
{
    private readonly HomeRig rig = new();

    public void Dispose() => rig.Dispose();

    private Instant Now => Instant.FromDateTimeOffset(rig.Clock.GetUtcNow());

    [Fact]
    public async Task A_lettuce_on_a_hot_mat_is_too_hot_wherever_one_asks()
    {
        await Measured(_ => 34, 16);
        await rig.Do($"sow lettuce --seeds 16 --spot shelf --name L1 --when {Ago(4)}", "look L1 0");
        var batch = (await rig.Json("batches")).EnumerateArray().Single();
        var review = await rig.Json("review", "L1");

        Assert.Equal("tooHot", batch.GetProperty("forecast").GetProperty("stopReason").GetString());
        Assert.DoesNotContain("warmer", batch.GetProperty("forecast").GetProperty("stopAdvice").GetString(), StringComparison.Ordinal);
        SaysTheSame(batch, review);
        rig.Clock.Advance(TimeSpan.FromMinutes(5));
        Assert.Contains("The spot is too hot", (await rig.Run("look", "L1", "0")).Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_same_batch_in_the_cold_is_sent_to_a_warmer_spot()
    {
        await Measured(_ => 4, 16);
        await rig.Do($"sow tomato --seeds 16 --spot shelf --name T1 --when {Ago(4)}", "look T1 0");
        var batch = (await rig.Json("batches")).EnumerateArray().Single();

        Assert.Equal("tooCold", batch.GetProperty("forecast").GetProperty("stopReason").GetString());
        SaysTheSame(batch, await rig.Json("review", "T1"));
    }

    // Ten days at 24 °C, then the thermostat of the mat fails.
    [Fact]
    public async Task Alert_and_review_name_one_loss()
    {
        await Measured(hour => hour < 240 ? 24 : 36, 14);
        await rig.Do($"sow tomato --seeds 16 --spot shelf --name T1 --when {Ago(10)}", "look T1 0");
        using var store = ChamberStore.Open(rig.File("chamber.db"));
        var facts = new HomeReader(store.Home, store.Records, CropCatalog.Shipped, DateTimeZone.Utc).Facts();
        var watch = new HomeWatch(facts);
        foreach (var hour in store.Journal.Read(new("p1"), new(Now - Duration.FromDays(15), Now)))
        {
            watch.Step([hour], hour.MeasuredAt);
        }

        var lost = Assert.Single(watch.Open(), alert => alert.Kind == AlertKind.TooHot).Harm[0].ShareLost;
        var known = new HomeDiagnoses(new(store.Home, store.Records, CropCatalog.Shipped, DateTimeZone.Utc), Now)
            .Case(store.Ledger.Batches.Find(new("T1"))!, CropCatalog.Shipped.Require("tomato"), null);
        Assert.InRange(lost, 0.15, 0.35);
        Assert.Equal(lost, 1 - known.StandShare, 0.01);
    }

    // 52 h too cold and 20 h too hot; drowned; a lot long past its life; nothing known against it.
    [Theory]
    [InlineData(8, 33, "moist", 2026, "unsteady")]
    [InlineData(20, 20, "wet", 2026, "tooWet")]
    [InlineData(20, 20, "moist", 2008, "oldSeed")]
    [InlineData(20, 20, "moist", 2026, "untestedLot")]
    public async Task Review_comparison_season_and_page_name_one_cause_and_number(double cold, double hot, string moisture, int year,
        string cause)
    {
        await Measured(hour => (hour - 5 * 24) switch { < 0 => 20, < 52 => cold, < 72 => hot, _ => 20 }, 9);
        await rig.Do($"lot add packet --crop lettuce --seeds 90 --year {year}",
            $"sow lettuce --seeds 16 --spot shelf --lot packet --name L1 --when {Ago(4)}",
            $"sow lettuce --seeds 16 --spot shelf --name L2 --when {Ago(4)}",
            $"look L1 0 --moisture {moisture} --when {Ago(1)}", $"look L2 14 --when {Ago(1)}", $"end L1 --when {Ago(1)}");
        var review = await rig.Json("review", "L1");
        var batch = (await rig.Json("batches", "--all")).EnumerateArray().Single(one => one.GetProperty("batch").GetString() == "L1");
        var compared = (await rig.Json("compare", "--batches", "L1", "L2")).GetProperty("batches").GetProperty("diagnoses");

        Assert.Equal(cause, review.GetProperty("cause").GetString());
        Assert.Equal(cause, batch.GetProperty("diagnosis").GetProperty("cause").GetString());
        Assert.Equal(review.GetProperty("verdict").GetString(), batch.GetProperty("diagnosis").GetProperty("sentence").GetString());
        Assert.Equal($"L1: {review.GetProperty("verdict").GetString()}", compared[0].GetString());
        Assert.Equal(review.GetProperty("lost").GetDouble(), batch.GetProperty("diagnosis").GetProperty("lost").GetDouble(), 6);
        Assert.Contains($"Next year: {review.GetProperty("nextTime").GetString()}", (await rig.Run("season")).Out.ReplaceLineEndings(" "),
            StringComparison.Ordinal);
        TestContext.Current.TestOutputHelper?.WriteLine(review.GetProperty("verdict").GetString()!);
    }

    [Fact]
    public async Task A_comparison_says_what_each_batch_met()
    {
        await Measured(hour => hour < 20 * 24 ? 18 : 33, 40);
        await rig.Do(
            $"sow lettuce --seeds 20 --spot shelf --name A1 --when {Ago(36)}", $"look A1 17 --when {Ago(24)}", $"end A1 --when {Ago(23)}",
            $"sow lettuce --seeds 20 --spot shelf --name A2 --when {Ago(16)}", $"look A2 1 --when {Ago(2)}", $"end A2 --when {Ago(1)}");
        var batches = (await rig.Json("compare", "--batches", "A1", "A2")).GetProperty("batches");

        var said = batches.GetProperty("diagnoses").EnumerateArray().Select(line => line.GetString()).ToArray();
        Assert.StartsWith("A1: It went well: 17 of 20 up", said[0], StringComparison.Ordinal);
        Assert.Equal($"A2: {(await rig.Json("review", "A2")).GetProperty("verdict").GetString()}", said[1]);
        Assert.StartsWith("A2 met what A1 did not. Its spot was too hot", batches.GetProperty("note").GetString(),
            StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_batch_that_nobody_looked_at_is_looked_at_first()
    {
        await Measured(_ => 22, 60);
        await rig.Do($"sow tomato --seeds 12 --spot shelf --name T1 --when {Ago(50)}", $"look T1 7 --when {Ago(40)}");

        Assert.Contains("look first", (await rig.Run("batches")).Out, StringComparison.Ordinal);
        Assert.Contains("Nobody has looked for 40 days", (await rig.Run("review", "T1")).Out, StringComparison.Ordinal);
        Assert.Contains("Nobody has looked for 40 days", (await rig.Run("todo")).Out.ReplaceLineEndings(" "), StringComparison.Ordinal);
        await rig.Do("look T1 7");
        Assert.Equal("due", (await rig.Json("batches")).EnumerateArray().Single().GetProperty("diagnosis")
            .GetProperty("phase").GetString());
    }

    [Fact]
    public async Task A_batch_that_nobody_looked_at_yet_has_no_day_on_which_nothing_was_up()
    {
        await Measured(_ => 22, 16);
        await rig.Do($"sow tomato --seeds 12 --spot shelf --name T1 --when {Ago(2)}");
        Assert.DoesNotContain("day 0", (await rig.Run("review", "T1")).Out, StringComparison.Ordinal);
    }

    // Cold nights on glass, hot noons under the lid.
    [Fact]
    public async Task A_spot_with_cold_nights_and_hot_noons_wants_to_be_steadier()
    {
        await Measured(hour => 20 + 18 * Math.Sin(hour / 24.0 * Math.Tau), 20);
        await rig.Do($"sow lettuce --seeds 16 --spot shelf --name L1 --when {Ago(12)}", "look L1 1", "end L1");
        var review = await rig.Json("review", "L1");

        Assert.Equal("unsteady", review.GetProperty("cause").GetString());
        Assert.Contains("steadier", review.GetProperty("nextTime").GetString(), StringComparison.Ordinal);
        Assert.InRange(review.GetProperty("lost").GetDouble(), 14.5, 15.1);
    }

    private static void SaysTheSame(JsonElement batch, JsonElement review)
    {
        var diagnosis = batch.GetProperty("diagnosis");
        Assert.Equal(batch.GetProperty("forecast").GetProperty("stopReason").GetString(), diagnosis.GetProperty("cause").GetString());
        Assert.Equal(diagnosis.GetProperty("cause").GetString(), review.GetProperty("cause").GetString());
        Assert.Equal(diagnosis.GetProperty("sentence").GetString(), review.GetProperty("verdict").GetString());
        Assert.Equal(diagnosis.GetProperty("lost").GetDouble(), review.GetProperty("lost").GetDouble(), 6);
    }

    private async Task Measured(Func<int, double> celsius, int days)
    {
        var start = Now;
        var rows = Enumerable.Range(0, days * 24)
            .Select(hour => string.Create(CultureInfo.InvariantCulture,
            $"{Text(start + Duration.FromHours(hour))},{celsius(hour) + 0.3 * Math.Sin(hour / 24.0 * Math.Tau):0.00}"));
        await File.WriteAllLinesAsync(rig.File("shelf.csv"), ["at,temperature", .. rows], TestContext.Current.CancellationToken);
        rig.Clock.Advance(TimeSpan.FromDays(days));
        await rig.Do("spot add shelf --kind shelf --light bright --room 9", "probe add p1 --measures media",
            $"probe move p1 shelf --when {Text(start)}", $"import {rig.File("shelf.csv")} --probe p1");
    }

    private string Ago(double days) => Text(Now - Duration.FromDays(days));

    private static string Text(Instant at) => NodaTime.Text.InstantPattern.General.Format(at);
}
