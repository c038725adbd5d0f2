using System.Globalization;
using Chamber.Core.Climate;
using Chamber.Storage;
using Chamber.Testing;
using Microsoft.Data.Sqlite;
using MQTTnet;
using MQTTnet.Protocol;

namespace Chamber.Service.Tests.Workers;

/// <summary>What goes wrong around a running service, with the real parts: it says so, keeps what came, and goes on by itself. Readings,
/// times and counts are invented.</summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed class ServiceFaultTests : IDisposable
{
    private readonly TempFolder folder = new();
    private readonly int port = FreePort.Next();

    public ServiceFaultTests() =>
        folder.Write("chamber.json", $$"""{ "broker": { "listen": [{ "port": {{port}} }] }, "page": { "on": false } }""");

    public void Dispose() => folder.Dispose();

    private string Database => folder.File("chamber.db");

    [Fact]
    public async Task A_reading_waits_at_its_sender_while_another_program_locks_the_file()
    {
        await using var service = ChamberProcess.Start("run", "--data", folder.Path);
        await service.Line("Chamber is ready");
        using var client = await Connected();
        await using var other = new SqliteConnection($"Data Source={Database};Pooling=False");
        await other.OpenAsync(TestContext.Current.CancellationToken);
        Execute(other, "BEGIN IMMEDIATE");

        var sending = Send(client, 21.5);
        await service.Line("another process keeps the file locked. End the program that holds it");
        Assert.False(sending.IsCompleted);
        Execute(other, "ROLLBACK");

        await sending;
        Assert.Equal([21.5], Stored());
    }

    /// <summary>
    /// The size limit of the system stands for a full disk: every write fails, in the middle of a transaction, and no rights are
    /// needed to set it.
    /// </summary>
    [Fact]
    public async Task Readings_wait_at_their_sender_while_nothing_can_be_written()
    {
        await using var service = RunningProgram.Start("sh",
            ["-c", "trap '' XFSZ; exec \"$0\" \"$@\"", ChamberProcess.Program, "run", "--data", folder.Path]);
        await service.Line("Chamber is ready");
        using var client = await Connected();
        await Send(client, 21);
        await Limit(service, "1");

        var sending = Task.WhenAll(Enumerable.Range(0, 50).Select(i => Send(client, 22 + i / 100.0)));
        await service.Line("nothing was half-written");
        Assert.False(sending.IsCompleted);
        await Limit(service, "unlimited");

        await sending;
        Assert.Equal(51, Stored().Count);
        Assert.Equal(Database, ChamberStore.Verify(Database).Path, StringComparer.Ordinal);
        service.AskToStop();
        Assert.Equal(0, (await service.End()).ExitCode);
    }

    /// <summary>A trigger in the file stands for whatever a later version's rule, or a fault of ours, may refuse: the database really
    /// refuses that one row.</summary>
    [Fact]
    public async Task A_message_that_cannot_be_stored_is_set_aside_and_others_are_stored()
    {
        ChamberStore.Open(Database).Dispose();
        await MakeDatabase("CREATE TRIGGER not_this BEFORE INSERT ON reading WHEN NEW.temperature = 21666 BEGIN SELECT RAISE(ABORT, 'not "
            + "this one'); END");
        await using var broker = await Mosquitto.Start();
        folder.Write("chamber.json",
            $$"""{ "broker": { "own": false, "host": "127.0.0.1", "port": {{broker.Port}} }, "page": { "on": false } }""");
        await using (var service = ChamberProcess.Start("run", "--data", folder.Path))
        {
            await service.Line("Connected to the broker");
            await broker.PublishLines("chamber/p1/reading", new[] { 21.5, 21.666, 22 }.Select(celsius => Payload(celsius)));
            var said = await service.Line("is set aside");
            Assert.Contains("The message on chamber/p1/reading could not be stored", said, StringComparison.Ordinal);
            Assert.Contains("the file does not allow what was to be written", said, StringComparison.Ordinal);

            // What comes afterwards is stored, which is only tried once the others were acknowledged.
            await broker.Publish("chamber/end/reading", """{ "temperature": 55 }""");
            await service.Line("Danger: 55.0 °C on end");
            await service.Kill();
        }

        // Had it not been acknowledged, it would come again to the next run, and be refused again.
        await using (var next = ChamberProcess.Start("run", "--data", folder.Path))
        {
            await next.Line("Connected to the broker");
            await broker.Publish("chamber/last/reading", """{ "temperature": 56 }""");
            await next.Line("Danger: 56.0 °C on last");
        }

        Assert.Equal([21.5, 22], Stored());
        using var store = ChamberStore.Open(Database);
        var refusal = Assert.Single(store.Journal.Refusals());
        Assert.Equal((RefusalReason.NotStored, "chamber/p1/reading", "p1"), (refusal.Reason, refusal.Source, refusal.Probe?.Text));
        Assert.Contains("21.666", refusal.Raw, StringComparison.Ordinal);
        Assert.Equal(1, Assert.Single(store.Journal.RefusalCounts()).Count);
        Assert.Contains("The data file takes other messages", (await ChamberProcess.Run("refusals", "--data", folder.Path)).Succeeded(),
            StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("this is no database, and never was one; it is long enough to be taken for one by its size alone.",
        "the file is not a database. Name another data directory, or move the file away.")]
    [InlineData("PRAGMA user_version = 99", "a newer Chamber wrote this file (version 99;")]
    [InlineData("CREATE TABLE theirs (a); PRAGMA application_id = 7",
        "the file is a database of another program. Name another data directory.")]
    public async Task A_file_that_is_not_ours_ends_the_start_in_one_line_and_stays_as_it_was(string content, string said)
    {
        if (content.StartsWith("this", StringComparison.Ordinal))
        {
            folder.Write("chamber.db", content);
        }
        else
        {
            await MakeDatabase(content);
        }

        var before = await File.ReadAllBytesAsync(Database, TestContext.Current.CancellationToken);

        var result = await ChamberProcess.Run("run", "--data", folder.Path);

        Assert.NotEqual(0, result.ExitCode);
        Assert.Contains(said, Assert.Single(result.Errors.Trim().Split('\n')), StringComparison.Ordinal);
        Assert.Equal(before, await File.ReadAllBytesAsync(Database, TestContext.Current.CancellationToken));
    }

    private async Task MakeDatabase(string content)
    {
        if (content.StartsWith("PRAGMA", StringComparison.Ordinal))
        {
            ChamberStore.Open(Database).Dispose();
        }

        await using var connection = new SqliteConnection($"Data Source={Database};Pooling=False");
        await connection.OpenAsync(TestContext.Current.CancellationToken);
        Execute(connection, content);
        Execute(connection, "PRAGMA journal_mode = DELETE");
    }

    private static void Execute(SqliteConnection connection, string sql)
    {
        using var command = connection.CreateCommand();
#pragma warning disable CA2100 // Constants of this test.
        command.CommandText = sql;
#pragma warning restore CA2100
        command.ExecuteNonQuery();
    }

    private static async Task Limit(RunningProgram service, string bytes) =>
        (await RunningProgram.Run("prlimit", ["--pid", service.Id.ToString(CultureInfo.InvariantCulture), $"--fsize={bytes}:unlimited"]))
            .Succeeded();

    private async Task<IMqttClient> Connected()
    {
        var client = new MqttClientFactory().CreateMqttClient();
        await client.ConnectAsync(new MqttClientOptionsBuilder().WithTcpServer("127.0.0.1", port).Build(),
            TestContext.Current.CancellationToken);
        return client;
    }

    private static async Task Send(IMqttClient client, double celsius) => await client.PublishStringAsync(
        "chamber/p1/reading",
        Payload(celsius),
        MqttQualityOfServiceLevel.AtLeastOnce,
        cancellationToken: TestContext.Current.CancellationToken);

    private static string Payload(double celsius) =>
        string.Create(CultureInfo.InvariantCulture,
            $$"""{"temperature":{{celsius}},"at":{{TimeProvider.System.GetUtcNow().AddHours(-1).AddSeconds(celsius * 100).ToUnixTimeSeconds()}}}""");

    private List<double> Stored()
    {
        using var store = ChamberStore.Open(Database);
        return [.. store.Journal.Read(new ProbeId("p1"), new(null, null)).Select(reading => reading.Temperature!.Value.Celsius)];
    }
}
