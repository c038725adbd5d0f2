using System.Globalization;
using Chamber.Testing;

namespace Chamber.Club.Tests.Homes;

/// <summary>Two silos that no longer reach each other, though both reach the database, the broker and whoever asks: Orleans' membership
/// decides by the database which of them goes on.</summary>
public sealed class SplitTests(ClubServer server, ITestOutputHelper output)
{
    [Fact]
    public async Task Of_two_silos_that_are_split_one_goes_on_and_one_ends_itself()
    {
        await using var homes = await StreamedHomes.Of(server);
        int[] ports = [FreePort.Next(), FreePort.Next()];
        SlowWire[] wires = [new(ports[0]), new(ports[1])];
        var silos = new List<RunningProgram>();
        foreach (var (wire, port) in wires.Zip(ports))
        {
            silos.Add(await homes.Silo(null, "--silo-port", Text(wire.Port), "--listen-port", Text(port)));
        }

        await using var intake = await SiloProcess.Intake(homes.Address, homes.Broker);
        await homes.Send();
        await homes.UntilTold();
        await homes.Ask();

        var sending = homes.Send();
        foreach (var wire in wires)
        {
            await wire.DisposeAsync();
        }

        var split = TimeProvider.System.GetTimestamp();
        await Wait.Until("the end of one silo", () => silos.Exists(silo => silo.HasExited));
        await homes.Ask();
        output.WriteLine($"One had ended and all homes answered {TimeProvider.System.GetElapsedTime(split).TotalSeconds:0.0} s after the split.");
        await sending;
        await homes.Send();
        await homes.Check();
        Assert.Single(silos, silo => silo.HasExited);
    }

    private static string Text(int number) => number.ToString(CultureInfo.InvariantCulture);
}
