using Chamber.Core.Forecasts.Learning;
using Chamber.Service.Configuration;
using Chamber.Service.Home;
using Chamber.Service.Home.Writing;
using Chamber.Service.Tests.Commands;
using Chamber.Storage;
using NodaTime;
using NodaTime.Text;

namespace Chamber.Service.Tests.Home;

/// <summary>What one question has read serves the next, and never for longer than it holds.</summary>
public sealed class HomeContextTests : IDisposable
{
    private readonly HomeRig rig = new();
    private readonly ChamberStore store;
    private readonly HomeContext context;

    public HomeContextTests()
    {
        store = ChamberStore.Open(rig.File("chamber.db"));
        context = new(store, new(), new DataDirectory(rig.Path), rig.Clock);
    }

    private Instant Now => Instant.FromDateTimeOffset(rig.Clock.GetUtcNow());

    public void Dispose()
    {
        store.Dispose();
        rig.Dispose();
    }

    [Fact]
    public void While_nothing_changes_everybody_reads_the_same_home()
    {
        var first = context.Read();

        Assert.Same(first, context.Read());
        Assert.NotSame(first, context.Read(Core.Climate.TemperatureScale.Fahrenheit));
    }

    [Fact]
    public void A_reader_grows_old()
    {
        var first = context.Read();
        rig.Clock.Advance((HomeContext.AgeMax + Duration.FromSeconds(1)).ToTimeSpan());

        Assert.NotSame(first, context.Read());
    }

    [Fact]
    public async Task What_the_command_line_writes_is_read_at_once()
    {
        Assert.Empty(context.Read().Spots());
        await rig.Do("spot add shelf --kind shelf --light dim");

        Assert.Single(context.Read().Spots());
    }

    [Fact]
    public void What_a_reader_writes_it_reads_back()
    {
        var home = context.Read();
        Assert.Empty(home.Spots());

        new HomeSpots(home, Now).Save(new Core.Spots.SpotId("shelf"), new SpotRequest(Core.Spots.SpotKind.Shelf));

        Assert.Single(home.Spots());
    }

    [Fact]
    public void A_reading_is_new_too()
    {
        var before = context.Read();
        store.Journal.Append([new(new("p1"), Now, Now, Core.Climate.Temperature.FromCelsius(21), null)], []);

        Assert.NotSame(before, context.Read());
    }

    [Fact]
    public void Crops_that_somebody_edits_are_read_again()
    {
        var before = context.Read().Catalog;
        rig.Write("crops.json", """{ "leek": { "coolLimit": "8C" } }""");

        Assert.NotSame(before, context.Read().Catalog);
    }

    [Fact]
    public async Task What_was_learned_is_kept_while_readings_come_in()
    {
        await Looked();
        var learned = Learned();
        Read(Now);

        Assert.Same(learned, Learned());
    }

    [Fact]
    public async Task A_late_reading_of_a_batch_is_learned_from()
    {
        await Looked();
        var learned = Learned();
        Read(Now - Duration.FromDays(3) + Duration.FromMinutes(7));

        Assert.NotSame(learned, Learned());
    }

    [Theory]
    [InlineData("look T1 7")]
    [InlineData("move T1 sill")]
    [InlineData("probe move p1 sill")]
    [InlineData("spot add shelf --kind refrigerator")]
    [InlineData("set-aside p1 --from 2027-02-26 --to 2027-02-27")]
    public async Task What_somebody_writes_of_it_is_learned_from(string line)
    {
        await Looked();
        var learned = Learned();
        rig.Clock.Advance(TimeSpan.FromMinutes(1));
        await rig.Do(line);

        Assert.NotSame(learned, Learned());
    }

    [Fact]
    public async Task A_note_of_something_else_does_not_make_it_learn_again()
    {
        await Looked();
        var learned = Learned();
        await rig.Do("maintenance shelf 2h");

        Assert.Same(learned, Learned());
    }

    [Fact]
    public async Task After_an_hour_it_is_learned_again()
    {
        await Looked();
        var learned = Learned();
        rig.Clock.Advance(TimeSpan.FromMinutes(61));

        Assert.NotSame(learned, Learned());
    }

    [Fact]
    public async Task What_was_known_at_another_time_is_never_what_is_known_now()
    {
        await Looked();
        var home = context.Read();

        Assert.Equal(1, home.AtNow.Forecasts.Knowledge.Batches);
        Assert.Equal(0, home.At(Now - Duration.FromDays(9)).Forecasts.Knowledge.Batches);
    }

    private HomeKnowledge Learned() => context.Read().AtNow.Forecasts.Knowledge;

    // A batch that was sown eight days ago and looked at a day ago, with readings every ten minutes until now.
    private async Task Looked()
    {
        await rig.Do(
            "spot add shelf --kind shelf --light dim",
            "spot add sill --kind sill --light bright",
            "probe add p1 --measures media",
            $"probe move p1 shelf --when {Text(Now - Duration.FromDays(12))}");
        for (var at = Now - Duration.FromDays(12); at < Now; at += Duration.FromMinutes(10))
        {
            Read(at);
        }

        await rig.Do($"sow tomato --seeds 12 --spot shelf --name T1 --when {Text(Now - Duration.FromDays(8))}",
            $"look T1 5 --when {Text(Now - Duration.FromDays(1))}");
    }

    private void Read(Instant at) => store.Journal.Append([new(new("p1"), at, at, Core.Climate.Temperature.FromCelsius(24), null)], []);

    private static string Text(Instant at) => InstantPattern.General.Format(at);
}
