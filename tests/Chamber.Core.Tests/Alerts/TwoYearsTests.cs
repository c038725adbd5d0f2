using System.Globalization;
using Chamber.Core.Alerts;
using Chamber.Testing;
using NodaTime;
using NodaTime.Text;

namespace Chamber.Core.Tests.Alerts;

/// <summary>Every alert of two years of the simulated flat, kept in a file that people have read: see tests/cases/two-years/README.md.</summary>
public sealed class TwoYearsTests
{
    private static readonly LocalDateTimePattern Time = LocalDateTimePattern.CreateWithInvariantCulture("uuuu-MM-dd HH:mm");
    private static readonly Lazy<(IReadOnlyList<Alert> Alerts, IReadOnlyDictionary<string, List<double>> Hours)> All = new(OrdinaryYears.Live);

    [Fact]
    public void Every_alert_of_two_years_is_one_that_was_read_and_found_worth_telling()
    {
        var file = SourceTree.Path("tests", "cases", "two-years", "alerts.txt");
        var given = string.Join('\n', All.Value.Alerts.Select(Line)) + "\n";
        if (Environment.GetEnvironmentVariable("CHAMBER_ANSWERS") == "write")
        {
            File.WriteAllText(file, given);
        }

        Assert.Equal(File.ReadAllText(file), given);
    }

    // Nothing is ever moved or broken in these two years: every drift that is told, of the spot or of a probe, is a false one, whatever the weather did.
    [Fact]
    public void No_spot_of_the_flat_raises_more_than_one_false_drift_alert_a_month()
    {
        var bySpot = All.Value.Alerts.Where(alert => alert.Kind is AlertKind.Drifting or AlertKind.ProbesDisagree).CountBy(alert => alert.Subject);
        Assert.All(bySpot, spot => Assert.True(spot.Value <= 24, $"{spot.Key}: {spot.Value} in 24 months"));
    }

    /// <param name="probe">Where it stands tells how the spot is.</param>
    /// <param name="share">What is found within two days. Where sun or the boiler does more in an hour than the shift, it is fewer.</param>
    [Theory]
    [InlineData("mat-mix", 0.9)]
    [InlineData("mat-lid", 0.9)]
    [InlineData("plain-mat-mix", 0.9)]
    [InlineData("fridge-mix", 0.9)]
    [InlineData("router-towel", 0.9)]
    [InlineData("boiler-mix", 0.75)]
    [InlineData("boiler-air", 0.65)]
    [InlineData("sill-air", 0.5)]
    [InlineData("sill-mix", 0.5)]
    public void A_lasting_shift_of_1_5_degrees_in_the_flat_is_found_within_two_days(string probe, double share)
    {
        const int trials = 240;
        var hours = All.Value.Hours[probe];
        var random = new Random(5);
        var found = Enumerable.Range(0, trials).Count(trial =>
        {
            var day = 40 + random.Next(680);
            return DriftTests.IsFound([.. hours.Skip(24 * (day - 40)).Take(43 * 24)], 40 * 24 + random.Next(24), trial % 2 == 0 ? 1.5 : -1.5);
        });
        Assert.True(found >= share * trials, $"{probe}: {found} of {trials} found");
    }

    private static string Line(Alert alert) => string.Create(CultureInfo.InvariantCulture,
        $"{Local(alert.OpenedAt)}  {alert.Severity.ToString().ToLowerInvariant(),-7}  {AlertWords.Spell(alert.Kind),-15}  {alert.Subject,-16}  {Length(alert)}");

    private static string Length(Alert alert) => alert.ClosedAt is { } closed
        ? string.Create(CultureInfo.InvariantCulture, $"{(closed - alert.OpenedAt).TotalHours:0.0} h, {alert.CloseReason}")
        : "open";

    private static string Local(Instant at) => Time.Format(at.InZone(OrdinaryYears.Zone).LocalDateTime);
}
