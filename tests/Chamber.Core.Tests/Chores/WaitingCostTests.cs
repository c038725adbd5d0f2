using Chamber.Core.Alerts;
using Chamber.Core.Chores;
using NodaTime;

namespace Chamber.Core.Tests.Chores;

/// <summary>An order of what waits: the weights are the program's own, no source, and kept here to notice change.</summary>
public class WaitingCostTests
{
    private static readonly Instant Now = Instant.FromUtc(2026, 11, 25, 8, 0);

    [Fact]
    public void Danger_comes_before_any_number_of_plants() =>
        Assert.True(WaitingCost.OfAlert(Of(Severity.Danger), _ => 0) > WaitingCost.OfReminder(ReminderKind.ToTheLight, 1_000_000, 100));

    [Fact]
    public void Seedlings_in_the_dark_come_before_a_look_and_that_before_pricking_out()
    {
        Assert.True(WaitingCost.OfReminder(ReminderKind.ToTheLight, 12, 0) > WaitingCost.OfReminder(ReminderKind.Look, 12, 0));
        Assert.True(WaitingCost.OfReminder(ReminderKind.Look, 12, 0) > WaitingCost.OfReminder(ReminderKind.PrickOut, 12, 0));
    }

    [Fact]
    public void More_plants_and_a_longer_wait_weigh_more()
    {
        Assert.True(WaitingCost.OfReminder(ReminderKind.Look, 40, 0) > WaitingCost.OfReminder(ReminderKind.Look, 10, 0));
        Assert.True(WaitingCost.OfReminder(ReminderKind.Look, 10, 3) > WaitingCost.OfReminder(ReminderKind.Look, 10, 0));
        Assert.Equal(WaitingCost.OfReminder(ReminderKind.Look, 10, 7), WaitingCost.OfReminder(ReminderKind.Look, 10, 70));
    }

    [Fact]
    public void A_warning_weighs_what_it_costs_its_batches()
    {
        var cold = Of(Severity.Warning) with { Harm = [new BatchHarm(new("T1"), new("tomato"), 48, 0.1)] };
        Assert.Equal(20 * (0.1 + 0.05 * 2), WaitingCost.OfAlert(cold, _ => 20), 1e-9);
        Assert.True(WaitingCost.OfAlert(cold with { Severity = Severity.Urgent }, _ => 20) > WaitingCost.OfAlert(cold, _ => 20));
    }

    private static Alert Of(Severity severity) =>
        new(AlertKind.TooCold, AlertSubject.Home, severity, Now, Now, null, null, new AlertEvidence(null, Now, Now, []), []);
}
