using System.Globalization;

namespace Chamber.Club.Tests.Homes;

/// <summary>One of two silos hangs and comes back, or has too little of its machine. CHAMBER_FREEZES is how often it hangs.</summary>
public sealed class FrozenSiloTests(ClubServer server, ITestOutputHelper output)
{
    private static readonly int Freezes =
        int.Parse(Environment.GetEnvironmentVariable("CHAMBER_FREEZES") ?? "1", CultureInfo.InvariantCulture);

    private static readonly TimeSpan Stopped = TimeSpan.FromMilliseconds(350);
    private static readonly TimeSpan Running = TimeSpan.FromMilliseconds(50);

    [Fact]
    public async Task Homes_of_a_frozen_silo_answer_elsewhere_and_it_ends_itself()
    {
        await using var homes = await StreamedHomes.Of(server);
        var (hanging, steady) = (await homes.Silo(), await homes.Silo());
        await homes.Ask();
        var seconds = new List<double>();
        for (var freeze = 0; freeze < Freezes; freeze++)
        {
            hanging.Freeze();
            seconds.Add(await homes.Ask());
            Assert.False(hanging.HasExited);
            hanging.Thaw();
            await hanging.End();
            await homes.Ask();
            (hanging, steady) = (steady, await homes.Silo());
        }

        output.WriteLine($"All homes answered after a silo froze, {StreamedHomes.Spread(seconds)}");
    }

    // It runs an eighth of the time, in short spells, so that it answers late and not never.
    [Fact]
    public async Task Homes_answer_and_lose_nothing_while_one_of_two_silos_is_slow()
    {
        await using var homes = await StreamedHomes.Of(server);
        var (slow, _) = (await homes.Silo(), await homes.Silo());
        await using var intake = await SiloProcess.Intake(homes.Address, homes.Broker);
        await homes.Ask();
        var seconds = new List<double>();
        await using (slow.Hobble(Stopped, Running))
        {
            await homes.Send();
            await homes.UntilTold();
            seconds.Add(await homes.Ask());
            await homes.Send();
            seconds.Add(await homes.Ask());
        }

        await homes.Check();
        output.WriteLine($"All homes answered while a silo had an eighth of its time, {StreamedHomes.Spread(seconds)}; "
            + $"it {(slow.HasExited ? "was taken for dead" : "went on")}.");
    }
}
