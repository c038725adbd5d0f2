using System.Globalization;
using System.Text.RegularExpressions;
using Chamber.Club.Boards;
using Chamber.Club.Commands;
using Chamber.Club.Store;
using Chamber.Club.Tests.Homes;
using Chamber.Testing;

namespace Chamber.Club.Tests.Telemetry;

/// <summary>The board and the rules of a club ask for what its processes count, by their own names; promtool of Debian's package checks the
/// rules and plays invented series to each.</summary>
public sealed partial class BoardTests(ClubServer server)
{
    private const string Job = "job=\"chamber-club\",instance=\"one:9100\"";

    /// <summary>Of each rule: series while something is wrong, and series while nothing is.</summary>
    private static readonly (string Rule, string Wrong, string Right)[] Cases =
    [
        ("ClubProcessDown", $"up{{{Job}}}: 0x180", $"up{{{Job}}}: 1x180"),
        ("ClubDatabaseAway", $"chamber_club_database_away{{{Job}}}: 1x180", $"chamber_club_database_away{{{Job}}}: 0x180"),
        ("ClubNobodyReceives", $"chamber_club_slots_held{{{Job}}}: 0x180", $"chamber_club_slots_held{{{Job}}}: 1x180"),
        ("ClubNobodyWatches", $"chamber_club_silos{{{Job}}}: 0x180", $"chamber_club_silos{{{Job}}}: 2x180"),
        ("ClubNoReadings", $"chamber_club_readings_total{{{Job}}}: 7x180; chamber_club_homes{{{Job}}}: 3x180",
            $"chamber_club_readings_total{{{Job}}}: 0+4x180; chamber_club_homes{{{Job}}}: 3x180"),
        ("ClubCommitsFail", $"chamber_club_commit_failures_total{{{Job}}}: 0+1x180", $"chamber_club_commit_failures_total{{{Job}}}: 9x180"),
        ("ClubSlowToAcknowledge", Acknowledged(slow: true), Acknowledged(slow: false)),
        ("ClubLooksFail", $"chamber_club_look_failures_total{{{Job}}}: 0+1x180", $"chamber_club_look_failures_total{{{Job}}}: 9x180"),
        ("ClubNoticesWait", $"chamber_club_outbox_waiting{{{Job}}}: 400x180", $"chamber_club_outbox_waiting{{{Job}}}: 3x180"),
    ];

    [Fact]
    public void The_files_are_what_the_lists_give() => Assert.All(BoardsCommand.Files(),
        file => Assert.Equal(file.Text, File.ReadAllText(SourceTree.Path("dashboards", "club", file.Name))));

    [Fact]
    public async Task Each_rule_tells_what_is_wrong_and_is_silent_else()
    {
        Assert.Equal(ClubRules.All.Select(rule => rule.Name), Cases.Select(one => one.Rule));
        using var folder = new TempFolder();
        var rules = folder.Write("rules.yml", ClubRules.Text());
        var tests = Cases.Select(one => Test(one.Rule, one.Wrong, isTold: true) + Test(one.Rule, one.Right, isTold: false));
        var file = folder.Write("tests.yml", $"rule_files: ['{rules}']\nevaluation_interval: 1m\ntests:\n{string.Concat(tests)}");
        var outcome = await RunningProgram.Run("promtool", ["test", "rules", file]);
        Assert.True(outcome.ExitCode == 0, outcome.Output + outcome.Errors);
    }

    // A silo that looks, an intake that has kept a message, and a page, each scraped as it runs.
    [Fact]
    public async Task Whatever_board_and_rules_ask_for_is_counted_by_a_process()
    {
        var address = await server.Address();
        await using var club = ClubDatabase.Open(address);
        await using var broker = await Mosquitto.Start();
        var ports = Enumerable.Range(0, 3).Select(_ => FreePort.Next().ToString(CultureInfo.InvariantCulture)).ToArray();
        await club.AddHomeAsync("mill-lane-4", TestContext.Current.CancellationToken);
        await using var silo = await SiloProcess.Silo(address, "--metrics-port", ports[0]);
        await using var intake = await SiloProcess.Intake(address, broker, "--metrics-port", ports[1]);
        await using var page = RunningProgram.Start(SiloProcess.Club,
            ["page", "--database", address, "--port", FreePort.Next().ToString(CultureInfo.InvariantCulture), "--metrics-port", ports[2]]);
        await page.Line("The pages of the club are at");
        await broker.Publish("homes/mill-lane-4/chamber/shelf/reading", """{"temperature": 21.5}""", 1);

        using var http = new HttpClient();
        var wanted = BoardsCommand.Files().SelectMany(file => Names().Matches(file.Text)).Select(match => match.Value)
            .ToHashSet(StringComparer.Ordinal);
        Assert.NotEmpty(wanted);
        await Wait.Until($"all of {string.Join(' ', wanted)}", async () =>
        {
            var seen = new HashSet<string>(StringComparer.Ordinal);
            foreach (var port in ports)
            {
                var text = await http.GetStringAsync(new Uri($"http://127.0.0.1:{port}/metrics"), TestContext.Current.CancellationToken);
                seen.UnionWith(text.Split('\n').Where(line => !line.StartsWith('#')).Select(line => line.Split('{', ' ')[0]));
                Assert.DoesNotContain("mill-lane-4", text, StringComparison.Ordinal);
            }

            return seen.IsSupersetOf(wanted) ? "all" : null;
        });
    }

    private static string Acknowledged(bool slow) => string.Join("; ", ((string[])["0.1", "60", "300", "+Inf"]).Select(bound =>
        $"chamber_club_acknowledge_duration_seconds_bucket{{{Job},le=\"{bound}\"}}: 0+{(slow && bound == "0.1" ? 0 : 5)}x180"));

    private static string Test(string rule, string series, bool isTold) =>
        $"  - interval: 1m\n    input_series:\n{string.Concat(series.Split("; ").Select(Series))}"
        + $"    promql_expr_test:\n      - expr: 'count(ALERTS{{alertname=\"{rule}\",alertstate=\"firing\"}})'\n        eval_time: 3h\n"
        + (isTold ? "        exp_samples: [ { value: 1 } ]\n" : "        exp_samples: []\n");

    private static string Series(string series)
    {
        var end = series.LastIndexOf(": ", StringComparison.Ordinal);
        return $"      - series: '{series[..end]}'\n        values: '{series[(end + 2)..]}'\n";
    }

    [GeneratedRegex("(chamber_club_|process_resident_)[a-z_]+")]
    private static partial Regex Names();
}
