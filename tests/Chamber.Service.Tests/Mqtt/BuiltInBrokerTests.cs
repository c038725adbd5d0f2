using System.Globalization;
using System.Net;
using Chamber.Core.Climate;
using Chamber.Mqtt;
using Chamber.Mqtt.Broker;
using Chamber.Mqtt.Connection;
using Chamber.Service.Access;
using Chamber.Testing;

namespace Chamber.Service.Tests.Mqtt;

/// <summary>The built-in broker, with mosquitto's command-line clients as the foreign ones. Readings, times and counts are
/// invented.</summary>
public sealed class BuiltInBrokerTests : IDisposable
{
    private const string Topic = "chamber/shelf/reading";
    private const string Password = "a long password";

    private readonly TempFolder folder = new();

    public void Dispose() => folder.Dispose();

    [Theory]
    [InlineData("mqttv5", 0)]
    [InlineData("mqttv5", 1)]
    [InlineData("mqttv5", 2)]
    [InlineData("mqttv311", 0)]
    [InlineData("mqttv311", 1)]
    [InlineData("mqttv311", 2)]
    public async Task Readings_of_a_foreign_publisher_arrive(string version, int qos)
    {
        await using var rig = new IntakeRig();
        var listener = Loopback();
        await using var broker = await rig.StartBroker(listener, folder);

        await Publish(listener.Port, Topic, SubscriberTests.Numbered(0, 300), "-q", qos.ToString(CultureInfo.InvariantCulture),
            "-V", version);

        await rig.Until(() => rig.Temperatures.Count == 300);
        Assert.Equal(Enumerable.Range(0, 300).Select(SubscriberTests.Number), rig.Temperatures);
    }

    [Fact]
    public async Task A_publisher_is_acknowledged_only_after_the_commit()
    {
        await using var rig = new IntakeRig();
        var goOn = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        var committing = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        rig.BeforeCommit = async _ =>
        {
            committing.TrySetResult();
            await goOn.Task;
        };
        var listener = Loopback();
        await using var broker = await rig.StartBroker(listener, folder);
        await using var publisher = RunningProgram.Start(
            "mosquitto_pub", ["-h", "127.0.0.1", "-p", Text(listener.Port), "-q", "1", "-d", "-t", Topic, "-m",
                SubscriberTests.Numbered(0, 1).Single()]);
        await Wait.For("a commit to begin", committing.Task);

        // Another client gets its answer in the meantime, so the first would have had its own by now.
        await Publish(listener.Port, "elsewhere", ["no reading"], "-q", "1");
        Assert.DoesNotContain("received PUBACK", publisher.Output, StringComparison.Ordinal);
        Assert.False(publisher.HasExited);

        goOn.SetResult();
        await publisher.Line("received PUBACK");
        Assert.Equal(0, (await publisher.End()).ExitCode);
    }

    [Fact]
    public async Task What_is_no_reading_is_passed_on_as_any_broker_does()
    {
        await using var rig = new IntakeRig();
        var listener = Loopback();
        await using var broker = await rig.StartBroker(listener, folder);
        await using var reader = await Subscribe(listener.Port, "#");

        await Publish(listener.Port, "kitchen/lamp", ["on"], "-q", "1");

        // It leaves a trace, once, so that a sensor on a wrong topic is found.
        await reader.Line("kitchen/lamp on");
        await rig.Until(() => rig.Refusals.Count == 1);
        Assert.Empty(rig.Temperatures);
    }

    [Fact]
    public async Task A_slip_in_the_own_topic_is_refused_by_name_instead_of_vanishing()
    {
        await using var rig = new IntakeRig();
        var listener = Loopback();
        await using var broker = await rig.StartBroker(listener, folder);

        await Publish(listener.Port, "chamber/shelf/readings", ["{\"temperature\": 21}"], "-q", "1");

        await rig.Until(() => rig.Refusals.Count == 1);
        Assert.Equal(RefusalReason.UnknownTopic, rig.Refusals[0].Reason);
    }

    [Fact]
    public async Task Nobody_else_can_publish_or_clear_an_alert()
    {
        await using var rig = new IntakeRig();
        var listener = Loopback();
        await using var broker = await rig.StartBroker(listener, folder);
        var topic = OwnTopics.Alert("router-shelf", "too-hot");
        await broker.PublishAsync(topic, "open"u8.ToArray(), retain: true, TestContext.Current.CancellationToken);

        await using (var denied = RunningProgram.Start("mosquitto_pub",
            ["-V", "mqttv5", "-h", "127.0.0.1", "-p", Text(listener.Port), "-q", "1", "-r", "-t", topic, "-m", "forged"]))
        {
            Assert.Contains("Not authorized", (await denied.End()).Errors, StringComparison.OrdinalIgnoreCase);
        }

        await using var reader = await Subscribe(listener.Port, "chamber/alerts/#");
        await reader.Line(topic + " open");
    }

    [Fact]
    public async Task Retained_messages_of_others_survive_a_restart()
    {
        await using var rig = new IntakeRig();
        var listener = Loopback();
        await using (await rig.StartBroker(listener, folder))
        {
            await Publish(listener.Port, "kitchen/lamp", ["on"], "-q", "1", "-r");
        }

        listener = Loopback();
        await using var again = await rig.StartBroker(listener, folder);
        await using var reader = await Subscribe(listener.Port, "#");
        await reader.Line("kitchen/lamp on");
        await reader.Line(OwnTopics.State + " online");
    }

    [Fact]
    public async Task On_any_other_address_nobody_gets_in_without_user_and_password()
    {
        new UserFile(folder.File("users")).Set("balcony", Password);
        await using var rig = new IntakeRig();
        var listener = new ListenerOptions { Address = IPAddress.Any, Port = FreePort.Next() };
        await using var broker = await rig.StartBroker(listener, folder);
        var address = new BrokerAddress { Port = listener.Port };

        Assert.Contains("lets nobody in without user and password", await Check(address), StringComparison.Ordinal);
        Assert.Contains("refused the user \"balcony\"", await Check(address with { User = "balcony", Password = "guess" }),
            StringComparison.Ordinal);
        Assert.Contains("refused the user \"nobody\"", await Check(address with { User = "nobody", Password = Password }),
            StringComparison.Ordinal);
        Assert.Null(await Check(address with { User = "balcony", Password = Password }));
        Assert.Equal(3, rig.Log.Lines.Count(line => line.Event.Name == "ClientRefused"));
    }

    [Fact]
    public async Task With_a_certificate_it_speaks_TLS()
    {
        using var authority = new TestAuthority(folder);
        var (certificate, key) = authority.Sign("localhost");
        await using var rig = new IntakeRig();
        var listener = Loopback() with { CertificateFile = certificate, KeyFile = key };
        await using var broker = await rig.StartBroker(listener, folder);

        await Publish(listener.Port, Topic, SubscriberTests.Numbered(0, 10), "-q", "1", "--cafile", authority.File);

        await rig.Until(() => rig.Temperatures.Count == 10);
    }

    [Fact]
    public async Task It_speaks_TLS_with_a_certificate_that_Chamber_makes_once()
    {
        var (certificate, key) = (folder.File("broker-certificate.pem"), folder.File("broker-key.pem"));
        SelfMadeCertificate.MakeForBroker(certificate, key, [IPAddress.Parse(OwnAddress.Find())], TimeProvider.System);
        var made = File.ReadAllText(certificate);
        SelfMadeCertificate.MakeForBroker(certificate, key, [], TimeProvider.System);
        await using var rig = new IntakeRig();
        var listener = new ListenerOptions
            { Address = IPAddress.Parse(OwnAddress.Find()), Port = FreePort.Next(), CertificateFile = certificate, KeyFile = key };
        new UserFile(folder.File("users")).Set("shelf", Password);
        await using var broker = await rig.StartBroker(listener, folder);

        (await RunningProgram.Run("mosquitto_pub", ["-h", OwnAddress.Find(), "-p", Text(listener.Port), "-t", Topic, "-q", "1",
            "-u", "shelf", "-P", Password, "--cafile", certificate, "-m", "{\"temperature\": 21}"])).Succeeded();

        await rig.Until(() => rig.Temperatures.Count == 1);
        Assert.Equal(made, File.ReadAllText(certificate));
        Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite, File.GetUnixFileMode(key));
    }

    [Fact]
    public async Task A_port_that_is_taken_is_told_with_the_fix()
    {
        await using var mosquitto = await Mosquitto.Start();
        await using var rig = new IntakeRig();

        var error = await Assert.ThrowsAsync<IOException>(() => rig.StartBroker(new() { Port = mosquitto.Port }, folder));

        Assert.Contains("another broker may run there; join it, or choose another port", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_client_that_comes_back_to_its_session_is_acknowledged_in_step()
    {
        await using var rig = new IntakeRig();
        var listener = Loopback();
        await using var broker = await rig.StartBroker(listener, folder);

        for (var visit = 0; visit < 3; visit++)
        {
            await Publish(listener.Port, Topic, SubscriberTests.Numbered(visit * 10, 10), "-q", "1", "-c", "-i", "shelf-bridge");
        }

        await rig.Until(() => rig.Temperatures.Count == 30);
    }

    internal static ListenerOptions Loopback() => new() { Port = FreePort.Next() };

    private static string Text(int number) => number.ToString(CultureInfo.InvariantCulture);

    private static Task<string?> Check(BrokerAddress address) => BrokerCheck.TryAsync(address, TestContext.Current.CancellationToken);

    internal static async Task Publish(int port, string topic, IEnumerable<string> payloads, params string[] options)
    {
        string[] arguments = ["-h", "127.0.0.1", "-p", Text(port), "-t", topic, "-l", .. options];
        (await RunningProgram.Run("mosquitto_pub", arguments, string.Join('\n', payloads) + "\n")).Succeeded();
    }

    private static async Task<RunningProgram> Subscribe(int port, string filter)
    {
        var reader = RunningProgram.Start("stdbuf",
            ["-oL", "mosquitto_sub", "-h", "127.0.0.1", "-p", Text(port), "-d", "-v", "-t", filter]);
        await reader.Line("received SUBACK");
        return reader;
    }
}
