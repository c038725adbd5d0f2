using System.Text.Json.Nodes;
using Chamber.Testing;

namespace Chamber.Service.Tests.Commands;

/// <summary>Readings, times and counts are invented.</summary>
public sealed class ImportTests : IDisposable
{
    private const string German = "Logger 3\nSerie "
        + "17\nZeit;Uhr;Temp;RH\n01.03.2026;10:00;21,5;40\n01.03.2026;10:10;--;41\n01.03.2026;xx;21,5;40\n01.03.2026;10:20;85;40\n29.03.2026;02:30;20,1;40\n01.03.2026;10:30;abc1;\n;;;\n";

    private static readonly string[] GermanLayout =
    [
        "--skip", "2", "--decimal", ",", "--time", "dd.MM.yyyy HH:mm", "--zone", "Europe/Berlin",
        "--column", "at=Zeit+Uhr", "--column", "temperature=Temp", "--column", "humidity=RH", "--unit", "temperature=C",
    ];

    private readonly TempFolder folder = new();

    public void Dispose() => folder.Dispose();

    [Fact]
    public async Task A_foreign_loggers_file_is_taken_in_and_each_refused_line_is_told()
    {
        var file = folder.Write("log.csv", German);
        var summary = await Run(0, ["import", file, "--probe", "mat", "--json", .. GermanLayout]);
        Assert.Equal((6, 3, 5), (Whole(summary["lines"]), Whole(summary["new"]), Whole(summary["refusedLines"])));
        Assert.Equal(
            ["5 temperature missing", "6 at badTime", "7 temperature sentinel", "8 at badTime", "9 temperature malformed"],
            summary["refused"]!.AsArray().Select(line => $"{line!["line"]} {line["quantity"]} {line["reason"]}"));
    }

    [Fact]
    public async Task Usual_headers_and_signs_are_taken_from_the_file_and_told()
    {
        var file = folder.Write("log.csv", "Logger 3\nSerie 17\nDate;Time;Temp (°C);RH\n"
            + "21.02.2026;10:00;21,5;40\n21.02.2026;10:10;21,7;41\n");
        var summary = await Run(0, ["import", file, "--probe", "mat", "--json"]);
        Assert.Equal((2, 0), (Whole(summary["new"]), Whole(summary["refusedLines"])));
        Assert.Equal(
            ["the header is line 3", "time from \"Date+Time\"", "temperature in °C from \"Temp (°C)\"", "humidity from \"RH\"",
                "a comma is the decimal sign", "times as d.M.yyyy H:mm in "],
            summary["understood"]!.AsArray().Select(line => line!.GetValue<string>())
                .Select(line => line.StartsWith("times", StringComparison.Ordinal)
                    ? line[..(line.IndexOf(" in ", StringComparison.Ordinal) + 4)] : line));
    }

    [Theory]
    [InlineData("timestamp,temperature", "1772359200,21.5")]
    [InlineData("ts,temp_c", "1772359200000,21.5")]
    [InlineData("Date and time,Temperature [C]", "2026-03-01 10:00,21.5")]
    [InlineData("time\ttemp °F", "2026-03-01T10:00:00Z\t70.7")]
    public async Task Headers_of_loggers_are_known(string header, string line)
    {
        var file = folder.Write("log.csv", $"{header}\n{line}\n");
        var tried = await Run(0, ["import", file, "--probe", "mat", "--dry-run", "--json"]);
        Assert.Equal(21.5, tried["first"]![0]!["reading"]!["temperature"]!.GetValue<double>(), 6);
        Assert.Equal("2026-03-01T10:00:00Z", tried["first"]![0]!["reading"]!["measuredAt"]!.GetValue<string>());
    }

    [Fact]
    public async Task Days_and_months_that_could_be_either_are_asked_about()
    {
        using var home = new HomeRig();
        var file = home.Write("log.csv", "time,temp (C)\n03/02/2026 10:00,21.5\n");
        Assert.Equal("chamber: \"03/02/2026 10:00\" can be read in two ways: add --time \"d/M/yyyy H:mm\" or --time \"M/d/yyyy H:mm\".",
            await home.Refusal("import", file, "--probe", "mat"));
        file = home.Write("sure.csv", "time,temp (C)\n03/02/2026 10:00,21.5\n13/02/2026 10:00,21.5\n");
        Assert.Equal(2, (await home.Json("import", file, "--probe", "mat")).GetProperty("new").GetInt32());
    }

    // 25,1 would be read as 25 and a surplus 1.
    [Theory]
    [InlineData("at,temperature", "2027-02-02T10:00:00Z,25,1")]
    [InlineData("at;temperature", "2027-02-02T10:00:00Z;25.1;7")]
    public async Task A_line_with_more_values_than_columns_is_refused(string header, string line)
    {
        using var home = new HomeRig();
        var file = home.Write("log.csv", $"{header}\n{line}\n2027-02-02T11:00:00Z{line[20]}25{line[20]}\n");
        var told = (await home.Run("import", file, "--probe", "mat")).Out.ReplaceLineEndings(" ");
        Assert.StartsWith("1 reading taken in from 2 lines", told, StringComparison.Ordinal);
        Assert.Contains("The line has 3 values and the file 2 columns:", told, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_dry_run_shows_the_first_lines_and_writes_nothing()
    {
        using var home = new HomeRig();
        var file = home.Write("log.csv", "time,temp (C)\n2027-02-02 10:00,21.5\n2027-02-02 10:10,oops\n");
        var told = (await home.Run("import", file, "--probe", "mat", "--dry-run")).Out;
        Assert.Contains("Nothing was taken in: 1 reading would be, from 2 lines", told, StringComparison.Ordinal);
        Assert.Contains("21.5 °C", told, StringComparison.Ordinal);
        Assert.Contains("oops", told, StringComparison.Ordinal);
        Assert.Equal(1, (await home.Json("import", file, "--probe", "mat")).GetProperty("new").GetInt32());
    }

    [Fact]
    public async Task Many_lines_refused_alike_are_told_once_with_the_fix()
    {
        var lines = string.Concat(Enumerable.Range(10, 40).Select(minute => $"2026-03-01T10:{minute}:00Z,--\n"));
        var file = folder.Write("log.csv", $"at,temperature\n2026-03-01T10:00:00Z,21.5\n{lines}");
        using var home = new HomeRig();
        var told = (await home.Run("import", file, "--probe", "mat")).Out.Split('\n');
        Assert.Single(told, line => line.Contains("--", StringComparison.Ordinal) && line.Contains("The sensor reported no value",
            StringComparison.Ordinal));
        Assert.Contains(told, line => line.TrimStart().StartsWith("40  temperature", StringComparison.Ordinal));
    }

    [Fact]
    public async Task Doing_it_again_adds_nothing()
    {
        var file = folder.Write("log.csv", "at,temperature\n2026-03-01T10:00:00Z,21.5\n2026-03-01T10:10:00Z,21.6\n");
        Assert.Equal(2, Whole((await Run(0, ["import", file, "--probe", "shelf", "--json"]))["new"]));
        var again = await Run(0, ["import", file, "--probe", "shelf", "--json"]);
        Assert.Equal((0, 2), (Whole(again["new"]), Whole(again["known"])));
    }

    [Fact]
    public async Task Readings_before_a_probe_had_a_spot_are_told_with_the_line_that_helps()
    {
        using var home = new HomeRig();
        home.Write("chamber.json", """{ "home": { "zone": "UTC" } }""");
        var file = home.Write("log.csv", "at,temperature\n2027-02-20T07:40:00Z,21.5\n2027-02-21T07:40:00Z,21.6\n2027-03-01T08:30:00Z,22\n");
        await home.Do("spot add attic --kind shelf", "spot add sill --kind sill", "probe add mat --measures media --spot attic");
        home.Clock.Advance(TimeSpan.FromHours(1));

        var said = await home.Run("import", file, "--probe", "mat");
        Assert.Contains("2 readings of mat (Sat 20 Feb 07:40 to Sun 21 Feb 07:40) count for no spot", Joined(said.Out),
            StringComparison.Ordinal);
        Assert.Contains("chamber probe move mat attic --when \"2027-02-20 07:40\"", Joined(said.Out), StringComparison.Ordinal);

        await home.Run("probe", "move", "mat", "attic", "--when", "2027-02-20 07:40");
        Assert.Empty((await home.Json("import", file, "--probe", "mat")).GetProperty("unplaced").EnumerateArray());
        Assert.Equal(1, (await home.Json("probes")).GetArrayLength());
    }

    [Fact]
    public async Task A_probe_can_be_said_to_have_stood_elsewhere_before()
    {
        using var home = new HomeRig();
        home.Write("chamber.json", """{ "home": { "zone": "UTC" } }""");
        await home.Do("spot add attic --kind shelf", "spot add sill --kind sill", "probe add mat --measures media --spot attic");

        Assert.StartsWith("mat stood on sill from Sat 20 Feb 07:40 to 08:00.",
            (await home.Run("probe", "move", "mat", "sill", "--when", "2027-02-20 07:40")).Out, StringComparison.Ordinal);
        Assert.Equal("attic", (await home.Json("probes"))[0].GetProperty("spot").GetString());
    }

    private static string Joined(string text) => string.Join(' ', text.Split((char[])[' ', '\n'], StringSplitOptions.RemoveEmptyEntries));

    [Fact]
    public async Task A_layout_file_says_the_same_as_the_options()
    {
        var file = folder.Write("log.csv", German);
        var layout = folder.Write("layout.json", """
            { "skip": 2, "decimal": ",", "time": "dd.MM.yyyy HH:mm", "zone": "Europe/Berlin",
              "columns": { "at": "Zeit+Uhr", "temperature": "Temp", "humidity": "RH" }, "units": { "temperature": "C" } }
            """);
        Assert.Equal(3, Whole((await Run(0, ["import", file, "--probe", "mat", "--json", "--layout", layout]))["new"]));
    }

    [Fact]
    public async Task The_repeated_hour_of_autumn_is_told_apart_by_its_order()
    {
        var file = folder.Write("night.csv", "at,temperature\n2025-10-26 02:30,20\n2025-10-26 02:50,20\n2025-10-26 02:30,21\n");
        var summary = await Run(0, ["import", file, "--probe", "mat", "--json", "--time", "yyyy-MM-dd HH:mm", "--zone", "Europe/Berlin"]);
        Assert.Equal(3, Whole(summary["new"]));
    }

    [Theory]
    [InlineData("log.csv has no column \"at\" for at; it has \"when\", \"temperature\". Name the right one with --column at=NAME.",
        "when,temperature\n1,2\n")]
    [InlineData("log.csv is empty.", "")]
    [InlineData("The unit of temperature is not given: add --unit temperature=C or --unit temperature=F.", "at,t\n1,2\n", "--column",
        "temperature=t")]
    [InlineData("log.csv does not say which probe it comes from: add --probe NAME, or --column probe=NAME.",
        "at,temperature\n2026-03-01T10:00:00Z,21.5\n")]
    public async Task A_file_that_cannot_be_read_is_refused_before_anything_is_taken_in(string line, string text, params string[] options)
    {
        var file = folder.Write("log.csv", text);
        var result = await ChamberProcess.Run(["import", file, "--data", folder.Path, .. options]);
        Assert.Equal((2, "chamber: " + line), (result.ExitCode, result.Errors));
    }

    [Fact]
    public async Task A_file_in_which_nothing_can_be_used_fails()
    {
        var file = folder.Write("log.csv", "at,temperature\n2026-03-01T10:00:00Z,cold\n");
        await Run(1, ["import", file, "--probe", "shelf", "--json"]);
    }

    private async Task<JsonNode> Run(int code, string[] arguments)
    {
        var result = await ChamberProcess.Run([.. arguments, "--data", folder.Path]);
        Assert.Equal((code, string.Empty), (result.ExitCode, result.Errors));
        return JsonNode.Parse(result.Output)!;
    }

    private static int Whole(JsonNode? node) => node!.GetValue<int>();
}
