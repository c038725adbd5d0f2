using Chamber.Core.Crops;
using Chamber.Core.Plans;
using NodaTime;

namespace Chamber.Core.Tests.Plans;

public class SowingDatesTests
{
    private static readonly LastFrost Frost = new(new LocalDate(2027, 5, 10));

    [Fact]
    public void The_median_and_one_in_ten_frost_dates_lie_as_far_apart_as_measured()
    {
        // 15 and 20 days at two stations: see LastFrost.UsualDeviationDays.
        var apart = Period.DaysBetween(Frost.Median, Frost.DayWithChance(0.1));
        Assert.InRange(apart, 15, 20);
        Assert.Equal(0.5, Frost.ChanceAfter(Frost.Median), 1e-9);
        Assert.Equal(new LocalDate(2027, 5, 10), new LastFrost(Frost.DayWithChance(0.1), 0.1).Median.PlusDays(0),
            (x, y) => Math.Abs(Period.DaysBetween(x, y)) <= 1);
    }

    // Last 32 °F of spring at Georgetown, Delaware, by chance of a later one: W. J. Moyer, ESSA-Weather and Univ. of Maryland, 1970,
    // as reprinted by the Univ. of Delaware Research and Education Center. The normal curve is given the middle date and that of one in
    // ten.
    [Theory]
    [InlineData(0.10, 5, 10)]
    [InlineData(0.33, 4, 30)]
    [InlineData(0.67, 4, 20)]
    [InlineData(0.90, 4, 10)]
    public void A_normal_curve_meets_the_frost_dates_of_a_weather_station(double chance, int month, int day)
    {
        var georgetown = new LastFrost(new(2027, 4, 25), 0.5, 15 / 1.2816);
        Assert.InRange(Period.DaysBetween(new(2027, month, day), georgetown.DayWithChance(chance)), -1, 1);
    }

    [Fact]
    public void Sowing_is_planting_out_less_weeks_less_days_to_come_up_there()
    {
        // Tomato: out 1 to 2 weeks after the last frost (common practice and from memory, as the catalog says), 5 to 6 weeks of growing
        // (E. Ernest, Univ. of Delaware Extension), here 5 to 8 days to come up; the days of the calendar are counted by hand.
        var dates = SowingDates.For(Some.Crop("tomato").Guide!, Frost, new(5, 6, 8))!;
        Assert.Equal(new LocalDate(2027, 5, 17), dates.PlantOutFrom);
        Assert.Equal(new LocalDate(2027, 5, 24), dates.PlantOutTo);
        Assert.Equal(new LocalDate(2027, 5, 17).PlusDays(-42 - 6), dates.StartOn);
        Assert.Equal(new LocalDate(2027, 5, 24).PlusDays(-35 - 8), dates.SowBy);
        Assert.InRange(dates.Aim, dates.StartOn, dates.SowBy);
        Assert.InRange(dates.FrostChance, 0.2, 0.4);
    }

    [Fact]
    public void A_cooler_spot_moves_the_sowing_forward()
    {
        var guide = Some.Crop("pepper-sweet").Guide!;
        var warm = SowingDates.For(guide, Frost, new(7, 8, 10))!;
        var cool = SowingDates.For(guide, Frost, new(17, 20, 26))!;
        Assert.Equal(12, Period.DaysBetween(cool.StartOn, warm.StartOn));
        Assert.True(cool.SowBy < warm.SowBy);
    }

    [Fact]
    public void Nothing_is_hardened_off_or_planted_out_before_it_is_up()
    {
        foreach (var crop in CropCatalog.Shipped.Crops)
        {
            foreach (var up in new DaysUp[] { new(2, 3, 4), new(6, 8, 12), new(15, 22, 40), new(30, 60, 120) })
            {
                if (SowingDates.For(crop.Guide!, Frost, up) is not { } dates)
                {
                    continue;
                }

                LocalDate[] order = [dates.StartOn, dates.Aim, dates.SowBy, dates.PlantOutTo];
                Assert.Equal(order.Order(), order);
                Assert.True(dates.Aim <= dates.UpFrom && dates.UpFrom <= dates.UpTo, crop.Id.Text);
                Assert.True(dates.UpTo <= dates.HardenFrom, $"{crop.Id}: up to {dates.UpTo}, hardened off from {dates.HardenFrom}");
                Assert.True(Period.DaysBetween(dates.HardenFrom, dates.PlantOutFrom) >= HardeningLadder.Days, crop.Id.Text);
                Assert.True(dates.PlantOutFrom <= dates.PlantOutTo, crop.Id.Text);
            }
        }
    }

    [Fact]
    public void A_root_crop_is_sown_in_its_place_with_nothing_to_harden_off()
    {
        // Carrot: sown 4 to 2 weeks before the last frost, never moved (the catalog's sources).
        var guide = Some.Crop("carrot").Guide!;
        Assert.Null(SowingDates.For(guide, Frost, new(6, 8, 12)));
        Assert.Equal((new LocalDate(2027, 4, 12), new LocalDate(2027, 4, 26)), SowingDates.InPlace(guide, Frost));
        Assert.Null(SowingDates.InPlace(Some.Crop("tomato").Guide!, Frost));
    }

    [Fact]
    public void The_ladder_goes_from_shade_to_a_night_out_in_ten_days()
    {
        // Ten days, and 10 °C for tender and 4 °C for hardy seedlings: common practice, no source.
        var ladder = HardeningLadder.For(Some.Crop("tomato").Guide, new(2027, 5, 7));
        Assert.Equal(10, ladder.Count);
        Assert.Equal(1, ladder[0].Hours);
        Assert.Contains("shade", ladder[0].What, StringComparison.Ordinal);
        Assert.All(ladder.Zip(ladder.Skip(1)), pair => Assert.True(pair.Second.Hours >= pair.First.Hours));
        Assert.Contains("overnight if it stays above 10", ladder[^1].What, StringComparison.Ordinal);
        Assert.Contains("above 4", HardeningLadder.For(Some.Crop("cabbage").Guide, new(2027, 4, 1))[^1].What, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(double.NaN)]
    public void A_frost_that_is_certain_is_refused(double chance) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => new LastFrost(new(2027, 5, 10), chance));
}
