using System.Globalization;
using Chamber.Core.Alerts;
using Chamber.Testing;
using NodaTime;
using NodaTime.Text;

namespace Chamber.Core.Tests.Alerts;

/// <summary>Every alert of two years of the simulated flat, kept in a file that people have read: see
/// tests/cases/two-years/README.md.</summary>
public sealed class TwoYearsTests
{
    private static readonly LocalDateTimePattern Time = LocalDateTimePattern.CreateWithInvariantCulture("uuuu-MM-dd HH:mm");
    private static readonly Lazy<IReadOnlyList<Alert>> All = new(OrdinaryYears.Live);

    [Fact]
    public void Every_alert_of_two_years_is_one_that_was_read_and_found_worth_telling()
    {
        var file = SourceTree.Path("tests", "cases", "two-years", "alerts.txt");
        var given = string.Join('\n', All.Value.Select(Line)) + "\n";
        if (Environment.GetEnvironmentVariable("CHAMBER_ANSWERS") == "write")
        {
            File.WriteAllText(file, given);
        }

        Assert.Equal(File.ReadAllText(file), given);
    }

    // Nothing is ever moved or broken in these two years: every drift that is reported, of the spot or of a probe, is a false one, whatever
    // the weather did.
    [Fact]
    public void No_spot_of_the_flat_raises_more_than_one_false_drift_alert_a_month()
    {
        var bySpot = All.Value.Where(alert => alert.Kind == AlertKind.Drifting || alert.Kind == AlertKind.ProbesDisagree)
            .CountBy(alert => alert.Subject);
        Assert.All(bySpot, spot => Assert.True(spot.Value <= 24, $"{spot.Key}: {spot.Value} in 24 months"));
    }

    private static string Line(Alert alert) => string.Create(CultureInfo.InvariantCulture,
        $"{Local(alert.OpenedAt)}  {alert.Severity.ToString().ToLowerInvariant(),-7}  {alert.Kind.Spelled,-15}  {alert.Subject,-16}  "
            + $"{Length(alert)}");

    private static string Length(Alert alert) => alert.ClosedAt is { } closed
        ? string.Create(CultureInfo.InvariantCulture, $"{(closed - alert.OpenedAt).TotalHours:0.0} h, {alert.CloseReason}")
        : "open";

    private static string Local(Instant at) => Time.Format(at.InZone(OrdinaryYears.Zone).LocalDateTime);
}
