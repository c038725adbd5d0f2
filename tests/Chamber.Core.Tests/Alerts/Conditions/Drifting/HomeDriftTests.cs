using Chamber.Core.Alerts;
using Chamber.Core.Alerts.Fold;
using Chamber.Core.Alerts.Conditions.Drifting;
using Chamber.Core.Simulation;
using Chamber.Core.Spots;
using Chamber.Testing;

namespace Chamber.Core.Tests.Alerts.Conditions.Drifting;

/// <summary>
/// Both numbers of drift at once, on simulated homes that no limit was chosen on (those were seeds 1 to 8): how many are told while nothing
/// is wrong, and how many shifts are found. docs/alerts.md has the curve from which the limits were taken.
/// </summary>
public sealed class HomeDriftTests
{
    private const int Months = 24;
    private const int Trials = 200;

    // An hour is folded two hours late, for slower probes.
    private const int HoursToTell = 48 - 2;

    private static readonly int[] Seeds = [301, 302, 303, 304];
    private static readonly Lazy<SimulatedHours[]> Homes =
        new(() => [.. Seeds.AsParallel().AsOrdered().Select(seed => new SimulatedHours(seed))]);

    [Fact]
    public void Drift_has_one_false_alarm_a_month_and_finds_nine_shifts_in_ten()
    {
        var outcomes = Homes.Value.AsParallel().AsOrdered().Select((home, index) => Live(home, Seeds[index], _ => true)).ToList();
        foreach (var spot in SimulatedHours.Spots)
        {
            Assert.All(outcomes, (outcome, index) => Assert.True(outcome.False[spot] <= Months,
                $"{spot} of home {Seeds[index]}: {outcome.False[spot]} false in {Months} months"));
            var found = outcomes.Sum(outcome => outcome.Found[spot]);
            Assert.True(found >= 0.9 * Trials * Seeds.Length, $"{spot}: {found} of {Trials * Seeds.Length} found");
        }
    }

    /// <param name="name">The only spot of a home, so that weather and sun cannot be told from the others.</param>
    /// <param name="share">What is found all the same. False alarms stay as rare.</param>
    [Theory]
    [InlineData("thermostat-mat", 0.95)]
    [InlineData("plain-mat", 0.9)]
    [InlineData("freezer-top", 0.9)]
    [InlineData("router-shelf", 0.9)]
    [InlineData("boiler-cupboard", 0.75)]
    [InlineData("sunny-sill", 0.5)]
    public void A_spot_alone_raises_no_more_false_alarms_and_finds_what_can_be_found(string name, double share)
    {
        var spot = new SpotId(name);
        var outcomes = Homes.Value.AsParallel().AsOrdered()
            .Select((home, index) => Live(home, Seeds[index], design => design.Spot == spot)).ToList();
        Assert.All(outcomes, (outcome, index) =>
            Assert.True(outcome.False[spot] <= Months, $"home {Seeds[index]}: {outcome.False[spot]} false in {Months} months"));
        var found = outcomes.Sum(outcome => outcome.Found[spot]);
        Assert.True(found >= share * Trials * Seeds.Length, $"{found} of {Trials * Seeds.Length} found");
    }

    /// <param name="name">A probe beside which another one is on its spot.</param>
    /// <param name="share">How often it is reported as the probe's and not as the spot's.</param>
    [Theory]
    [InlineData("boiler-air", 0.85)]
    [InlineData("boiler-mix", 0.85)]
    [InlineData("mat-lid", 0.95)]
    [InlineData("mat-mix", 0.95)]
    [InlineData("sill-air", 0.55)]
    [InlineData("sill-mix", 0.55)]
    public void A_probe_that_moves_away_from_the_other_of_its_spot_is_told_as_a_probe(string name, double share)
    {
        var told = Homes.Value.AsParallel().AsOrdered().Select((home, index) =>
        {
            var moments = Moments(new(Seeds[index]), 60);
            var asProbe = 0;
            Follow(home, _ => true, moments, (fold, hour) =>
            {
                var kelvins = hour % 2 == 0 ? 1.5 : -1.5;
                var alert = FirstTold(home, fold, hour, _ => true, design => design.Probe.Id.Text == name, kelvins);
                asProbe += alert?.Kind == AlertKind.ProbesDisagree ? 1 : 0;
            });
            return asProbe;
        }).Sum();
        Assert.True(told >= share * 60 * Seeds.Length, $"{told} of {60 * Seeds.Length}");
    }

    [Fact]
    [Trait(Tier.Name, Tier.Whole)]
    public void The_days_after_learning_raise_no_more_false_alarms_than_later_ones()
    {
        const int week = 7 * 24;
        const int apart = 13 * 24 + 7;
        var starts = Enumerable.Range(0, (SimulatedHours.Count - 2 * week) / apart).Select(index => index * apart).ToList();
        var told = Homes.Value.AsParallel().AsOrdered().SelectMany(home => starts.SelectMany(start =>
        {
            var fold = new DriftFold();
            var alerts = new List<AlertSubject>();
            for (var hour = start; hour < start + 2 * week; hour++)
            {
                home.Fold(fold, hour, _ => true);
                alerts.AddRange(fold.Book.Open.Where(alert => alert.OpenedAt == SimulatedHours.EndOf(hour)).Select(alert => alert.Subject));
            }

            return alerts;
        })).CountBy(subject => subject).ToDictionary();
        var months = Seeds.Length * starts.Count * 7 / 30.0;
        Assert.All(SimulatedHours.Spots, spot => Assert.InRange(told.GetValueOrDefault(AlertSubject.Of(spot)) / months, 0, 1));
    }

    private static (Dictionary<SpotId, int> False, Dictionary<SpotId, int> Found) Live(SimulatedHours home, int seed,
        Predicate<SimulatedProbeDesign> there)
    {
        var spots = SimulatedHours.Probes.Where(design => there(design)).Select(design => design.Spot).Distinct().ToList();
        var moments = Moments(new(seed), Trials);
        var found = spots.ToDictionary(spot => spot, _ => 0);
        var falsely = Follow(home, there, moments, (fold, hour) =>
        {
            foreach (var spot in spots)
            {
                found[spot] += FirstTold(home, fold, hour, there, design => design.Spot == spot, hour % 2 == 0 ? 1.5 : -1.5) is null
                    ? 0 : 1;
            }
        });
        return (spots.ToDictionary(spot => spot, spot => falsely.GetValueOrDefault(AlertSubject.Of(spot))), found);
    }

    // Lives through two years, lets something be tried from some hours on, and counts what was told by itself.
    private static Dictionary<AlertSubject, int> Follow(SimulatedHours home, Predicate<SimulatedProbeDesign> there, HashSet<int> moments,
        Action<DriftFold, int> attempt)
    {
        var fold = new DriftFold();
        var told = new Dictionary<AlertSubject, int>();
        for (var hour = 0; hour < SimulatedHours.Count; hour++)
        {
            if (moments.Contains(hour))
            {
                attempt(fold, hour);
            }

            home.Fold(fold, hour, there);
            foreach (var alert in fold.Book.Open.Where(alert => alert.OpenedAt == SimulatedHours.EndOf(hour)))
            {
                told[alert.Subject] = told.GetValueOrDefault(alert.Subject) + 1;
            }
        }

        return told;
    }

    private static OpenAlert? FirstTold(SimulatedHours home, DriftFold fold, int start, Predicate<SimulatedProbeDesign> there,
        Predicate<SimulatedProbeDesign> moved, double kelvins)
    {
        var copy = fold.Copy();
        var about = AlertSubject.Of(SimulatedHours.Probes.First(design => moved(design)).Spot);
        for (var hour = start; hour < start + HoursToTell; hour++)
        {
            home.Fold(copy, hour, there, moved, kelvins);
            if (copy.Book.Open.FirstOrDefault(alert => alert.Subject == about && alert.OpenedAt == SimulatedHours.EndOf(hour)) is { } alert)
            {
                return alert;
            }
        }

        return null;
    }

    private static HashSet<int> Moments(Random random, int count)
    {
        var moments = new HashSet<int>();
        while (moments.Count < count)
        {
            moments.Add(random.Next(40 * 24, SimulatedHours.Count - 48));
        }

        return moments;
    }
}
