using Chamber.Core.Alerts;
using Chamber.Core.Alerts.Conditions;
using Chamber.Core.Batches;
using Chamber.Core.Cautions;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Tests.Alerts;

/// <summary>Wherever an alert sends a hand, the caution of that place goes with it.</summary>
public sealed class AlertCautionsTests
{
    public static MatrixTheoryData<string, SpotKind> Locations => new(
        ConditionRegistry.Kinds.Except([AlertKind.ClockWrong, AlertKind.NothingHeard]).Select(kind => kind.Name),
            Enum.GetValues<SpotKind>());

    [Theory]
    [MemberData(nameof(Locations))]
    public void Every_alert_that_sends_a_hand_to_a_spot_carries_the_spots_caution(string kind, SpotKind place)
    {
        foreach (var subject in (AlertSubject[])[AlertSubject.Of(new SpotId("place")), AlertSubject.Of(new Core.Climate.ProbeId("p1")),
            AlertSubject.Of(new BatchId("T3"))])
        {
            var text = Text(new(kind), subject, Home(place));
            Assert.Contains(text.Cautions, shown => shown.Caution == CautionRules.Of(place)[0]);
            Assert.Contains(CautionRules.Of(place)[0].Line, text.CautionLine, StringComparison.Ordinal);
            Assert.Equal(CautionText.Of(text.Cautions), text.Caution);
            Assert.StartsWith(CautionText.Mark, text.Caution, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void Danger_says_out_first_and_in_a_boiler_cupboard_what_gas_asks()
    {
        var boiler = Text(AlertKind.Hazard, Location, Home(SpotKind.BoilerCupboard), Severity.Danger).Cautions.Where(shown => shown.InFull)
            .Select(shown => shown.Caution).ToList();
        Assert.Equal([CautionBook.Fire, CautionBook.Gas, CautionBook.BoilerCupboard, CautionBook.Scalds], boiler);
        var mat = Text(AlertKind.Hazard, Location, Home(SpotKind.HeatMat), Severity.Danger).Cautions.Select(shown => shown.Caution)
            .ToList();
        Assert.Equal([CautionBook.Fire, CautionBook.HeatMat], mat);
        Assert.DoesNotContain(Text(AlertKind.Hazard, Location, Home(SpotKind.HeatMat), Severity.Urgent).Cautions,
            shown => shown.Caution == CautionBook.Fire);
    }

    [Theory]
    [InlineData(nameof(AlertKind.TooWet), "water-and-mains")]
    [InlineData(nameof(AlertKind.WeakBattery), "batteries")]
    [InlineData(nameof(AlertKind.SilentProbe), "batteries")]
    [InlineData(nameof(AlertKind.FaultyProbe), "batteries")]
    public void Water_and_batteries_have_their_own(string kind, string caution) =>
        Assert.Contains(Text(new(kind), Location, Home(SpotKind.Sill)).Cautions, shown => shown.Caution.Name == caution && shown.InFull);

    [Fact]
    public void Silence_of_all_asks_for_dry_hands_and_the_qualified() =>
        Assert.Equal([ShownCaution.Whole(CautionBook.PowerCut)],
            Text(AlertKind.NothingHeard, AlertSubject.Home, Home(SpotKind.Sill)).Cautions);

    [Fact]
    public void What_sends_no_hand_has_none()
    {
        Assert.Equal("", Text(AlertKind.ClockWrong, AlertSubject.Of(new Core.Climate.ProbeId("p1")), Home(SpotKind.HeatMat)).Caution);
        Assert.Equal("", Text(AlertKind.Drifting, AlertSubject.Home, Home(SpotKind.HeatMat)).Caution);
    }

    [Fact]
    public void A_place_that_nobody_named_is_told_of_water_and_mains() =>
        Assert.Equal([CautionBook.WaterAndMains],
            Text(AlertKind.TooCold, AlertSubject.Of(new Core.Climate.ProbeId("stray")), Home(SpotKind.Sill)).Cautions.Select(
            shown => shown.Caution));

    [Theory]
    [InlineData(nameof(AlertKind.LookNow), false)]
    [InlineData(nameof(AlertKind.WarmAndDark), false)]
    [InlineData(nameof(AlertKind.StopWaiting), true)]
    [InlineData(nameof(AlertKind.CoverShut), true)]
    public void A_treated_lot_is_told_and_whole_where_fingers_go_to_the_seed(string kind, bool whole)
    {
        var home = Home(SpotKind.Sill, treated: true);
        Assert.Contains(new(CautionBook.TreatedSeed, whole), Text(new(kind), AlertSubject.Of(new BatchId("T3")), home).Cautions);
        Assert.Contains(ShownCaution.Line(CautionBook.TreatedSeed), Text(AlertKind.DryingOut, Location, home).Cautions);
        Assert.DoesNotContain(Text(new(kind), AlertSubject.Of(new BatchId("T3")), Home(SpotKind.Sill)).Cautions,
            shown => shown.Caution == CautionBook.TreatedSeed);
    }

    [Fact]
    public void A_poisonous_crop_is_told_in_a_line()
    {
        var text = Text(AlertKind.LookNow, AlertSubject.Of(new BatchId("T3")), Home(SpotKind.Sill));
        Assert.Contains("Tomato: leaves and stems are poisonous.", text.Caution, StringComparison.Ordinal);
        Assert.Contains("Tomato: leaves and stems are poisonous.", text.CautionLine, StringComparison.Ordinal);
    }

    [Fact]
    public void A_chore_that_comes_again_has_lines_only() =>
        Assert.All(Text(AlertKind.LookNow, AlertSubject.Of(new BatchId("T3")), Home(SpotKind.HeatMat)).Cautions,
            shown => Assert.False(shown.InFull));

    private static AlertSubject Location => AlertSubject.Of(new SpotId("place"));

    private static HomeFacts Home(SpotKind kind, bool treated = false)
    {
        var batch = Some.Batch() with { Stays = [new(new("place"), new(Some.Sowing, null))] };
        return new()
        {
            Spots = [new(new("place"), kind, LightLevel.Dim, 2)],
            Stations = [new(new("p1"), new("place"), new(Some.Sowing, null))],
            Batches = [new(batch, Some.Crop("tomato")) { IsTreated = treated }],
        };
    }

    private static AlertText Text(AlertKind kind, AlertSubject subject, HomeFacts facts, Severity severity = Severity.Warning) =>
        ConditionRegistry.InWords(
        new(kind, subject, severity, Some.Sowing, Some.Sowing, null, null, new(null, Some.Sowing, Some.Sowing, []), []), facts,
            new(false, DateTimeZone.Utc));
}
