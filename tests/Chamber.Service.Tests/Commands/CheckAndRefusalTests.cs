using System.Text.Json;
using Chamber.Testing;

namespace Chamber.Service.Tests.Commands;

/// <summary>The verbs with which a grower finds out what is wrong, and those few that nothing else tests.</summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed class CheckAndRefusalTests : IDisposable
{
    private const string Log = "at,temperature\n2026-03-01T10:00:00Z,21.5\n2026-03-01T10:10:00Z,85\n2026-03-01T10:20:00Z,--\n";

    private readonly TempFolder folder = new();

    public void Dispose() => folder.Dispose();

    [Fact]
    public async Task Refused_lines_of_a_file_read_again_or_grown_are_counted_once()
    {
        var file = folder.Write("log.csv", Log);
        await Good("import", file, "--probe", "shelf");
        await Good("import", file, "--probe", "shelf");
        Assert.Equal(2, await Refused());

        folder.Write("log.csv", Log + "2026-03-01T10:30:00Z,85\n");
        var summary = JsonDocument.Parse(await Good("import", file, "--probe", "shelf", "--json")).RootElement;

        Assert.Equal(3, await Refused());
        Assert.Equal(3, summary.GetProperty("refusedLines").GetInt32());
    }

    [Fact]
    public async Task What_is_of_no_probe_is_shown_too()
    {
        await Good("import", folder.Write("log.csv", "at,probe,temperature\n2026-03-01T10:00:00Z,a/b,21\n2026-03-01T10:00:00Z,mat,21\n"),
            "--json");
        var answer = JsonDocument.Parse(await Good("refusals", "--json")).RootElement;

        Assert.Equal(JsonValueKind.Null, answer.GetProperty("counts")[0].GetProperty("probe").ValueKind);
        Assert.Equal("a/b", answer.GetProperty("newest")[0].GetProperty("raw").GetString());
        Assert.Contains("(of no probe)", await Good("refusals"), StringComparison.Ordinal);
        Assert.StartsWith("Nothing was refused.", await Good("refusals", "--probe", "shelf"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Check_names_the_line_of_a_setting_that_cannot_be_used()
    {
        folder.Write("chamber.json", "{\n  \"page\": {\n    \"prot\": 80\n  }\n}");
        var result = await ChamberProcess.Run("check", "--data", folder.Path);

        Assert.Equal((1, string.Empty), (result.ExitCode, result.Errors));
        Assert.Contains("chamber.json line 3: page.prot", result.Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Check_connects_to_the_broker_and_says_what_to_do_when_it_is_refused()
    {
        await using var broker = await Mosquitto.Start();
        folder.Write("chamber.json", Joined(broker.Port, string.Empty));
        Assert.Contains("127.0.0.1", await Good("check"), StringComparison.Ordinal);

        folder.Write("chamber.json", Joined(FreePort.Next(), string.Empty));
        var nobody = await ChamberProcess.Run("check", "--data", folder.Path);
        folder.Write("chamber.json", Joined(broker.Port, ", \"tls\": {}"));
        var plain = await ChamberProcess.Run("check", "--data", folder.Path);

        Assert.All([nobody, plain], result =>
        {
            Assert.NotEqual(0, result.ExitCode);
            Assert.Contains("broker", result.Output, StringComparison.Ordinal);
        });
    }

    [Fact]
    public async Task A_broker_user_is_added_with_the_password_on_standard_input_and_removed()
    {
        var added = await RunningProgram.Run(ChamberProcess.Program, ["broker-user", "add", "mat-probe", "--data", folder.Path],
            "a long enough secret\n");
        Assert.Equal(0, added.ExitCode);
        Assert.Contains("mat-probe may connect to the broker.", added.Output, StringComparison.Ordinal);
        Assert.Contains("It may write chamber/mat-probe/# and read nothing.", added.Output, StringComparison.Ordinal);
        Assert.DoesNotContain("secret", File.ReadAllText(folder.File("broker-users")), StringComparison.Ordinal);

        Assert.Contains("may no longer connect", await Good("broker-user", "remove", "mat-probe"), StringComparison.Ordinal);
        Assert.Equal(2, (await ChamberProcess.Run("broker-user", "remove", "mat-probe", "--data", folder.Path)).ExitCode);
    }

    [Fact]
    public async Task A_probe_that_is_lifted_stands_nowhere()
    {
        await Good("spot", "add", "shelf");
        await Good("probe", "add", "p1", "--measures", "media", "--spot", "shelf");

        Assert.StartsWith("p1 stands nowhere since", await Good("probe", "lift", "p1"), StringComparison.Ordinal);
        Assert.Contains("(not placed)", await Good("probes"), StringComparison.Ordinal);
        Assert.Equal(2, (await ChamberProcess.Run("probe", "lift", "p9", "--data", folder.Path)).ExitCode);
    }

    [Theory]
    [InlineData("alerts", "seen", "7")]
    [InlineData("alerts", "mute", "7", "2h")]
    public async Task An_alert_that_there_is_not_can_be_neither_seen_nor_muted(params string[] arguments)
    {
        var result = await ChamberProcess.Run([.. arguments, "--data", folder.Path]);

        Assert.Equal((2, string.Empty), (result.ExitCode, result.Output));
        Assert.Contains("7", Assert.Single(result.Errors.Trim().Split('\n')), StringComparison.Ordinal);
    }

    private static string Joined(int port, string more) =>
        $$"""{ "broker": { "own": false, "host": "127.0.0.1", "port": {{port}}{{more}} }, "page": { "on": false } }""";

    private async Task<long> Refused()
    {
        var answer = JsonDocument.Parse(await Good("refusals", "--json")).RootElement;
        return answer.GetProperty("counts").EnumerateArray().Sum(count => count.GetProperty("count").GetInt64());
    }

    private async Task<string> Good(params string[] arguments)
    {
        var result = await ChamberProcess.Run([.. arguments, "--data", folder.Path]);
        return result.Succeeded();
    }
}
