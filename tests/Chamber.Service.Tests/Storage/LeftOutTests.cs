using System.Text.RegularExpressions;
using Chamber.Core.Climate;
using Chamber.Service.Tests.Commands;
using Chamber.Storage;
using Chamber.Testing;
using Microsoft.Data.Sqlite;
using NodaTime;

namespace Chamber.Service.Tests.Storage;

/// <summary>A file that came from elsewhere, or from a version without bounds, may hold numbers beyond them: they are told and left out.
/// Bounds are the program's own; the damage is invented.</summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed class LeftOutTests : IDisposable
{
    private readonly HomeRig rig = new();

    public void Dispose() => rig.Dispose();

    [Theory]
    [InlineData("UPDATE batch SET seeds = 100000000 WHERE id = 'M1'",
        "Batch M1 is left out: 100,000,000 is outside 1 to 10,000 for the seeds of a batch")]
    [InlineData("UPDATE batch SET seeds = 9000000000000000000 WHERE id = 'M1'",
        "Batch M1 is left out: 2,147,483,647 is outside 1 to 10,000")]
    [InlineData("UPDATE batch SET containers = 5000000 WHERE id = 'M1'",
        "Batch M1 is left out: 5,000,000 is outside 1 to 1000 for the containers of a batch")]
    [InlineData("UPDATE batch SET sown_at = -9000000000000000000 WHERE id = 'M1'", "Batch M1 is left out")]
    [InlineData("UPDATE batch SET ended_at = 9000000000000000000 WHERE id = 'M1'", "Batch M1 is left out")]
    [InlineData("UPDATE look SET up = 5000 WHERE batch = 'M1'",
        "The look of batch M1 at 2027-03-01 07:00 UTC is left out: M1: more up (5000) than sown (20)")]
    [InlineData("UPDATE look SET note = printf('%.*c', 5000000, 'x')", "a note has at most 1000; shorten it")]
    [InlineData("UPDATE loss SET plants = 99",
        "The loss of batch M1 at 2027-03-01 07:30 UTC is left out: 99 plants would be lost of 20 seeds")]
    [InlineData("UPDATE stage SET plants = 2000000000",
        "The stage of batch M1 at 2027-03-01 07:20 UTC is left out: 2,000,000,000 is outside 1 to 10,000")]
    [InlineData("UPDATE lot SET counted = 5000000000", "Lot a is left out: 2,147,483,647 is outside 0 to 1,000,000 for the seeds of a lot")]
    [InlineData("UPDATE lot SET price = '99999999999'", "Lot a is left out: 99,999,999,999 is outside 0 to 1,000,000 for a price")]
    [InlineData("UPDATE lot SET year = 99999", "Lot a is left out: 99,999 is outside 1900 to 2200 for the year of a lot")]
    [InlineData("UPDATE lot_test SET seeds = 2000000, good = 1", "A test of lot a is left out: 2,000,000 is outside 1 to 10,000")]
    [InlineData("UPDATE spot SET room = 4000000000", "The room of spot shelf is left out: 2,147,483,647 is outside 1 to 1000")]
    [InlineData("UPDATE probe SET max_gap_ms = 9000000000000000000 WHERE id = 'soil'", "The longest silence of probe soil is left out")]
    [InlineData("UPDATE station SET start = -9000000000000000000", "A stay of probe soil on shelf is left out")]
    [InlineData("UPDATE calibration SET offset = 1e300", "A calibration of probe soil is left out: 1E+300 is outside -20 to 20 K")]
    [InlineData("UPDATE reading SET temperature = 1e308",
        "What thermometer-shelf says beyond its range is left out: 1E+308 is outside -40 to 125 °C for a temperature that a probe says")]
    [InlineData("UPDATE reading SET temperature = -400000", "What thermometer-shelf says beyond its range is left out: -400 is outside -40 to 125 °C")]
    [InlineData("UPDATE reading SET humidity = 150000", "150 is outside 0 to 100 % for a relative humidity")]
    [InlineData("UPDATE reading SET moisture = 9e99", "9E+99 is outside -1,000,000 to 1,000,000 for a raw moisture value")]
    [InlineData("UPDATE reading SET battery = -1e300", "-1E+300 is outside 0 to 100 % for the charge of a battery")]
    [InlineData("INSERT INTO rolled (probe, at, span, count, temperature) SELECT probe, at - 86400000, 9000000000000000000, 4, 21 FROM reading",
        "What thermometer-shelf says beyond its range is left out: a stretch of 9000000000000000000 ms is none")]
    [InlineData("INSERT INTO rolled (probe, at, span, count, temperature) SELECT probe, at - 86400000, 600000, 4, 9e9 FROM reading",
        "What thermometer-shelf says beyond its range is left out: 9,000,000,000 is outside -40 to 125 °C")]
    [InlineData("INSERT INTO last_known (probe, received, temperature) SELECT key, 9000000000000000000, 1e308 FROM probe",
        "What soil says beyond its range is left out: 1E+308 is outside -40 to 125 °C")]
    [InlineData("INSERT INTO crop (id, profile) VALUES ('leek', '{ \"half')", "Crop leek is left out: this is not JSON")]
    [InlineData("INSERT INTO crop (id, profile) VALUES ('mine', '{ \"basedOn\": \"none\" }')",
        "Crop mine is left out: The crop mine is based on none, which is not in the catalog. To put it right, record it again: chamber fit "
        + "--save mine")]
    [InlineData("INSERT INTO maintenance (spot, start, end) VALUES (NULL, 0, 9000000000000)", "Maintenance 1 is left out")]
    public async Task A_number_beyond_bounds_in_the_file_is_told_and_counts_for_nothing(string damage, string told)
    {
        await Furnish();
        Change(damage);

        var outcome = await rig.Run("check");
        Assert.Contains(told, Regex.Replace(outcome.Out, @"\s+", " "), StringComparison.Ordinal);
        await StillAnswers();
    }

    private async Task StillAnswers()
    {
        foreach (var line in (string[])["batches --all", "season", "todo", "lots", "spots", "spots --crop melon", "probes", "hindsight",
            "learned", "alerts", "place tomato", "export", "crops", "refusals"])
        {
            var answer = await rig.Run(line.Split(' '));
            Assert.True(answer.Code == 0, $"{line}: {answer.Error}");
        }
    }

    [Theory]
    [InlineData("UPDATE reading SET at = 9000000000000000000 WHERE at = (SELECT max(at) FROM reading)")]
    [InlineData("UPDATE reading SET at = -9000000000000000000 WHERE at = (SELECT max(at) FROM reading)")]
    [InlineData("UPDATE reading SET received = 9000000000000000000")]
    [InlineData("UPDATE reading SET clock = 77")]
    [InlineData("UPDATE reading SET temperature = 'warm'")]
    [InlineData("UPDATE rolled_to SET at = 9000000000000000000")]
    [InlineData("DELETE FROM crop; INSERT INTO late (probe, first, last) VALUES (1, -9000000000000000000, 9000000000000000000)")]
    public async Task A_time_that_no_reading_has_takes_nothing_down(string damage)
    {
        await Furnish();
        await rig.Do("read shelf 23C --when 06:30");
        Change($"INSERT INTO rolled_to (probe, at) VALUES (1, 0); {damage}");

        await StillAnswers();
        rig.Write("chamber.json", $$"""{ "broker": { "listen": [{ "port": {{FreePort.Next()}} }] }, "page": { "on": false } }""");
        await using var service = ChamberProcess.Start("run", "--data", rig.Path);
        await service.Line("Watching 1 spot,");
        service.AskToStop();
        Assert.Equal(0, (await service.End()).ExitCode);
    }

    [Fact]
    public async Task A_lot_and_a_batch_whose_crop_is_gone_stay_and_are_told()
    {
        rig.Write("crops.json", """{ "mine": { "basedOn": "radish", "poisonous": "no" } }""");
        await Furnish();
        await rig.Do("lot add m-1 --crop mine --seeds 30", "sow mine --seeds 9 --spot shelf --name X1 --lot m-1");
        File.Delete(rig.File("crops.json"));

        await StillAnswers();
        Assert.Contains("Lot m-1 is of crop mine, which the catalog no longer has.", (await rig.Run("lots")).Out, StringComparison.Ordinal);
        Assert.Contains("which the catalog no longer has", await rig.Refusal("lot", "show", "m-1"), StringComparison.Ordinal);
        Assert.Contains("which the catalog no longer has", await rig.Refusal("review", "X1"), StringComparison.Ordinal);
        rig.Clock.Advance(TimeSpan.FromHours(1));
        await rig.Do("look X1 2", "end X1", "lot add m-1 --crop radish --seeds 20", "lot show m-1");
    }

    [Fact]
    public async Task Each_command_tells_a_batch_beyond_bounds_and_sowing_again_fixes_it()
    {
        await Furnish();
        Change("UPDATE batch SET seeds = 100000000 WHERE id = 'M1'");

        var season = await rig.Run("season");
        Assert.Equal(0, season.Code);
        Assert.Equal("chamber: Batch M1 is left out: 100,000,000 is outside 1 to 10,000 for the seeds of a batch: a home sows no more at "
            + "once; write a larger sowing down as several batches. To put it right, sow it again under its name.\n", season.Error);

        await rig.Do("sow melon --seeds 100 --spot shelf --name M1 --when 2027-02-20");
        var after = await rig.Run("batches");
        Assert.Equal(string.Empty, after.Error);
        Assert.Contains("M1", after.Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task With_a_hundred_million_seeds_on_file_season_is_short_and_run_starts()
    {
        await Furnish();
        Change("UPDATE batch SET seeds = 100000000 WHERE id = 'M1'");

        var season = await RunningProgram.Run("/usr/bin/time", ["-f", "%M KiB", ChamberProcess.Program, "season", "--data", rig.Path]);
        Assert.Equal(0, season.ExitCode);
        var kibibytes = int.Parse(season.Errors.Split('\n').Single(line => line.EndsWith(" KiB", StringComparison.Ordinal))[..^4],
            System.Globalization.CultureInfo.InvariantCulture);
        Assert.InRange(kibibytes, 1_000, 250_000);

        rig.Write("chamber.json", $$"""{ "broker": { "listen": [{ "port": {{FreePort.Next()}} }] }, "page": { "on": false } }""");
        await using var service = ChamberProcess.Start("run", "--data", rig.Path);
        await service.Line("Batch M1 is left out: 100,000,000 is outside 1 to 10,000");
        await service.Line("Chamber is ready");
        service.AskToStop();
        Assert.Equal(0, (await service.End()).ExitCode);
    }

    private async Task Furnish()
    {
        await rig.Do(
            "spot add shelf", "probe add soil --spot shelf", "lot add a --crop melon --seeds 90 --price 3",
            "sow melon --seeds 20 --spot shelf --name M1 --lot a --when 2027-02-20",
            "look M1 4 --when 07:00", "stage M1 pricked-out --plants 2 --when 07:20", "loss M1 1 --when 07:30", "test record a 8/10",
                "read shelf 24C --when 06:00");
        using var store = ChamberStore.Open(rig.File("chamber.db"));
        store.Ledger.SetUp.Save(
            new Calibration(new("soil"), Instant.FromUtc(2027, 2, 1, 0, 0), Core.Climate.TemperatureDifference.FromKelvins(0.5)));
    }

    // Past the ledger and its checks, as an editor of databases does it.
    private void Change(string sql)
    {
        using var connection = new SqliteConnection($"Data Source={rig.File("chamber.db")};Pooling=False");
        connection.Open();
        using var command = connection.CreateCommand();
        command.CommandText = "PRAGMA ignore_check_constraints = 1; " + sql;
        Assert.True(command.ExecuteNonQuery() > 0, sql);
    }
}
