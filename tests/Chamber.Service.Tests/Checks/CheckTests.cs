using System.Text.Json;
using Chamber.Service.Tests.Commands;
using Chamber.Storage;
using Chamber.Testing;

namespace Chamber.Service.Tests.Checks;

public sealed class CheckTests : IDisposable
{
    private readonly HomeRig home = new();

    [Fact]
    public async Task A_sound_home_gets_a_clean_bill()
    {
        await home.Do("spot add shelf", "read shelf 21C", "backup");
        AgeBackup(days: 1);
        home.Write("chamber.json", $$"""{ "broker": { "listen": [{ "port": {{FreePort.Next()}} }] } }""");

        var (code, findings) = await Look();
        Assert.Equal(0, code);
        Assert.DoesNotContain("wrong", findings.Values.Select(finding => finding.State));
        Assert.Contains("version ", findings["data file"].Says, StringComparison.Ordinal);
        Assert.EndsWith("is whole", findings["backups"].Says, StringComparison.Ordinal);
        Assert.Equal(("note", "chamber run"), (findings["broker"].State, findings["broker"].Fix));
    }

    [Fact]
    public async Task A_home_that_nobody_has_started_gets_notes_and_nothing_is_made()
    {
        var (code, findings) = await Look();
        Assert.Equal((0, "note"), (code, findings["data file"].State));
        Assert.Empty(Directory.GetFileSystemEntries(home.Path));
    }

    [Fact]
    public async Task A_broker_that_drops_what_it_should_keep_is_told_with_the_fix()
    {
        await using var foreign = await Mosquitto.Start(_ => ["allow_anonymous true", "sys_interval 1", "max_queued_messages 10"]);
        home.Write("chamber.json", $$"""{ "broker": { "own": false, "host": "127.0.0.1", "port": {{foreign.Port}} } }""");
        Assert.DoesNotContain("broker's queues", (await Look()).Findings.Keys);

        await using (await foreign.Subscribe("chamber/#", qos: 1, "-c", "-i", "away"))
        {
            // It goes, and its session stays.
        }

        await using var system = await foreign.Subscribe("$SYS/broker/publish/messages/dropped", qos: 0);
        await foreign.PublishLines("chamber/shelf/reading", Enumerable.Repeat("""{"temperature": 21}""", 50));
        await system.Line("$SYS/broker/publish/messages/dropped 40");
        var queues = (await Look()).Findings["broker's queues"];
        Assert.Equal("note", queues.State);
        Assert.Contains("40 messages", queues.Says, StringComparison.Ordinal);
        Assert.Contains("max_queued_messages 0", queues.Fix, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_damaged_data_file_is_told_with_the_way_back()
    {
        await home.Do("spot add shelf", "read shelf 21C");
        await Damage(home.File("chamber.db"));

        var (code, findings) = await Look();
        Assert.Equal((1, "wrong"), (code, findings["data file"].State));
        Assert.Contains("chamber restore", findings["data file"].Fix, StringComparison.Ordinal);
        Assert.Contains("disk", findings.Keys);
    }

    [Fact]
    public async Task A_price_for_a_spot_that_there_is_not_is_told()
    {
        await home.Do("spot add shelf", "sow tomato --seeds 3 --spot shelf --name T1");
        await File.WriteAllTextAsync(home.File("chamber.json"), """{ "prices": { "watts": { "shelve": 20, "shelf": 15 } } }""",
            TestContext.Current.CancellationToken);

        const string Said = "prices.watts names shelve, which is no spot, so its electricity is not counted. Did you mean shelf?";
        Assert.Equal(("note", Said), ((await Look()).Findings["prices"].State, (await Look()).Findings["prices"].Says));
        Assert.Contains(Said, (await home.Run("season")).Out.ReplaceLineEndings(" "), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_data_file_that_is_otherwise_than_its_facts_is_told()
    {
        await home.Do("spot add shelf", "spot add sill");
        Assert.Equal("2 entries, and the data file agrees with them", (await Look()).Findings["facts"].Says);
        using (var connection = new Microsoft.Data.Sqlite.SqliteConnection($"Data Source={home.File("chamber.db")};Pooling=False"))
        {
            connection.Open();
            using var command = connection.CreateCommand();
            command.CommandText = "UPDATE spot SET room = 7 WHERE id = 'sill'";
            command.ExecuteNonQuery();
        }

        var (code, findings) = await Look();
        Assert.Equal((1, "wrong"), (code, findings["facts"].State));
        Assert.EndsWith(": spot sill", findings["facts"].Says, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_backup_that_could_not_be_brought_back_is_told()
    {
        await home.Do("spot add shelf", "read shelf 21C", "backup");
        await Damage(Directory.GetFiles(home.File("backups"))[0]);

        var (code, findings) = await Look();
        Assert.Equal((1, "wrong"), (code, findings["backups"].State));
        Assert.Contains("cannot be restored", findings["backups"].Says, StringComparison.Ordinal);
    }

    [Fact]
    public async Task An_old_backup_is_told()
    {
        await home.Do("spot add shelf", "backup");
        AgeBackup(days: 5);
        Assert.Contains("5 days old", (await Look()).Findings["backups"].Says, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_secret_that_everybody_may_read_is_told_with_the_fix()
    {
        home.Write("chamber.json",
            """{ "broker": { "own": false, "host": "127.0.0.1", "port": 1, "user": "me", "passwordFile": "password.txt" } }""");
        var secret = home.Write("password.txt", "hush");
        File.SetUnixFileMode(secret, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.OtherRead);

        var (code, findings) = await Look();
        Assert.Equal((1, $"chmod 600 {secret}"), (code, findings["permissions"].Fix));
        Assert.Equal("wrong", findings["broker"].State);

        File.SetUnixFileMode(secret, UnixFileMode.UserRead | UnixFileMode.UserWrite);
        Assert.Equal("good", (await Look()).Findings["permissions"].State);
    }

    [Fact]
    public async Task Settings_that_cannot_be_read_do_not_keep_it_from_looking_at_the_rest()
    {
        home.Write("chamber.json", """{ "brocker": {} }""");
        var (code, findings) = await Look();
        Assert.Equal((1, "wrong"), (code, findings["settings"].State));
        Assert.Contains("line 1: brocker is not a setting", findings["settings"].Says, StringComparison.Ordinal);
        Assert.Contains("broker", findings.Keys);
    }

    [Fact]
    public async Task A_clock_behind_the_last_reading_is_told()
    {
        await home.Do("spot add shelf", "read shelf 21C");
        home.Clock.AdjustTime(home.Clock.GetUtcNow().AddDays(-3));
        var (code, findings) = await Look();
        Assert.Equal((1, "wrong"), (code, findings["clock"].State));
    }

    [Fact]
    public async Task Notices_that_were_given_up_are_told_with_the_reason()
    {
        await home.Do("spot add shelf");
        using (var store = ChamberStore.Open(home.File("chamber.db")))
        {
            var now = NodaTime.Instant.FromDateTimeOffset(home.Clock.GetUtcNow());
            store.Ledger.Notices.Add("email", "first", "{}", now);
            store.Ledger.Notices.Failed(store.Ledger.Notices.Due(now)[0].Number, "550 no such box", nextAt: null);
        }

        Assert.Contains("550 no such box", (await Look()).Findings["notices"].Says, StringComparison.Ordinal);
    }

    public void Dispose() => home.Dispose();

    [Fact]
    public async Task Quickly_it_finds_the_same_and_reads_nothing_through()
    {
        await home.Do("spot add shelf", "read shelf 21C", "backup");
        await Damage(Directory.GetFiles(home.File("backups"))[0]);
        AgeBackup(days: 1);

        var (code, findings) = await Look("--quick");
        Assert.Equal((0, "good"), (code, findings["backups"].State));
        Assert.Equal((await Look()).Findings.Keys, findings.Keys);
    }

    [Fact]
    public async Task Its_former_name_is_understood_and_in_no_help()
    {
        Assert.Equal((await home.Run("check")).Out, (await home.Run("doctor")).Out);
        Assert.DoesNotContain("doctor", (await home.Run("--help")).Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Times_are_in_the_zone_of_the_home()
    {
        home.Write("chamber.json", """{ "home": { "zone": "Asia/Kathmandu" } }""");
        await home.Do("spot add shelf", "read shelf 21C");
        var local = NodaTime.Instant.FromDateTimeOffset(home.Clock.GetUtcNow())
            .InZone(NodaTime.DateTimeZoneProviders.Tzdb["Asia/Kathmandu"]);
        var told = (await Look()).Findings;
        Assert.All([told["clock"], told["readings"]],
            finding => Assert.Contains(local.ToString("HH:mm", System.Globalization.CultureInfo.InvariantCulture), finding.Says,
            StringComparison.Ordinal));
    }

    private async Task<(int Code, Dictionary<string, (string State, string Says, string? Fix)> Findings)> Look(params string[] options)
    {
        var outcome = await home.Run(["check", "--json", .. options]);
        Assert.Equal(string.Empty, outcome.Error);
        var findings = JsonDocument.Parse(outcome.Out).RootElement.EnumerateArray().ToDictionary(
            finding => finding.GetProperty("what").GetString()!,
            finding => (finding.GetProperty("state").GetString()!, finding.GetProperty("says").GetString()!,
                finding.GetProperty("fix").GetString()));
        return (outcome.Code, findings);
    }

    private void AgeBackup(int days) =>
        File.SetLastWriteTimeUtc(Directory.GetFiles(home.File("backups"))[0], home.Clock.GetUtcNow().UtcDateTime.AddDays(-days));

    /// <summary>Tears the middle out of a database, as a failing disk does.</summary>
    private static async Task Damage(string path)
    {
        var bytes = await File.ReadAllBytesAsync(path);
        bytes.AsSpan(4096, bytes.Length - 4096).Fill(0x5A);
        await File.WriteAllBytesAsync(path, bytes);
    }
}
