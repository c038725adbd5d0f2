using System.Globalization;
using System.Text.Json;
using Chamber.Testing;

namespace Chamber.Service.Tests.Commands;

/// <summary>What is taken out is read back by programs that are not ours. Costs by hand; prices and watts are invented.</summary>
[Trait(Tier.Name, Tier.Whole)]
public class OutputVerbTests
{
    [Fact]
    public async Task A_review_page_is_valid_HTML_and_its_pictures_stand_beside_it()
    {
        using var home = await Grown();
        var review = await home.Json("review", "T1", "--out", home.File("review"));
        Assert.Equal(10, review.GetProperty("files").GetArrayLength());
        Assert.Equal((9, 12), (review.GetProperty("up").GetInt32(), review.GetProperty("seeds").GetInt32()));
        var tidy = await RunningProgram.Run("tidy", ["-q", "-e", home.File("review/T1.html")]);
        tidy.Succeeded();
        Assert.Equal(string.Empty, tidy.Errors);
        var page = await File.ReadAllTextAsync(home.File("review/T1.html"), TestContext.Current.CancellationToken);
        Assert.DoesNotContain("http:", page, StringComparison.Ordinal);
        Assert.Equal(0x89,
            (await File.ReadAllBytesAsync(home.File("review/T1-temperature.png"), TestContext.Current.CancellationToken))[0]);
    }

    [Fact]
    public async Task The_code_on_a_printed_label_leads_to_the_page_of_the_batch()
    {
        using var home = await Grown();
        foreach (var size in (string[])["sheet", "stick"])
        {
            await home.Do($"labels T1 --size {size} --out {home.File(size)}.pdf --url http://pantry.local:8080");
            (await RunningProgram.Run("pdftoppm", ["-r", "150", "-png", home.File(size) + ".pdf", home.File(size)])).Succeeded();
            Assert.Contains("http://pantry.local:8080/batches/T1",
                (await RunningProgram.Run("zbarimg", ["-q", home.File(size) + "-1.png"])).Succeeded(), StringComparison.Ordinal);
            Assert.Contains("28 Feb 2027", (await RunningProgram.Run("pdftotext", [home.File(size) + ".pdf", "-"])).Succeeded(),
                StringComparison.Ordinal);
        }

        Assert.EndsWith("labels are written as .pdf or .svg.", await home.Refusal("labels", "T1", "--out", home.File("labels.doc")),
            StringComparison.Ordinal);
    }

    [Fact]
    public async Task Another_program_reads_the_calendar_and_its_names_stay_as_days_move()
    {
        using var home = await Grown();
        await home.Do("sow tomato --seeds 12 --spot cupboard --name T2", "plant-out T2 2027-05-17");
        var before = await Calendar(home);
        Assert.Contains("T2-PlantOut@chamber 2027-05-17", before, StringComparison.Ordinal);
        home.Clock.Advance(TimeSpan.FromHours(1));
        await home.Do("plant-out T2 2027-05-20");
        var after = await Calendar(home);
        Assert.Contains("T2-PlantOut@chamber 2027-05-20", after, StringComparison.Ordinal);
        Assert.True(Sequence(after) > Sequence(before));

        // The ladder of ten days ends the day before planting out.
        Assert.Equal(10, after.Split("T2-HardenOff-").Length - 1);
        Assert.Contains("T2-HardenOff-1@chamber 2027-05-10", after, StringComparison.Ordinal);
        Assert.Contains("T2-HardenOff-10@chamber 2027-05-19", after, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Every_row_comes_out_as_CSV_and_JSON_whatever_was_typed_into_a_note()
    {
        using var home = await Grown();
        Assert.Equal(0, (await home.Run("look", "T1", "9", "--note", "one \"odd\", pale;\nsecond line")).Code);
        await home.Do($"export --out {home.File("out")}");
        var read = await Oracle.SciPy($"""
            import csv, json
            rows = list(csv.DictReader(open({JsonSerializer.Serialize(home.File("out/looks.csv"))}, newline='')))
            everything = json.load(open({JsonSerializer.Serialize(home.File("out/all.json"))}))
            print(json.dumps([rows[-1]['note'], len(rows), len(everything['looks']), everything['looks'][-1]['note']]))
            """);
        var answer = JsonDocument.Parse(read).RootElement;
        Assert.Equal("one \"odd\", pale;\nsecond line", answer[0].GetString());
        Assert.Equal("one \"odd\", pale;\nsecond line", answer[3].GetString());
        Assert.Equal((3, 3), (answer[1].GetInt32(), answer[2].GetInt32()));
    }

    [Fact]
    public async Task A_season_adds_up_and_draws_forecast_against_seen()
    {
        using var home = await Grown();
        await home.Do("stage T1 planted-out --plants 8");
        var season = await home.Json("season", "--bought-price", "2.50", "--plot", home.File("season.svg"));
        Assert.Equal(8, season.GetProperty("plantedOut").GetInt32());
        Assert.Equal(20m - 0.96m, season.GetProperty("saved").GetDecimal());
        Assert.StartsWith("<", await File.ReadAllTextAsync(home.File("season.svg"), TestContext.Current.CancellationToken),
            StringComparison.Ordinal);
    }

    [Fact]
    public async Task Electricity_and_mix_are_paid_for_at_the_prices_of_the_settings()
    {
        using var home = await Grown();
        await File.WriteAllTextAsync(home.File("chamber.json"), """
            { "home": { "zone": "Europe/Berlin" }, "prices": { "kilowattHour": 0.25, "mixLitre": 0.4, "containerLitres": 0.5, "boughtPlant": 2.5, "watts": { "cupboard": 20 } } }
            """, TestContext.Current.CancellationToken);
        await home.Do("stage T1 planted-out --plants 8", "end T1");
        var hours = (home.Clock.GetUtcNow() - DateTimeOffset.Parse("2027-02-28T08:00:00Z", CultureInfo.InvariantCulture)).TotalHours;
        var season = await home.Json("season");
        var parts = season.GetProperty("costParts");
        Assert.Equal(0.96m, parts.GetProperty("seed").GetDecimal());
        Assert.Equal(0.2m, parts.GetProperty("mix").GetDecimal());
        Assert.Equal(20 * hours / 1000 * 0.25, parts.GetProperty("heat").GetDouble(), 6);
        Assert.Equal(20 - season.GetProperty("cost").GetDouble(), season.GetProperty("saved").GetDouble(), 6);
    }

    [Fact]
    public async Task Who_will_not_give_up_at_5_percent_waits_longer()
    {
        using var home = await Grown();
        await home.Do("sow tomato --seeds 12 --spot cupboard --name T2");
        async Task<DateTimeOffset> Waits() =>
            (await home.Json("batches")).EnumerateArray().Single(one => one.GetProperty("batch").GetString() == "T2")
            .GetProperty("forecast").GetProperty("stopWaiting").GetDateTimeOffset();
        var usual = await Waits();
        await File.WriteAllTextAsync(home.File("chamber.json"), """{ "stopWaitingBelow": 0.005 }""", TestContext.Current.CancellationToken);
        Assert.True(await Waits() > usual);
    }

    [Fact]
    public async Task Readings_that_were_taken_out_can_be_taken_in_again()
    {
        using var home = await Grown();
        await home.Do($"export --out {home.File("out")} --readings");
        var lines = await File.ReadAllLinesAsync(home.File("out/readings.csv"), TestContext.Current.CancellationToken);
        Assert.Equal(("probe,at,temperature,humidity,moisture,battery", 24 * 12 + 1), (lines[0], lines.Length));
        await File.WriteAllLinesAsync(home.File("again.csv"),
            lines.Select(line => line[(line.IndexOf(',', StringComparison.Ordinal) + 1)..]), TestContext.Current.CancellationToken);
        var again = await home.Json("import", home.File("again.csv"), "--probe", "p1");
        Assert.Equal((0, 24 * 12), (again.GetProperty("new").GetInt32(), again.GetProperty("known").GetInt32()));
    }

    private static async Task<string> Calendar(HomeRig home)
    {
        await home.Do($"calendar --out {home.File("chamber.ics")}");
        return await Oracle.SciPy($"""
            import icalendar
            calendar = icalendar.Calendar.from_ical(open({JsonSerializer.Serialize(home.File("chamber.ics"))}, 'rb').read())
            for entry in calendar.walk('VEVENT'): print(entry['UID'], entry.decoded('DTSTART'), entry['SEQUENCE'])
            """);
    }

    private static int Sequence(string calendar) =>
        int.Parse(calendar.Split('\n', StringSplitOptions.RemoveEmptyEntries)[0].Split(' ')[^1], CultureInfo.InvariantCulture);

    /// <summary>Tomatoes that came up in a cupboard, with a probe that was read all the time.</summary>
    private static async Task<HomeRig> Grown()
    {
        var home = new HomeRig();
        var rows = Enumerable.Range(0, 24 * 12).Select(hour =>
            string.Create(CultureInfo.InvariantCulture,
                $"{home.Clock.GetUtcNow().AddDays(-6).AddHours(hour):yyyy-MM-dd'T'HH:mm:ss'Z'},{23 + 3 * Math.Sin(hour / 24.0 * Math.Tau):0.00}")).ToList();
        home.Clock.Advance(TimeSpan.FromDays(6));
        await File.WriteAllTextAsync(home.File("cupboard.csv"), "at,temperature\n" + string.Join('\n', rows) + "\n");
        await home.Do(
            "spot add cupboard --kind boiler-cupboard --light dark --room 4",
            "probe add p1 --measures media",
            "probe move p1 cupboard --when 2027-02-20T00:00:00Z",
            $"import {home.File("cupboard.csv")} --probe p1",
            "lot add tomato-26 --crop tomato --seeds 50 --year 2026 --price 4",
            "sow tomato --seeds 12 --spot cupboard --lot tomato-26 --name T1 --when 2027-02-28T08:00:00Z",
            "look T1 0 --when 2027-03-04T08:00:00Z",
            "look T1 9 --when 2027-03-07T07:00:00Z");
        return home;
    }
}
