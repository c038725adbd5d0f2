using System.Globalization;
using System.Net.Sockets;
using Chamber.Fuzz;
using Chamber.Service.Tests.Mqtt;
using Chamber.Testing;
using MQTTnet;
using MQTTnet.Protocol;

namespace Chamber.Service.Tests.Fuzz;

/// <summary>
/// Bad input by seed to everything that reads what comes from outside (tests/cases/fuzz): ten thousand inputs each; eng/fuzz gives more,
/// and is guided by coverage. The right answer is none of somebody else's numbers: a result, or the reader's one kind of error.
/// </summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed class FuzzTests(ITestOutputHelper output)
{
    /// <summary>How many; CHAMBER_FUZZ says another number.</summary>
    internal static readonly int Inputs =
        int.Parse(Environment.GetEnvironmentVariable("CHAMBER_FUZZ") ?? "10000", CultureInfo.InvariantCulture);

    public static TheoryData<string> Cases => [.. Readers.Names];

    [Theory]
    [MemberData(nameof(Cases))]
    public void Bad_input_is_answered_and_never_ends_a_reader(string reader)
    {
        var fuzzing = new Fuzzing(reader);
        fuzzing.Run(Inputs);

        output.WriteLine($"{reader}: {fuzzing.Given} inputs, {fuzzing.Used} used, {fuzzing.Elapsed.TotalSeconds:F1} s");
        Assert.True(fuzzing.Failure is null, $"{reader}, {fuzzing.Failure}\n{Convert.ToHexString(fuzzing.Input)}");
    }

    // Bad input made from what is refused at first sight gets no further.
    [Theory]
    [MemberData(nameof(Cases))]
    public void Every_sample_is_good_input(string reader)
    {
        using var readers = new Readers();
        var read = readers.Of(reader);

        Assert.All(Samples.Of(reader), sample => Assert.True(read(sample), Convert.ToHexString(sample)));
    }

    // Each on its own connection, as from somebody who speaks no MQTT.
    [Fact]
    public async Task Bad_packets_end_their_connection_and_a_sensor_is_heard_beside()
    {
        using var folder = new TempFolder();
        await using var rig = new IntakeRig();
        var listener = BuiltInBrokerTests.Loopback();
        await using var broker = await rig.StartBroker(listener, folder);
        var mutation = new Mutation("mqtt.hex");
        var letIn = 0;
        await Parallel.ForAsync(0, Inputs, new ParallelOptions { MaxDegreeOfParallelism = 4 }, async (seed, cancel) =>
        {
            using var client = new TcpClient { LingerState = new(true, 0) };
            await client.ConnectAsync("127.0.0.1", listener.Port, cancel);
            var stream = client.GetStream();
            try
            {
                await stream.WriteAsync(mutation.Of(seed), cancel);
                client.Client.Shutdown(SocketShutdown.Send);
                var answer = new byte[4];
                var length = await stream.ReadAtLeastAsync(answer, answer.Length, throwOnEndOfStream: false, cancel);

                // CONNACK and its code: MQTT 3.1.1, section 3.2; and MQTT 5.0.
                Interlocked.Add(ref letIn, length == answer.Length && answer[0] == 0x20 && answer[3] == 0 ? 1 : 0);
                while (await stream.ReadAsync(new byte[512], cancel) > 0)
                {
                }
            }
            catch (Exception gone) when (gone is IOException or SocketException)
            {
                // The broker has closed it.
            }
        });
        output.WriteLine($"{Inputs} connections, {letIn} let in, {rig.Readings.Count} readings");
        Assert.True(letIn > Inputs / 10, "Most of what was sent was refused at first sight.");
        var before = rig.Readings.Count;
        using var sensor = new MqttClientFactory().CreateMqttClient();
        await sensor.ConnectAsync(new MqttClientOptionsBuilder().WithTcpServer("127.0.0.1", listener.Port).WithClientId("sensor").Build(),
            TestContext.Current.CancellationToken);
        await sensor.PublishStringAsync("chamber/mat-probe/reading", """{"temperature": 21}""", MqttQualityOfServiceLevel.AtLeastOnce,
            cancellationToken: TestContext.Current.CancellationToken);
        await rig.Until(() => rig.Readings.Count > before);
    }
}
