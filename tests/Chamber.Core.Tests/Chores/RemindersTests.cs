using Chamber.Core.Batches;
using Chamber.Core.Chores;
using Chamber.Core.Crops;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Tests.Chores;

/// <summary>
/// Days are counted by hand from the rules in docs/arithmetic.md; those rules (light the same day, towel within a day) are common
/// practice, no source.
/// </summary>
public class RemindersTests
{
    private static readonly LocalDate Sown = new(2026, 3, 1);

    [Fact]
    public void Before_anything_is_up_there_is_a_time_to_look_and_a_day_to_stop()
    {
        var reminders = Reminders.For(Day(Some.Batch()));
        Assert.Equal([ReminderKind.Look, ReminderKind.StopWaiting, ReminderKind.HardenOff, ReminderKind.PlantOut],
            reminders.Select(one => one.Kind));
        Assert.Equal(Sown.PlusDays(5), reminders[0].From);
        Assert.Contains("once a day", reminders[0].Words, StringComparison.Ordinal);
    }

    [Fact]
    public void What_is_up_wants_the_light_the_same_day()
    {
        var reminders = Reminders.For(Day(Some.Batch(12, SowingMethod.CoveredMix, (6, 5))));
        Assert.Equal((ReminderKind.ToTheLight, Sown.PlusDays(6)), (reminders[0].Kind, reminders[0].From));
        Assert.StartsWith("5 of 12 up: cover off and into the light today.", reminders[0].Words, StringComparison.Ordinal);
        Assert.Equal((ReminderKind.PrickOut, Sown.PlusDays(16), Sown.PlusDays(27)),
            (reminders[1].Kind, reminders[1].From, reminders[1].To));
    }

    [Fact]
    public void A_towel_is_planted_up_within_a_day_before_anything_else()
    {
        var batch = Some.Batch(12, SowingMethod.DampTowel, (3, 5));
        Assert.Equal((ReminderKind.PlantFromTowel, Sown.PlusDays(4)), (Reminders.For(Day(batch))[0].Kind, Reminders.For(Day(batch))[0].To));
        var planted = batch with { Stages = [new(StageKind.TowelPlanted, Some.Day(3), 5)] };
        Assert.Equal((ReminderKind.ToTheLight, Sown.PlusDays(5)),
            (Reminders.For(Day(planted))[0].Kind, Reminders.For(Day(planted))[0].From));

        // What was counted in the towel were roots.
        Assert.StartsWith("Shoots of those planted show about now: cover off and into the light the same day.",
            Reminders.For(Day(planted))[0].Words, StringComparison.Ordinal);
    }

    [Fact]
    public void What_was_done_is_not_asked_for_again()
    {
        var batch = Some.Batch(12, SowingMethod.CoveredMix, (6, 5)) with
        {
            Stages = [new(StageKind.MovedToLight, Some.Day(6)), new(StageKind.PrickedOut, Some.Day(18)),
                new(StageKind.HardeningOff, Some.Day(50))],
        };
        Assert.Equal([ReminderKind.PlantOut], Reminders.For(Day(batch)).Select(one => one.Kind));
        Assert.Empty(Reminders.For(Day(batch with { EndedAt = Some.Day(60) })));
    }

    // Onions stay in their tray until they are split at planting, leeks until they are as thick as a pencil; melons stay in their own pot.
    [Theory]
    [InlineData("tomato", true)]
    [InlineData("thyme", true)]
    [InlineData("onion", false)]
    [InlineData("leek", false)]
    [InlineData("melon", false)]
    [InlineData("carrot", false)]
    public void Only_what_is_moved_into_cells_is_to_be_pricked_out(string crop, bool pricked) => Assert.Equal(
        pricked,
        Reminders.For(Day(Some.Batch(12, SowingMethod.CoveredMix, (6, 5)), crop)).Any(one => one.Kind == ReminderKind.PrickOut));

    private static BatchDay Day(Batch batch, string crop = "tomato") => new(
        batch,
        Some.Crop(crop),
        new(Sown.PlusDays(5), Sown.PlusDays(8), Sown.PlusDays(21)),
        LightLevel.Dark,
        Sown.PlusDays(70),
        Sown.PlusDays(1),
        DateTimeZone.Utc);
}
