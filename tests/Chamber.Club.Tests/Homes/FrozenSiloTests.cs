using Chamber.Club.Homes;
using Chamber.Club.Store;
using Chamber.Core.Facts;
using Chamber.Core.Facts.Spots;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;

namespace Chamber.Club.Tests.Homes;

/// <summary>One of two silos hangs and comes back. Homes are invented.</summary>
public sealed class FrozenSiloTests(ClubServer server, ITestOutputHelper output)
{
    private const int Homes = 12;

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Homes_of_a_frozen_silo_answer_elsewhere_and_it_ends_itself()
    {
        var address = await server.Address();
        await using var club = ClubDatabase.Open(address);
        for (var number = 1; number <= Homes; number++)
        {
            var at = SystemClock.Instance.GetCurrentInstant();
            await club.Home(await club.AddHomeAsync(FormattableString.Invariant($"mill-lane-{number}"), Stop)).WriteAsync(
                new("Ana", WriteWay.Page), at, _ => [new SpotSetUp(new("shelf")).At(at)], Stop);
        }

        await using var hanging = await SiloProcess.Silo(address);
        await using var steady = await SiloProcess.Silo(address);
        using var asking = SiloHost.Client(address);
        await asking.StartAsync(Stop);
        var grains = Enumerable.Range(1, Homes).Select(home => asking.Services.GetRequiredService<IGrainFactory>()
            .GetGrain<IHomeGrain>(home)).ToArray();
        await Ask();

        hanging.Freeze();
        var frozen = TimeProvider.System.GetTimestamp();
        await Ask();
        output.WriteLine($"All homes answered {TimeProvider.System.GetElapsedTime(frozen).TotalSeconds:0.0} s after one silo had frozen.");
        Assert.False(hanging.HasExited);

        hanging.Thaw();
        await hanging.End();
        await Ask();

        Task Ask() => Task.WhenAll(grains.Select(async grain =>
        {
            var shown = await HomeAsking.UntilAnsweredAsync(grain, one => one.ShowAsync(), Stop);
            Assert.Equal("shelf", Assert.Single(shown.Spots).Spot);
        }));
    }
}
