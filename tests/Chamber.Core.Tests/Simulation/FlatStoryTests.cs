using Chamber.Core.Crops;
using Chamber.Core.Seeds;
using Chamber.Core.Simulation;
using NodaTime;

namespace Chamber.Core.Tests.Simulation;

/// <summary>The invented flat keeps to its own story.</summary>
public sealed class FlatStoryTests
{
    private static readonly Instant Opens = Instant.FromUtc(2026, 2, 20, 15, 0);
    private static readonly Lazy<List<FlatMinute>> Story = new(() => Tell(7, FlatStory.History));

    [Fact]
    public void The_same_seed_tells_the_same_story()
    {
        var first = Story.Value.Take(2000).SelectMany(minute => minute.Said);

        Assert.Equal(first, Tell(7, Duration.FromMinutes(2000)).SelectMany(minute => minute.Said));
    }

    [Fact]
    public void Nine_probes_on_six_spots_speak_as_often_as_they_should()
    {
        var counts = Story.Value.SelectMany(minute => minute.Said).CountBy(said => said.Probe.Text).ToDictionary();

        Assert.Equal(6, SharedFlat.Spots.Count);
        Assert.Equal(9, counts.Count);
        Assert.Equal(14 * 1440, counts["mat-mix"]);
        Assert.Equal(14 * 720, counts["boiler-mix"]);
    }

    [Fact]
    public void Nothing_treated_is_kept_or_sown()
    {
        var lots = FlatSeedBox.Lots(Opens, 2026);
        Assert.All(lots, lot => Assert.False(lot.Treated, lot.Id.Text));
        var grown = FlatGrownBatches.Of(Opens).Select(batch => batch.Lot);
        var sown = SharedFlat.Batches.Select(batch => batch.Lot).Concat(grown).OfType<LotId>().ToList();
        Assert.NotEmpty(sown);
        Assert.All(sown, lot => Assert.Contains(lots, known => known.Id == lot));
    }

    [Fact]
    public void One_probe_begins_to_fail_and_only_that_one()
    {
        var failed = Story.Value.SelectMany(minute => minute.Said).Where(said => said.Celsius is 85 or -127).ToList();

        Assert.All(failed, said => Assert.Equal("freezer-mix", said.Probe.Text));
        Assert.All(failed, said => Assert.True(said.At > Opens - Duration.FromDays(3.1)));
        Assert.InRange(failed.Count, 100, 3000);
        Assert.Contains(failed, said => said.Celsius == 85);
    }

    [Fact]
    public void One_probe_goes_silent_a_day_before_the_viewer_comes()
    {
        var last = Story.Value.SelectMany(minute => minute.Said).Last(said => said.Probe.Text == "sill-air");

        Assert.InRange((Opens - last.At).TotalHours, 23.9, 24.2);
        Assert.True(last.BatteryPercent < 5);
    }

    [Fact]
    public void Counts_of_a_batch_never_fall_and_never_pass_its_seeds()
    {
        foreach (var batch in SharedFlat.Batches)
        {
            var counts = Looks(batch.Id.Text);
            Assert.Equal(counts.Order(), counts);
            Assert.All(counts, count => Assert.InRange(count, 0, batch.Seeds));
        }
    }

    [Fact]
    public void Batches_stand_in_every_stage()
    {
        Assert.Empty(Looks("S1"));
        Assert.Equal(0, Looks("L1").LastOrDefault());
        Assert.InRange(Looks("B1")[^1], 1, 19);
        Assert.True(Looks("T1")[^1] >= 6);
        Assert.NotNull(SharedFlat.Batches.Single(batch => batch.Id.Text == "R1").Ended);
    }

    private static List<int> Looks(string batch) =>
        [.. Story.Value.SelectMany(minute => minute.Looks).Where(look => look.Batch.Text == batch).Select(look => look.Look.Up)];

    private static List<FlatMinute> Tell(int seed, Duration howLong)
    {
        var story = new FlatStory(Opens, DateTimeZoneProviders.Tzdb["Europe/Berlin"], seed, CropCatalog.Shipped);
        return [.. Enumerable.Range(0, (int)howLong.TotalMinutes).Select(_ => story.Next())];
    }
}
