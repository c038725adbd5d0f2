using Chamber.Club.People;
using Chamber.Club.Store;
using Chamber.Club.Tests.Homes;
using Chamber.Testing;

namespace Chamber.Club.Tests.Pages;

/// <summary>Accounts of sensors, at a real Mosquitto that reads the files which the program has written.</summary>
public sealed class SensorTests(ClubServer server)
{
    private const string Intake = "intake";
    private const string Password = "a password of the intake's";

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_sensor_publishes_its_own_readings_and_reads_nothing()
    {
        var address = await server.Address();
        await using var club = ClubDatabase.Open(address);
        var (mill, weir) = (await club.AddHomeAsync("mill-lane-4", Stop), await club.AddHomeAsync("weir-house", Stop));
        var sensors = new Sensors(club);
        var shelf = await sensors.AddAsync(mill, "mill-lane-4", "shelf", false, Stop);
        var bridge = await sensors.AddAsync(mill, "mill-lane-4", "flat", true, Stop);
        var other = await sensors.AddAsync(weir, "weir-house", "shelf", false, Stop);
        var gone = await sensors.AddAsync(weir, "weir-house", "attic", false, Stop);
        await sensors.RemoveAsync(weir, "attic", Stop);
        using var folder = new TempFolder();
        (await RunningProgram.Run(SiloProcess.Club, ["sensor", "files", "--passwords", folder.File("passwords"), "--access",
            folder.File("access"), "--broker-user", Intake, "--broker-password-file", folder.Write("password", Password + "\n"),
            "--database", address])).Succeeded();
        await using var broker = await Mosquitto.Start(own =>
        [
            "allow_anonymous false", "log_type all", "user root",
            $"password_file {own.Write("passwords", File.ReadAllText(folder.File("passwords")))}",
            $"acl_file {own.Write("access", File.ReadAllText(folder.File("access")))}",
        ]);
        await using var intake = await broker.Subscribe("homes/#", 1, "-u", Intake, "-P", Password, "-i", "receiver");
        await using var spy = await broker.Subscribe("#", 1, "-u", shelf.User, "-P", shelf.Password, "-i", "spy");

        await using var home = await broker.Subscribe("confirmed/#", 1, "-u", bridge.User, "-P", bridge.Password, "-i", "home");

        await Confirm("confirmed/weir-house", "to another home");
        await Confirm("confirmed/mill-lane-4", "to this one");
        await home.Line("to this one");
        await Publish(shelf, "homes/weir-house/chamber/shelf/reading", "into another home");
        await Publish(shelf, "homes/mill-lane-4/chamber/sill/reading", "as another probe");
        await Publish(bridge, "homes/weir-house/chamber/shelf/reading", "a bridge into another home");
        await Publish(shelf, shelf.Topic, "its own");
        await Publish(bridge, "homes/mill-lane-4/chamber/sill/reading", "a bridge at home");
        await Publish(other, other.Topic, "the last one");
        await intake.Line("the last one");

        Assert.Equal(["its own", "a bridge at home", "the last one"],
            intake.Output.Split('\n').Where(line => line.StartsWith("homes/", StringComparison.Ordinal))
                .Select(line => line.Split(' ', 2)[1]));
        Assert.DoesNotContain("to another home", home.Output, StringComparison.Ordinal);
        Assert.Contains("Sending PUBLISH to receiver", broker.Log, StringComparison.Ordinal);
        Assert.DoesNotContain("Sending PUBLISH to spy", broker.Log, StringComparison.Ordinal);
        await Assert.ThrowsAnyAsync<Exception>(() => Publish(gone, gone.Topic, "shut out"));
        await Assert.ThrowsAnyAsync<Exception>(() => Publish(shelf with { Password = "guess" }, shelf.Topic, "a guess"));

        Task Confirm(string topic, string text) => broker.Publish(topic, text, 1, false, "-u", Intake, "-P", Password);

        Task Publish(LetIn account, string topic, string text) => broker.Publish(topic, text, 1, false, "-u", account.User, "-P",
            account.Password);
    }
}
