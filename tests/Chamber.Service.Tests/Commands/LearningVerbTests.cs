using System.Globalization;

namespace Chamber.Service.Tests.Commands;

/// <summary>A home that sows tomato again and again on one shelf, where everything comes up a quarter quicker than the table says. The
/// home is invented; the bounds on what it teaches are the program's own, kept to notice change.</summary>
public sealed class LearningVerbTests : IDisposable
{
    private const double Quicker = 0.75;

    private readonly HomeRig home = new();
    private bool stands;

    public void Dispose() => home.Dispose();

    [Fact]
    public async Task A_home_says_what_it_was_taught()
    {
        Assert.Contains("Nothing yet: forecasts come from the tables alone.", (await home.Run("learned")).Out, StringComparison.Ordinal);
        await SowAgainAndAgain(4);

        var learned = await home.Json("learned");
        Assert.Equal(4, learned.GetProperty("batches").GetInt32());
        var crop = learned.GetProperty("learned").EnumerateArray().Single(factor => factor.GetProperty("kind").GetString() == "crop");
        Assert.InRange(crop.GetProperty("mid").GetDouble(), 0.7, 0.9);
        Assert.True(crop.GetProperty("isProved").GetBoolean());
        Assert.Matches("tomato here is [0-9]+ % faster than the table; from 4 batches; likely between [0-9]+ and [0-9]+ %",
            crop.GetProperty("words").GetString());
        Assert.Contains("% faster than the table; from 4 batches", (await home.Run("learned")).Out, StringComparison.Ordinal);

        // One shelf tells no base, but how far apart seeds come up.
        var shape = Assert.Single(learned.GetProperty("shapes").EnumerateArray());
        Assert.Equal("spread", shape.GetProperty("kind").GetString());
        Assert.Matches("^seeds of tomato here come up ([0-9]+ % (closer together|further apart) than|just as close together as) "
            + "in the table; from 4 batches at [0-9]+ °C; likely between ", shape.GetProperty("words").GetString());
    }

    [Fact]
    public async Task Every_batch_is_judged_by_the_forecast_it_had_and_later_ones_do_better()
    {
        await SowAgainAndAgain(5);

        var hindsight = await home.Json("hindsight");
        var halves = hindsight.GetProperty("batches").EnumerateArray().Reverse()
            .Select(batch => batch.GetProperty("milestones").EnumerateArray()
                .Single(each => each.GetProperty("milestone").GetString() == "half")).ToArray();
        Assert.Equal(5, halves.Length);

        // The first forecast knows only the table, so it is late; the fifth has learnt.
        Assert.True(halves[0].GetProperty("errorDays").GetDouble() > 0.5);
        Assert.True(Math.Abs(halves[4].GetProperty("errorDays").GetDouble()) < 0.5 * halves[0].GetProperty("errorDays").GetDouble());
        var score = hindsight.GetProperty("scores").EnumerateArray().Single(each => each.GetProperty("milestone").GetString() == "half");
        Assert.Equal(5, score.GetProperty("batches").GetInt32());
        Assert.True(score.GetProperty("biasDays").GetDouble() > 0);
        Assert.InRange(score.GetProperty("held").GetDouble(), 0.1, 1);
        Assert.StartsWith("Half up, over 5 batches: forecast on average", (await home.Run("hindsight")).Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Few_batches_are_too_few_to_judge_forecasts_by()
    {
        await SowAgainAndAgain(1);
        Assert.Matches("over 1 batch: .*; [01] of 1 interval held. Too few to judge by.", (await home.Run("hindsight")).Out);
        Assert.Matches("Half up +1 +[+]?[0-9.-]+ days +- +", (await home.Run("hindsight")).Out);
    }

    [Fact]
    public async Task A_review_and_a_season_judge_by_the_same_forecast_as_hindsight()
    {
        await SowAgainAndAgain(3);
        var season = (await home.Json("season")).GetProperty("forecasts").EnumerateArray()
            .ToDictionary(hit => hit.GetProperty("batch").GetString()!);
        foreach (var batch in (await home.Json("hindsight")).GetProperty("batches").EnumerateArray())
        {
            var name = batch.GetProperty("batch").GetString()!;
            var first = batch.GetProperty("milestones").EnumerateArray()
                .Single(each => each.GetProperty("milestone").GetString() == "first").GetProperty("predicted");
            var review = await home.Json("review", name);
            Assert.Equal(first.GetProperty("low").GetDouble(), review.GetProperty("forecastLow").GetDouble(), 1e-9);
            Assert.Equal(first.GetProperty("high").GetDouble(), review.GetProperty("forecastHigh").GetDouble(), 1e-9);
            Assert.Equal(first.GetProperty("mid").GetDouble(), season[name].GetProperty("predicted").GetDouble(), 1e-9);
        }
    }

    [Fact]
    public async Task A_cold_spell_after_the_sowing_excuses_no_forecast()
    {
        await Measured(14);
        var then = (await home.Json("forecast", "--crop", "tomato", "--spot", "shelf", "--seeds", "20")).GetProperty("first");
        var sown = home.Clock.GetUtcNow();
        await home.Do("sow tomato --seeds 20 --spot shelf --name C");
        var unlooked = await home.Json("review", "C");
        await Measured(20, 13);
        await home.Do($"look C 0 --when {At(sown.AddDays(18))}", $"look C 4 --when {At(sown.AddDays(20))}");

        var review = await home.Json("review", "C");
        foreach (var asked in (System.Text.Json.JsonElement[])[unlooked, review])
        {
            Assert.Equal(then.GetProperty("low").GetDouble(), asked.GetProperty("forecastLow").GetDouble(), 0.05);
            Assert.Equal(then.GetProperty("high").GetDouble(), asked.GetProperty("forecastHigh").GetDouble(), 0.05);
        }

        Assert.Equal("spot", review.GetProperty("blame").GetString());
        Assert.False(Assert.Single((await home.Json("season")).GetProperty("forecasts").EnumerateArray()).GetProperty("held").GetBoolean());
    }

    [Fact]
    public async Task A_finished_batch_is_replayed_day_by_day_as_data_and_as_a_picture()
    {
        await SowAgainAndAgain(2);

        var file = home.File("t2.svg");
        var replay = await home.Json("replay", "T2", "--out", file);
        var days = replay.GetProperty("days").EnumerateArray().ToArray();
        Assert.Equal(13, days.Length);
        Assert.True(Width(days[^1]) < 0.5 * Width(days[0]));
        Assert.Equal(Enumerable.Range(0, 13).Select(day => (double)day), days.Select(day => day.GetProperty("day").GetDouble()));
        Assert.Equal(18, days[^1].GetProperty("up").GetInt32());
        Assert.Equal(90, replay.GetProperty("measures").GetProperty("finalPercent").GetDouble());
        Assert.StartsWith("<?xml", await File.ReadAllTextAsync(file, TestContext.Current.CancellationToken), StringComparison.Ordinal);

        await home.Do($"replay T2 --out {home.File("t2.png")}");
        Assert.Equal([0x89, 0x50, 0x4E, 0x47],
            (await File.ReadAllBytesAsync(home.File("t2.png"), TestContext.Current.CancellationToken))[..4]);
        Assert.Contains("name a file that ends in .png or .svg", await home.Refusal("replay", "T2", "--out", home.File("t2.gif")),
            StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_a_test_found_of_a_lot_counts_for_its_batches()
    {
        await Measured(10);
        await home.Do(
            "lot add old --crop tomato --seeds 100 --year 2026",
            "lot add good --crop tomato --seeds 100 --year 2026",
            "sow tomato --seeds 20 --spot shelf --name A --lot good",
            "sow tomato --seeds 20 --spot shelf --name B --lot old");
        var before = await Stand("B");
        await home.Do("test record old 3/30");

        Assert.True(await Stand("B") < before - 0.3);
        Assert.Equal(before, await Stand("A"), 0.01);
        Assert.Equal("weakLot", (await home.Json("batches")).EnumerateArray().Single(each => each.GetProperty("batch").GetString() == "B")
            .GetProperty("forecast").GetProperty("stopReason").GetString());
    }

    private async Task<double> Stand(string batch) =>
        (await home.Json("batches")).EnumerateArray().Single(each => each.GetProperty("batch").GetString() == batch)
            .GetProperty("forecast").GetProperty("stand").GetProperty("mid").GetDouble();

    private static double Width(System.Text.Json.JsonElement day) =>
        day.GetProperty("half").GetProperty("high").GetDouble() - day.GetProperty("half").GetProperty("low").GetDouble();

    /// <summary>A fortnight of readings, then batches one after another: tomato at 20 °C needs 8 days by the table, six here.</summary>
    private async Task SowAgainAndAgain(int batches)
    {
        await Measured(14 + batches * 14);
        for (var batch = 1; batch <= batches; batch++)
        {
            var sown = home.Clock.GetUtcNow().AddDays(-14 * (batches - batch + 1));
            await home.Do($"sow tomato --seeds 20 --spot shelf --name T{batch} --when {At(sown)}");
            for (var day = 1; day <= 12; day++)
            {
                var share = MathNet.Numerics.Distributions.Normal.CDF(0, 1, Math.Log(day / (7.4 * Quicker)) / 0.25);
                await home.Do($"look T{batch} {Math.Round(18 * share)} --when {At(sown.AddDays(day))}");
            }

            await home.Do($"end T{batch} --when {At(sown.AddDays(12.5))}");
        }
    }

    private async Task Measured(int days, double mean = 20)
    {
        var start = home.Clock.GetUtcNow();
        var rows = Enumerable.Range(0, days * 24).Select(hour =>
            string.Create(CultureInfo.InvariantCulture,
                $"{At(start.AddHours(hour))},{mean + 1.5 * Math.Sin(hour / 24.0 * Math.Tau) + 0.3 * Math.Sin(hour / 37.0):0.00}"));
        await File.WriteAllLinesAsync(home.File("shelf.csv"), ["at,temperature", .. rows], TestContext.Current.CancellationToken);
        home.Clock.SetUtcNow(start.AddDays(days));
        if (!stands)
        {
            await home.Do("spot add shelf --kind shelf --light dim --room 9", "probe add p1 --measures media",
                $"probe move p1 shelf --when {At(start)}");
            stands = true;
        }

        await home.Do($"import {home.File("shelf.csv")} --probe p1");
    }

    private static string At(DateTimeOffset time) => time.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture);
}
