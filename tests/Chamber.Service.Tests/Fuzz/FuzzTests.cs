using System.Globalization;
using System.Net.Sockets;
using Chamber.Service.Tests.Mqtt;
using Chamber.Testing;
using MQTTnet;
using MQTTnet.Protocol;

namespace Chamber.Service.Tests.Fuzz;

/// <summary>
/// Bad input by seed to everything that reads what comes from outside (tests/cases/fuzz): ten thousand inputs each, or as many as
/// CHAMBER_FUZZ says. The right answer is none of somebody else's numbers: a result, or the reader's one kind of error.
/// </summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed class FuzzTests(ITestOutputHelper output)
{
    private static readonly int Inputs =
        int.Parse(Environment.GetEnvironmentVariable("CHAMBER_FUZZ") ?? "10000", CultureInfo.InvariantCulture);

    public static TheoryData<string> Cases => Environment.GetEnvironmentVariable("CHAMBER_FUZZ_READER") is { Length: > 0 } one
        ? [one] : [.. Readers.Names];

    [Theory]
    [MemberData(nameof(Cases))]
    public void Bad_input_is_answered_and_never_ends_a_reader(string reader)
    {
        using var readers = new Readers();
        var (read, mutation) = (readers.Of(reader), new Mutation(reader));
        var (answers, coverage) = (0, Coverage.OfBuild());
        for (var seed = 0; seed < Inputs; seed++)
        {
            var input = mutation.Of(seed);
            Coverage.Begin();
            try
            {
                read(input);
            }
            catch (Exception problem) when (Readers.IsAnswer(problem))
            {
                Assert.NotEmpty(problem.Message);
                answers++;
            }
            catch (Exception problem)
            {
                Assert.Fail($"{reader}, seed {seed}: {problem}\n{Convert.ToHexString(input)}");
            }

            if (coverage?.IsNew() == true)
            {
                mutation.Keep(input);
            }
        }

        Tell($"{reader}: {Inputs} inputs, {answers} answered by an error", reader, mutation, coverage);
    }

    // What eng/fuzz reads: a line for each reader, and the inputs that reached something new.
    private void Tell(string line, string reader, Mutation mutation, Coverage? coverage)
    {
        output.WriteLine(line);
        if (coverage is not null)
        {
            var folder = Directory.CreateDirectory(SourceTree.Path("artifacts", "fuzz-found")).FullName;
            File.WriteAllLines(Path.Combine(folder, Path.ChangeExtension(reader, ".hex")), mutation.Found.Select(Convert.ToHexString));
            File.WriteAllText(Path.Combine(folder, Path.ChangeExtension(reader, ".line")),
                $"{line}, {mutation.Found.Count()} reached something new, {coverage.Seen} branches by class\n");
        }
    }

    // Each on its own connection, as from somebody who speaks no MQTT; a tenth as many, since each opens a socket.
    [Fact]
    public async Task Bad_packets_end_their_connection_and_a_sensor_is_heard_beside()
    {
        using var folder = new TempFolder();
        await using var rig = new IntakeRig();
        var listener = BuiltInBrokerTests.Loopback();
        await using var broker = await rig.StartBroker(listener, folder);
        var mutation = new Mutation("mqtt.hex");
        await Parallel.ForAsync(0, Inputs / 10, new ParallelOptions { MaxDegreeOfParallelism = 4 }, async (seed, cancel) =>
        {
            using var client = new TcpClient { LingerState = new(true, 0) };
            await client.ConnectAsync("127.0.0.1", listener.Port, cancel);
            try
            {
                await client.GetStream().WriteAsync(mutation.Of(seed), cancel);
                client.Client.Shutdown(SocketShutdown.Send);
                while (await client.GetStream().ReadAsync(new byte[512], cancel) > 0)
                {
                }
            }
            catch (Exception gone) when (gone is IOException or SocketException or InvalidOperationException)
            {
                // The broker has closed it.
            }
        });
        var before = rig.Readings.Count;
        using var sensor = new MqttClientFactory().CreateMqttClient();
        await sensor.ConnectAsync(new MqttClientOptionsBuilder().WithTcpServer("127.0.0.1", listener.Port).WithClientId("sensor").Build(),
            TestContext.Current.CancellationToken);
        await sensor.PublishStringAsync("chamber/mat-probe/reading", """{"temperature": 21}""", MqttQualityOfServiceLevel.AtLeastOnce,
            cancellationToken: TestContext.Current.CancellationToken);
        await rig.Until(() => rig.Readings.Count > before);
    }
}
