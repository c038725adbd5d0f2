using Chamber.Club.Moving;
using Chamber.Club.Store;
using Chamber.Core.Alerts;
using Chamber.Core.Facts;
using Chamber.Core.Facts.Spots;
using Chamber.Service.Tests.Storage;
using Chamber.Storage.Moving;
using Chamber.Testing;
using NodaTime;

namespace Chamber.Club.Tests.Moving;

/// <summary>A home goes into a club and out again by a folder; that its answers are the same is asked where there are answers, in the tests
/// of the service. The home is invented.</summary>
public sealed class HomeMoveTests(ClubServer server) : IAsyncLifetime
{
    private static readonly Author Ana = new("Ana", WriteWay.Page);
    private readonly TempFolder folder = new();
    private ClubDatabase? club;

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    private string Taken => folder.File("taken");

    public async ValueTask InitializeAsync() => club = await server.Database();

    [Fact]
    public async Task A_home_comes_out_byte_for_byte_as_it_went_in()
    {
        await MakeFolder();
        File.WriteAllText(Path.Combine(Taken, HomeFolder.Crops), """{"crops": []}""");
        Directory.CreateDirectory(Path.Combine(Taken, HomeFolder.Photos));
        File.WriteAllBytes(Path.Combine(Taken, HomeFolder.Photos, "00112233445566778899.jpg"), [0xFF, 0xD8, 0, 1, 0xFF, 0xD9]);

        var moved = await HomeMove.ImportAsync(club!, "mill-lane-4", Taken, Stop);
        await HomeMove.ImportAsync(club!, "next-door", Taken, Stop);
        var other = folder.File("out");
        await HomeMove.ExportAsync(club!, "mill-lane-4", other, Stop);

        Assert.Equal((3, 181L, 3), (moved.Entries, moved.Readings, moved.Parts.Count));
        Assert.Equal(Contents(Taken), Contents(other));
    }

    [Fact]
    public async Task Taken_in_twice_it_is_there_once()
    {
        await MakeFolder();
        await HomeMove.ImportAsync(club!, "mill-lane-4", Taken, Stop);
        var again = await HomeMove.ImportAsync(club!, "mill-lane-4", Taken, Stop);
        Assert.Equal((3, 0L), (again.Entries, again.Readings));
    }

    [Fact]
    public async Task A_home_that_holds_something_else_is_left_alone()
    {
        await MakeFolder();
        var store = club!.Home(await club.AddHomeAsync("mill-lane-4", Stop));
        await store.WriteAsync(Ana, DataFile.Start, _ => [new SpotSetUp(new("sill")).At(DataFile.Start)], Stop);
        var refused = await Assert.ThrowsAsync<FormatException>(() => HomeMove.ImportAsync(club, "mill-lane-4", Taken, Stop));
        Assert.Contains("mill-lane-4 already", refused.Message, StringComparison.Ordinal);
        Assert.Empty(await store.ProbesAsync(Stop));
    }

    [Fact]
    public async Task What_is_no_part_of_a_home_is_named_and_a_torn_line_too()
    {
        await MakeFolder();
        File.WriteAllText(Path.Combine(Taken, "notes.txt"), "");
        Assert.Equal(["notes.txt"], (await HomeMove.ImportAsync(club!, "mill-lane-4", Taken, Stop)).Strange);
        File.AppendAllText(Path.Combine(Taken, HomeFolder.Readings), "shelf,yesterday\r\n");
        var torn = await Assert.ThrowsAsync<FormatException>(() => HomeMove.ImportAsync(club!, "next-door", Taken, Stop));
        Assert.Contains("readings.csv line 183", torn.Message, StringComparison.Ordinal);
    }

    public async ValueTask DisposeAsync()
    {
        await club!.DisposeAsync();
        folder.Dispose();
    }

    private async Task MakeFolder()
    {
        Directory.CreateDirectory(Taken);
        using var file = new DataFile();
        using var store = file.Open();
        var shelf = new SpotSetUp(new("shelf")).At(DataFile.Start);
        var probe = new Core.Facts.Probes.ProbeSetUp(new("old")).At(DataFile.Start);
        var renamed = new Core.Facts.Probes.ProbeRenamed(new("old"), new("new")).At(DataFile.Start);
        await store.Home.WriteAsync(Ana, DataFile.Start, _ => [shelf, probe, renamed], Stop);
        await store.Home.AppendAsync([.. DataFile.Minutes(0, 120), .. DataFile.Minutes(10, 60, "new"),
            DataFile.At(3.00001, 20.1 + 0.2, "new")], [], [], Stop);
        await HomeFolder.WriteFactsAsync(Taken, store.Home, Stop);
        await HomeFolder.WriteReadingsAsync(Taken, store.Home, _ => { }, Stop);
        HomeFolder.WriteUnheard(Taken, [new(new(DataFile.Start, DataFile.Start + Duration.FromHours(1)), OutageCause.Broker)]);
    }

    private static Dictionary<string, string> Contents(string folder) => Directory
        .EnumerateFiles(folder, "*", SearchOption.AllDirectories)
        .ToDictionary(file => Path.GetRelativePath(folder, file), file => Convert.ToBase64String(File.ReadAllBytes(file)));
}
