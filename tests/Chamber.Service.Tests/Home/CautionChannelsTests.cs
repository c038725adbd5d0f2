using System.Text.RegularExpressions;
using Chamber.Core.Alerts;
using Chamber.Core.Alerts.Conditions;
using Chamber.Core.Cautions;
using Chamber.Core.Crops;
using Chamber.Core.Spots;
using Chamber.Service.Configuration;
using Chamber.Service.Home;
using Chamber.Service.Home.Watching;
using Chamber.Service.Notify;
using Chamber.Service.Tests.Commands;
using Chamber.Service.Workers;
using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Tests.Home;

/// <summary>The same caution on the command line, in notices and in the digest; the page and the API are asked in
/// <c>CautionPagesTests</c>. Hours of soaking are the catalog's.</summary>
public sealed partial class CautionChannelsTests : IDisposable
{
    private readonly HomeRig home = new();

    public static TheoryData<SpotKind> Kinds => [.. Enum.GetValues<SpotKind>()];

    public static TheoryData<string> Alerts => [.. ConditionRegistry.Kinds.Except([AlertKind.ClockWrong]).Select(kind => kind.Name)];

    public void Dispose() => home.Dispose();

    [Theory]
    [MemberData(nameof(Kinds))]
    public async Task Every_kind_of_spot_shows_all_its_cautions_first_and_a_line_later(SpotKind kind)
    {
        var own = CautionRules.Of(kind)[0];
        var setUp = await Said("spot", "add", "place", "--kind", Choice.Word(kind));
        Assert.All(CautionRules.Of(kind), caution => Assert.Contains($"Caution: {caution.Full}", setUp, StringComparison.Ordinal));
        Assert.Contains(CautionText.Deference, setUp, StringComparison.Ordinal);

        var line = $"Caution: {own.Line} (More: chamber cautions {own.Name})";
        Assert.Contains(line, await Said("probe", "add", "p1", "--spot", "place"), StringComparison.Ordinal);
        Assert.Contains(line, await Said("probe", "move", "p1", "place"), StringComparison.Ordinal);
        Assert.Contains(line, await Said("spots", "--spot", "place"), StringComparison.Ordinal);
        Assert.Contains($"Caution: {own.Full}", await Said("sow", "radish", "--seeds", "9", "--spot", "place"), StringComparison.Ordinal);
        Assert.Contains(own.Full, await Said("cautions", own.Name), StringComparison.Ordinal);
        Assert.Equal(own.Full, (await home.Json("cautions", own.Name))[0].GetProperty("full").GetString());
    }

    [Theory]
    [MemberData(nameof(Alerts))]
    public async Task Every_alert_that_sends_a_hand_carries_its_caution_on_every_channel(string kind)
    {
        await home.Do("spot add mat --kind heat-mat", "probe add p1 --spot mat", "lot add okra-1 --crop okra --seeds 40 --treated",
            "sow okra --seeds 9 --spot mat --lot okra-1 --name K1");
        var (subject, name) = kind switch
        {
            nameof(AlertKind.NothingHeard) => (SubjectKind.Home, "home"),
            nameof(AlertKind.SilentProbe) or nameof(AlertKind.WeakBattery) or nameof(AlertKind.FaultyProbe) => (SubjectKind.Probe, "p1"),
            nameof(AlertKind.LookNow) or nameof(AlertKind.StopWaiting) or nameof(AlertKind.CoverShut) or nameof(AlertKind.WarmAndDark) =>
                (SubjectKind.Batch, "K1"),
            _ => (SubjectKind.Spot, "mat"),
        };
        using var store = ChamberStore.Open(Path.Combine(home.Path, "chamber.db"));
        var number = store.Ledger.Alerts.Save(new AlertEntry(0, new(kind), new(subject, name), Severity.Danger, Now, Now, "{}"));

        var own = kind == nameof(AlertKind.NothingHeard) ? CautionBook.PowerCut : CautionBook.HeatMat;
        IReadOnlyList<Caution> expected = subject == SubjectKind.Batch ? [own, CautionBook.TreatedSeed] : [own];
        var reader = new HomeReader(store.Home, store.Records, CropCatalog.Shipped, DateTimeZone.Utc) { Now = Now };
        var alert = AlertRecords.ToAlert(store.Ledger.Alerts.Find(number)!)!;
        var words = ConditionRegistry.InWords(alert, reader.Facts(), new(false, DateTimeZone.Utc));
        var composer = new NoticeComposer(NoticeTemplates.Load(new DataDirectory(home.Path)), () => null, DateTimeZone.Utc);
        var (opened, again) = (composer.Of(NoticeForm.AlertOpened, alert, words, "a", unseen: false, Now).Body,
            composer.Of(NoticeForm.AlertAgain, alert, words, "b", unseen: true, Now).Body);
        var (told, listed) = (await Said("alerts"), HomeDigest.Of(reader, Now).Alerts);
        foreach (var caution in expected)
        {
            var shown = words.Cautions.Single(one => one.Caution == caution).Text;
            Assert.Contains(shown, opened, StringComparison.Ordinal);
            Assert.Contains(shown, told, StringComparison.Ordinal);
            Assert.Contains(shown, AlertMessage.Of(alert, words).Caution, StringComparison.Ordinal);
            Assert.Contains(caution.Line, again, StringComparison.Ordinal);
            Assert.Contains(caution.Line, listed, StringComparison.Ordinal);
            Assert.Matches($"More: chamber cautions [a-z -]*{caution.Name}", again);
            Assert.Matches($"More: chamber cautions [a-z -]*{caution.Name}", listed);
        }
    }

    [Fact]
    public async Task An_alert_that_somebody_has_seen_keeps_a_line()
    {
        await home.Do("spot add mat --kind heat-mat");
        using var store = ChamberStore.Open(Path.Combine(home.Path, "chamber.db"));
        store.Ledger.Alerts.Save(
            new AlertEntry(0, AlertKind.TooWet, new(SubjectKind.Spot, "mat"), Severity.Warning, Now, Now, "{}"));
        await home.Do("alerts seen 1 --by Ada");
        var seen = await Said("alerts");
        Assert.DoesNotContain(CautionBook.HeatMat.Full, seen, StringComparison.Ordinal);
        Assert.Contains($"Caution: {CautionBook.HeatMat.Line} {CautionBook.WaterAndMains.Line} (More: chamber cautions heat-mat "
            + $"water-and-mains)", seen, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_treated_lot_is_cautioned_when_kept_sown_and_tested_and_never_soaked()
    {
        await home.Do("spot add shelf --kind shelf --light dim");
        var whole = $"Caution: {CautionBook.TreatedSeed.Full}";
        Assert.Contains(whole, await Said("lot", "add", "okra-1", "--crop", "okra", "--seeds", "60", "--treated"),
            StringComparison.Ordinal);
        Assert.Contains(whole, await Said("lot", "show", "okra-1"), StringComparison.Ordinal);
        var sown = await Said("sow", "okra", "--seeds", "9", "--spot", "shelf", "--lot", "okra-1");
        Assert.Contains(whole, sown, StringComparison.Ordinal);
        Assert.Contains("sow it as it is", sown, StringComparison.Ordinal);
        Assert.DoesNotContain("soak 12", sown, StringComparison.Ordinal);
        Assert.Contains("soak 12", await Said("sow", "okra", "--seeds", "9", "--spot", "shelf"), StringComparison.Ordinal);

        Assert.DoesNotContain("on a towel", await Said("test", "plan", "okra-1"), StringComparison.Ordinal);
        Assert.Contains(whole, await Said("test", "start", "okra-1", "--spot", "shelf", "--seeds", "10"), StringComparison.Ordinal);
        Assert.Equal("coveredMix", (await home.Json("batches"))[2].GetProperty("method").GetString());
    }

    [Theory]
    [InlineData("sweet-pea", "seed and pods are poisonous")]
    [InlineData("tomato", "leaves and stems are poisonous")]
    [InlineData("bean-snap", "raw seed is poisonous")]
    public async Task A_poisonous_crop_is_cautioned_when_sown_kept_and_asked_about(string crop, string words)
    {
        await home.Do("spot add shelf --kind shelf");
        var whole = $"Caution: {PoisonCaution.Of(CropCatalog.Shipped.Require(crop)).First().Full}";
        Assert.Contains(words, whole, StringComparison.Ordinal);
        Assert.Contains(whole, await Said("sow", crop, "--seeds", "9", "--spot", "shelf"), StringComparison.Ordinal);
        Assert.Contains(whole, await Said("lot", "add", "x-1", "--crop", crop, "--seeds", "9"), StringComparison.Ordinal);
        Assert.Contains(whole, await Said("crops", crop), StringComparison.Ordinal);
        Assert.Contains(whole["Caution: ".Length..], await Said("cautions", $"crop-{crop}"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_crop_of_ones_own_asks_whether_it_is_poisonous()
    {
        home.Write("crops.json",
            """{ "mine": { "basedOn": "radish" }, "yours": { "basedOn": "radish", "poisonous": "the leaf is poisonous" } }""");
        await home.Do("spot add shelf --kind shelf");
        Assert.Contains($"Caution: {CautionBook.PoisonUnknown.Full}", await Said("sow", "mine", "--seeds", "9", "--spot", "shelf"),
            StringComparison.Ordinal);
        Assert.Contains("Caution: Yours: the leaf is poisonous. Keep it from children and pets",
            await Said("sow", "yours", "--seeds", "9", "--spot", "shelf"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Mould_is_cautioned_when_it_is_written_down()
    {
        await home.Do("spot add shelf --kind shelf", "sow radish --seeds 9 --spot shelf --name R1");
        var whole = $"Caution: {CautionBook.Mould.Full}";
        Assert.DoesNotContain(whole, await Said("look", "R1", "2", "--note", "dry"), StringComparison.Ordinal);
        home.Clock.Advance(TimeSpan.FromHours(1));
        Assert.Contains(whole, await Said("look", "R1", "3", "--note", "one mouldy"), StringComparison.Ordinal);
        Assert.Contains(whole, await Said("loss", "R1", "1", "--to", "mould"), StringComparison.Ordinal);
        home.Clock.Advance(TimeSpan.FromHours(1));
        Assert.DoesNotContain(whole, await Said("loss", "R1", "1", "--to", "cold"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_program_gets_the_cautions_that_people_read()
    {
        await home.Do("lot add okra-1 --crop okra --seeds 60 --treated");
        Assert.Equal(["heat-mat", "water-and-mains"], (await Names("spot", "add", "mat", "--kind", "heat-mat")).Take(2));
        Assert.Equal(["heat-mat"], await Names("probe", "add", "p1", "--spot", "mat"));
        Assert.Equal(["heat-mat"], await Names("probe", "move", "p1", "mat"));
        Assert.Empty(await Names("probe", "add", "p2"));
        Assert.Equal(["treated-seed", "heat-mat"],
            (await Names("sow", "okra", "--seeds", "9", "--spot", "mat", "--lot", "okra-1", "--name", "K1")).Take(2));
        Assert.Contains("treated-seed", await Names("test", "start", "okra-1", "--spot", "mat", "--seeds", "9"));
        home.Clock.Advance(TimeSpan.FromHours(1));
        Assert.Empty(await Names("look", "K1", "1", "--note", "dry"));
        home.Clock.Advance(TimeSpan.FromHours(1));
        Assert.Equal(["mould"], await Names("look", "K1", "2", "--note", "one mouldy"));
        Assert.Equal(["mould"], await Names("loss", "K1", "1", "--to", "mould"));
        Assert.Equal(["crop-sweet-pea"], await Names("crops", "sweet-pea"));
        Assert.Equal($"Caution: {CautionBook.HeatMat.Line}",
            (await home.Json("spots", "--crop", "okra"))[0].GetProperty("cautionLine").GetString());
        Assert.Equal("", (await home.Json("place", "tomato"))[0].GetProperty("cautionLine").GetString());
    }

    [Fact]
    public async Task What_two_alerts_say_alike_stands_in_full_once()
    {
        await home.Do("spot add mat --kind heat-mat");
        using var store = ChamberStore.Open(Path.Combine(home.Path, "chamber.db"));
        foreach (var kind in (AlertKind[])[AlertKind.TooWet, AlertKind.TooHot])
        {
            store.Ledger.Alerts.Save(new AlertEntry(0, kind, new(SubjectKind.Spot, "mat"), Severity.Warning, Now, Now, "{}"));
        }

        var told = await Said("alerts");
        Assert.Equal(2, told.Split(CautionBook.HeatMat.Full).Length);
        Assert.Contains($"Caution: {CautionBook.HeatMat.Line} (More: chamber cautions heat-mat)", told, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_caution_that_is_not_there_is_refused_with_where_all_are() =>
        Assert.Equal("chamber: There is no caution \"mat\". All of them: chamber cautions", await home.Refusal("cautions", "mat"));

    private Instant Now => Instant.FromDateTimeOffset(home.Clock.GetUtcNow());

    private async Task<List<string>> Names(params string[] arguments) =>
        [.. (await home.Json(arguments)).GetProperty("cautions").EnumerateArray().Select(one => one.GetProperty("name").GetString()!)];

    // As a person reads it: where a line is broken does not matter.
    private async Task<string> Said(params string[] arguments)
    {
        var outcome = await home.Run(arguments);
        Assert.True(outcome.Code == 0, outcome.Error);
        return Blanks().Replace(outcome.Out, " ");
    }

    [GeneratedRegex(@"\s+")]
    private static partial Regex Blanks();
}
