using System.Globalization;
using Chamber.Testing;

namespace Chamber.Club.Tests.Homes;

/// <summary>Silos watch homes while numbered readings come in, and are killed one after another; CHAMBER_KILLS is how many.</summary>
public sealed class KilledSiloTests(ClubServer server, ITestOutputHelper output)
{
    private static readonly int Kills =
        int.Parse(Environment.GetEnvironmentVariable("CHAMBER_KILLS") ?? "2", CultureInfo.InvariantCulture);

    [Fact]
    public async Task Homes_of_killed_silos_go_on_at_others_and_tell_nothing_twice()
    {
        await using var homes = await StreamedHomes.Of(server);
        var silos = new Queue<RunningProgram>([await homes.Silo(), await homes.Silo()]);
        await using var intake = await SiloProcess.Intake(homes.Address, homes.Broker);
        await homes.Send();
        await homes.UntilTold();
        await homes.Ask();
        var seconds = new List<double>();
        for (var kill = 0; kill < Kills; kill++)
        {
            // The one that has been there longest: sooner or later it has every home.
            var sending = homes.Send();
            await silos.Dequeue().Kill();
            seconds.Add(await homes.Ask());
            await sending;
            silos.Enqueue(await homes.Silo());
        }

        output.WriteLine($"All homes answered after a silo was killed, {StreamedHomes.Spread(seconds)}");

        // As in a power cut.
        await Task.WhenAll(silos.Select(silo => silo.Kill()));
        var cut = TimeProvider.System.GetTimestamp();
        await homes.Silo();
        await homes.Ask();
        output.WriteLine($"All homes answered {TimeProvider.System.GetElapsedTime(cut).TotalSeconds:0.0} s after all silos were killed and one "
            + "was started.");
        await homes.Send();
        await homes.Check();
    }
}
