using Chamber.Testing;

namespace Chamber.Club.Tests.Homes;

/// <summary>A club is brought to another version, one program at a time, while readings come in. CHAMBER_OLD_CLUB is the program of the
/// version before; without it both are the same.</summary>
public sealed class UpgradeTests(ClubServer server, ITestOutputHelper output)
{
    private static readonly string Old = Environment.GetEnvironmentVariable("CHAMBER_OLD_CLUB") ?? SiloProcess.Club;

    [Fact]
    public async Task A_club_is_upgraded_one_silo_after_another_while_readings_come()
    {
        await using var homes = await StreamedHomes.Of(server);
        RunningProgram[] before = [await homes.Silo(Old), await homes.Silo(Old)];
        await using var intake = await SiloProcess.Intake(homes.Address, homes.Broker, Old, []);
        await homes.Send();
        await homes.UntilTold();
        await homes.Ask();
        var seconds = new List<double>();
        foreach (var silo in before)
        {
            await homes.Silo();
            var sending = homes.Send();
            silo.AskToStop();
            seconds.Add(await homes.Ask());
            Assert.Equal(0, (await silo.End()).ExitCode);
            seconds.Add(await homes.Ask());
            await sending;
        }

        var last = homes.Send();
        intake.AskToStop();
        await intake.End();
        await using var next = await SiloProcess.Intake(homes.Address, homes.Broker);
        await last;
        await homes.Send();
        await homes.Check();
        output.WriteLine($"All homes answered while two versions ran, {StreamedHomes.Spread(seconds)}");
    }
}
