using Chamber.Club.Sharing;
using Chamber.Club.Store;
using Chamber.Club.Tests.Homes;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Facts;
using Chamber.Core.Facts.Batches;
using Chamber.Core.Facts.Probes;
using Chamber.Core.Facts.Spots;
using Chamber.Core.Forecasts.Together;
using Chamber.Storage.Moving;
using Chamber.Testing;
using Microsoft.Extensions.Time.Testing;
using NodaTime;
using Npgsql;

namespace Chamber.Club.Tests.Sharing;

/// <summary>Homes of a club that agree teach the others, and take it back. The homes are invented.</summary>
public sealed class ClubExperienceTests(ClubServer server) : IAsyncLifetime
{
    private static readonly Author Ana = new("Ana", WriteWay.Page);
    private static readonly string[] Names = ["mill-lane-4", "next-door", "new-here"];

    private readonly TempFolder folder = new();
    private readonly Instant now = SystemClock.Instance.GetCurrentInstant();
    private readonly int[] homes = new int[Names.Length];
    private string address = "";
    private ClubDatabase? club;

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    private ClubExperience Experience => new(club!);

    public async ValueTask InitializeAsync()
    {
        address = await server.Address();
        club = ClubDatabase.Open(address);
        for (var i = 0; i < Names.Length; i++)
        {
            homes[i] = await club.AddHomeAsync(Names[i], Stop);
        }

        await Grow(homes[0]);
        await Grow(homes[1]);
    }

    [Fact]
    public async Task Homes_that_agree_teach_the_others_until_they_take_it_back()
    {
        foreach (var name in Names[..2])
        {
            await Club("experience", "agree", name);
        }

        Assert.Contains("Gathered: 2 homes, 2 batches.", await Club("experience", "gather"), StringComparison.Ordinal);
        Assert.Equal((1, 2), ((await Experience.OthersAsync(homes[0], Stop)).Count, (await Experience.OthersAsync(homes[2], Stop)).Count));
        var others = await Experience.OthersAsync(homes[2], Stop);
        var newcomer = await ClubHomeContext.Unshown(club!.Home(homes[2]), new(club, homes[2]), new(SettingRows.Of(null), null),
            TimeProvider.System, () => SharedFit.Of(others, CropCatalog.Shipped)).ReadAsync(cancel: Stop);
        Assert.Equal((2, 2), (newcomer.Others!.Homes, newcomer.Others.Batches));

        var clock = new FakeTimeProvider();
        using var learned = new ClubLearned(club, clock);
        Assert.False(await learned.RebuildAsync(Stop));
        Assert.Equal((1, 1, 2), (await Taught(0), await Taught(1), await Taught(2)));
        Assert.Same(await learned.OfAsync(homes[2], Stop), await learned.OfAsync(homes[2], Stop));
        await Club("experience", "withdraw", Names[0]);
        clock.Advance(ClubLearned.Follows);
        Assert.Equal((1, 0, 1), (await Taught(0), await Taught(1), await Taught(2)));
        Assert.Single(await Experience.OthersAsync(homes[2], Stop));
        Assert.Null(await Experience.GatherAsync(homes[0], TimeProvider.System, Stop));
        var file = folder.File("theirs.json");
        await Club("experience", "write", file);
        Assert.Single(ExperienceFile.Read(await File.ReadAllTextAsync(file, Stop)).Homes);

        async Task<int> Taught(int home) => (await learned.OfAsync(homes[home], Stop))?.Homes ?? 0;
    }

    [Fact]
    public async Task What_was_learned_is_for_the_learner_alone()
    {
        await Experience.AgreeAsync(homes[0], Stop);
        await Experience.GatherAsync(homes[0], TimeProvider.System, Stop);
        using var learned = new ClubLearned(club!, TimeProvider.System);
        Assert.True(await learned.RebuildAsync(Stop));
        await using var source = NpgsqlDataSource.Create(address);
        foreach (var role in (string[])[HomeSession.HomeRole, HomeSession.KeeperRole, HomeSession.DoorRole, HomeSession.IntakeRole])
        {
            await using var session = await HomeSession.BeginAsync(source, role, homes[0], Stop);
            var refused = await Assert.ThrowsAsync<PostgresException>(
                () => session.RowsAsync("SELECT name FROM learned", row => row.GetString(0)));
            Assert.Equal(PostgresErrorCodes.InsufficientPrivilege, refused.SqlState);
        }
    }

    [Fact]
    public async Task What_is_given_tells_no_home_no_name_and_no_day()
    {
        await Experience.AgreeAsync(homes[0], Stop);
        Assert.Equal(1, await Experience.GatherAsync(homes[0], TimeProvider.System, Stop));
        await using var source = NpgsqlDataSource.Create(address);
        await using var learner = await HomeSession.BeginAsync(source, HomeSession.LearnerRole, null, Stop);
        var text = (await learner.RowsAsync("SELECT body::text FROM experience", row => row.GetString(0))).Single();
        foreach (var word in (string[])[Names[0], "own-corner", "T1", "Ana", $"{now.InUtc().Year}-"])
        {
            Assert.DoesNotContain(word, text, StringComparison.Ordinal);
        }

        var refused = await Assert.ThrowsAsync<PostgresException>(
            () => learner.RowsAsync("SELECT home FROM experience", row => row.GetInt32(0)));
        Assert.Equal(PostgresErrorCodes.InsufficientPrivilege, refused.SqlState);
    }

    public async ValueTask DisposeAsync()
    {
        await club!.DisposeAsync();
        folder.Dispose();
    }

    private async Task<string> Club(params string[] words) =>
        (await RunningProgram.Run(SiloProcess.Club, [.. words, "--database", address])).Succeeded();

    // Twelve tomato seeds at an even 24 °C that took somewhat longer than the table says.
    private async Task Grow(int home)
    {
        var sown = now - Duration.FromDays(20);
        var store = club!.Home(home);
        await store.WriteAsync(Ana, now, _ =>
        [
            new SpotSetUp(new("own-corner")).At(sown), new ProbeSetUp(new("soil"), Measurand.Media).At(sown),
            new ProbePlaced(new("soil"), new("own-corner")).At(sown),
            new BatchSown(new("T1"), new("tomato"), SowingMethod.CoveredMix, 12, Spot: new("own-corner")).At(sown),
            new BatchLooked(new("T1"), 0).At(sown + Duration.FromDays(6)), new BatchLooked(new("T1"), 5).At(sown + Duration.FromDays(9)),
            new BatchLooked(new("T1"), 10).At(sown + Duration.FromDays(12)), new BatchEnded(new("T1")).At(sown + Duration.FromDays(15)),
        ], Stop);
        await store.AppendAsync([.. Enumerable.Range(0, 16 * 24 * 4).Select(i => sown + Duration.FromMinutes(15 * i))
            .Select(at => new Reading(new("soil"), at, at, Temperature.FromCelsius(24)))], [], [], Stop);
    }
}
