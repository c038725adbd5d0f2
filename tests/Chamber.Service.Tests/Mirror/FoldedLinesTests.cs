using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Facts;
using Chamber.Core.Facts.Batches;
using Chamber.Core.Facts.Probes;
using Chamber.Core.Spots;
using Chamber.Service.Home;
using Chamber.Service.Home.Answers;
using Chamber.Service.Mirror;
using Chamber.Service.Tests.Storage;
using Microsoft.Extensions.Time.Testing;
using NodaTime;

namespace Chamber.Service.Tests.Mirror;

/// <summary>What is folded from readings and told once an hour. Readings, times and counts are invented.</summary>
public sealed class FoldedLinesTests
{
    private static readonly Instant Sown = DataFile.Start;
    private static readonly Crop Tomato = CropCatalog.Shipped.Require("tomato");

    [Fact]
    public async Task Warm_hours_of_a_steady_spot_are_hours_times_warmth_above_the_base()
    {
        using var rig = Home(hours: 30);
        var lines = await Pumped(rig);

        var warmth = lines.Where(line => line.StartsWith("chamber_batch,", StringComparison.Ordinal)).ToList();
        Assert.Equal(30, warmth.Count);

        // 24 °C lies on tomato's plateau, and far enough above its base to be clear of the foot there.
        var perHour = Math.Min(24, Tomato.Profile.Cardinals.OptimumLow.Celsius) - Tomato.Profile.Cardinals.Base.Celsius;
        for (var hour = 1; hour <= 30; hour++)
        {
            Assert.Equal(hour * perHour, Field(warmth[hour - 1], "warm_hours"), 6);
            Assert.Equal((Sown + Duration.FromHours(hour)).ToUnixTimeMilliseconds(), Time(warmth[hour - 1]));
        }
    }

    [Fact]
    public async Task An_hour_is_told_once_and_only_when_ten_minutes_of_the_next_have_passed()
    {
        using var rig = Home(hours: 30);
        await Pumped(rig);

        Assert.Empty(await Pumped(rig));
        var clock = (FakeTimeProvider)rig.Clock;
        clock.Advance(TimeSpan.FromMinutes(49));
        Assert.Empty(await Pumped(rig));
        clock.Advance(TimeSpan.FromMinutes(2));
        Assert.Contains(await Pumped(rig),
            line => line.StartsWith("chamber_station,probe=shelf,spot=cupboard present=1 ", StringComparison.Ordinal));
    }

    [Fact]
    public async Task Who_comes_and_goes_is_sent_at_once_and_what_was_wrong_is_taken_back()
    {
        using var rig = Home(hours: 30);
        await Pumped(rig);
        var (clock, home) = ((FakeTimeProvider)rig.Clock, rig.Store.Home);
        clock.Advance(TimeSpan.FromMinutes(10));
        var moved = Instant.FromDateTimeOffset(clock.GetUtcNow());
        rig.Store.Ledger.SetUp.Save(new Spot(new("mat"), SpotKind.HeatMat, LightLevel.Dark, 3));
        home.Append(Author.Program, moved, new ProbePlaced(new("shelf"), new("mat")).At(moved),
            new BatchMoved(new("T1"), new("mat")).At(moved));
        var placed = rig.Store.Facts.Last - 1;

        Assert.Equal(
            [$"chamber_station,probe=shelf,spot=cupboard present=0 {moved.ToUnixTimeMilliseconds()}",
                $"chamber_station,probe=shelf,spot=mat present=1 {moved.ToUnixTimeMilliseconds()}",
                $"chamber_stay,batch=T1,spot=cupboard present=0 {moved.ToUnixTimeMilliseconds()}",
                $"chamber_stay,batch=T1,spot=mat present=1 {moved.ToUnixTimeMilliseconds()}"],
            (await Pumped(rig)).Order(StringComparer.Ordinal));
        Assert.Empty(await Pumped(rig));

        clock.Advance(TimeSpan.FromMinutes(5));
        var now = Instant.FromDateTimeOffset(clock.GetUtcNow());
        home.Append(Author.Program, now, new Withdrawn(placed).At(now));
        Assert.Contains($"chamber_station,probe=shelf,spot=mat present=0 {now.ToUnixTimeMilliseconds()}", await Pumped(rig));
    }

    [Fact]
    public async Task A_move_written_down_late_sends_its_hours_again()
    {
        using var rig = Home(hours: 30);
        await Pumped(rig);
        rig.Store.Ledger.SetUp.Save(new Spot(new("mat"), SpotKind.HeatMat, LightLevel.Dark, 3));
        var moved = Sown + Duration.FromHours(20.5);
        rig.Store.Home.Append(Author.Program, Sown + Duration.FromHours(30), new BatchMoved(new("T1"), new("mat")).At(moved));

        var again = (await Pumped(rig))
            .Where(line => line.StartsWith("chamber_stay,batch=T1,spot=mat present=1 ", StringComparison.Ordinal)).Select(Time).ToList();

        Assert.Equal([moved.ToUnixTimeMilliseconds(), .. Enumerable.Range(21, 10).Select(hour =>
            (Sown + Duration.FromHours(hour)).ToUnixTimeMilliseconds())], again);
    }

    [Fact]
    public async Task Late_readings_send_the_warm_hours_from_then_on_again()
    {
        using var rig = Home(hours: 30);
        var before = await Pumped(rig);
        rig.Store.Journal.Append([.. Enumerable.Range(0, 60).Select(minute => DataFile.At((10 * 60) + minute + 0.5, 10))], []);

        var after = await Pumped(rig);

        Assert.DoesNotContain(after, line => line.StartsWith("chamber_station,", StringComparison.Ordinal));
        var again = after.Where(line => line.StartsWith("chamber_batch,", StringComparison.Ordinal)).ToList();
        Assert.Equal((Sown + Duration.FromHours(11)).ToUnixTimeMilliseconds(), Time(again[0]));
        Assert.True(
            Field(again[0], "warm_hours") < Field(
            before.Single(line => line.StartsWith("chamber_batch,", StringComparison.Ordinal) && Time(line) == Time(again[0])),
            "warm_hours") - 3);
    }

    [Fact]
    public async Task Readings_set_aside_send_the_hours_from_then_on_again_and_back()
    {
        using var rig = Home(hours: 30);
        rig.Store.Journal.Append([.. Enumerable.Range(0, 60).Select(minute => DataFile.At((10 * 60) + minute + 0.5, 10))], []);
        var before = Warmth(await Pumped(rig));
        var from = Sown + Duration.FromHours(10);
        rig.Store.Home.Append(Author.Program, Sown, new ReadingsSetAside(new("shelf"), from + Duration.FromHours(1)).At(from));

        var after = await Pumped(rig);
        var again = Warmth(after);
        Assert.Equal(from + Duration.FromHours(1), again.Keys.Min());
        Assert.Contains(after, line => line.StartsWith("chamber_station,", StringComparison.Ordinal));
        Assert.True(again[Sown + Duration.FromHours(30)] > before[Sown + Duration.FromHours(30)] + 3);
        Assert.Empty(await Pumped(rig));

        rig.Store.Home.Append(Author.Program, Sown, new Withdrawn(rig.Store.Facts.Last).At(Sown));
        Assert.Equal(before.Where(hour => hour.Key > from), Warmth(await Pumped(rig)));

        static Dictionary<Instant, double> Warmth(List<string> lines) =>
            lines.Where(line => line.StartsWith("chamber_batch,", StringComparison.Ordinal))
                .ToDictionary(line => Instant.FromUnixTimeMilliseconds(Time(line)), line => Field(line, "warm_hours"));
    }

    [Fact]
    public async Task Suitability_and_forecasts_are_those_of_the_command_line()
    {
        using var rig = Home(hours: 80);
        var lines = await Pumped(rig);

        // The last whole hour.
        var now = Sown + Duration.FromHours(80);
        var home = new HomeReader(rig.Store.Home, rig.Store.Records, CropCatalog.Shipped, DateTimeZone.Utc);
        var suits = SpotRanking.ForCrop(Tomato, home.Surveys(now), HomeReader.FixedRandom())[0].Suitability;
        var suitability = lines.Last(line => line.StartsWith("chamber_suitability,crop=tomato,spot=cupboard ", StringComparison.Ordinal));
        Assert.Equal(now.ToUnixTimeMilliseconds(), Time(suitability));
        Assert.Equal(Math.Round(suits.Score, 1), Field(suitability, "score"));
        Assert.Equal(Math.Round(suits.Confidence, 1), Field(suitability, "confidence"));
        var forecast = new HomeForecasts(home, now).Of(rig.Store.Ledger.Batches.All()[0])!;
        var told = lines.Last(line => line.StartsWith("chamber_forecast,batch=T1,crop=tomato ", StringComparison.Ordinal));
        Assert.Equal(Math.Round(forecast.Half.Mid!.Value.TotalDays, 2), Field(told, "half_days"));
        Assert.Equal(Math.Round(forecast.ChanceOfMore, 4), Field(told, "chance_of_more_ratio"));
    }

    [Fact]
    public void A_batch_as_of_a_moment_knows_nothing_later()
    {
        var batch = new Batch(new("T1"), Tomato.Id, null, SowingMethod.DampTowel, Sown, 10,
            [new(new("a"), new(Sown, Sown + Duration.FromDays(2))),
                new(new("b"), new(Sown + Duration.FromDays(2), Sown + Duration.FromDays(9)))],
            [new(Sown + Duration.FromDays(1), 0), new(Sown + Duration.FromDays(4), 6)],
            Sown + Duration.FromDays(9));

        Assert.Null(BatchAsOf.Of(batch, Sown - Duration.Epsilon));
        var then = BatchAsOf.Of(batch, Sown + Duration.FromDays(1.5))!;
        Assert.Equal((0, 1, "a", false), (then.Looks[^1].Up, then.Stays.Count, then.Stays[^1].Spot.Text, then.Stays[^1].When.HasEnd));
        Assert.Null(then.EndedAt);
        Assert.Equal(batch.EndedAt, BatchAsOf.Of(batch, Sown + Duration.FromDays(10))!.EndedAt);
    }

    private static MirrorRig Home(int hours)
    {
        var rig = new MirrorRig("http://127.0.0.1:1",
            batchLines: 5000) { Clock =
            new FakeTimeProvider((Sown + Duration.FromHours(hours) + Duration.FromMinutes(20)).ToDateTimeOffset()) };
        rig.Store.Ledger.SetUp.Save(new Spot(new("cupboard"), SpotKind.Cupboard, LightLevel.Dark, 3));
        rig.Store.Ledger.SetUp.Save(new ProbeEntry(new Probe(new("shelf"), Measurand.Media, Probe.DefaultMaxGap)));
        rig.Store.Ledger.SetUp.Put(new("shelf"), new("cupboard"), Sown - Duration.FromHours(1));
        rig.Store.Journal.Append([.. Enumerable.Range(0, (hours * 60) + 20).Select(minute => DataFile.At(minute, 24))], []);
        rig.Store.Ledger.Batches.Sow(
            new Batch(new("T1"), Tomato.Id, null, SowingMethod.CoveredMix, Sown, 12, [new(new("cupboard"), new(Sown, null))], []));
        return rig;
    }

    private static async Task<List<string>> Pumped(MirrorRig rig)
    {
        var sent = new List<string>();
        await rig.PumpDry((lines, _) =>
        {
            sent.AddRange(lines);
            return Task.FromResult(new Answer(Receipt.Taken));
        });
        return sent;
    }

    private static double Field(string line, string name) =>
        double.Parse(line.Split(' ')[1].Split(',')
            .Single(field => field.StartsWith(name + "=", StringComparison.Ordinal))[(name.Length + 1)..],
            System.Globalization.CultureInfo.InvariantCulture);

    private static long Time(string line) =>
        long.Parse(line[(line.LastIndexOf(' ') + 1)..], System.Globalization.CultureInfo.InvariantCulture);
}
