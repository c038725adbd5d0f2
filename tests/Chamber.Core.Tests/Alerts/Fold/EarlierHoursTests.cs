using Chamber.Core.Alerts;
using Chamber.Core.Alerts.Scripts;
using Chamber.Core.Alerts.Watching;
using Chamber.Core.Climate;
using Chamber.Core.Facts;
using NodaTime;

namespace Chamber.Core.Tests.Alerts.Fold;

/// <summary>
/// A start folds the last two weeks again; what was usual before them is learnt from temperatures alone. Home and numbers are invented.
/// </summary>
public sealed class EarlierHoursTests
{
    // The shelf cools by 2 K two days after the time that is folded again begins, when nothing could be usual yet.
    private const string Story = """
        spot shelf is a appliance top, dim
        spot mat is a heat mat, dim
        spot sill is a sill, bright
        probe air measures air on shelf
        probe soil measures media on mat
        probe glass measures air on sill
        day 1 00:00: calibrate air by 0.4
        day 1 00:00 to day 54 00:00 every 30 min: soil reads 25
        day 1 00:00 to day 54 00:00 every 30 min: glass reads 19
        day 1 00:00 to day 51 00:00 every 30 min: air reads 24
        day 51 00:30 to day 54 00:00 every 30 min: air reads 22
        """;

    private static readonly WatchScript Script = WatchScript.Parse("earlier", Story);
    private static readonly Instant Now = Script.End;
    private static readonly Instant From = Now - Duration.FromDays(5);

    [Fact]
    public void After_a_start_the_same_drift_is_told_as_by_a_watch_that_never_ended()
    {
        var lasting = new HomeWatch(Script.Facts);
        foreach (var reading in Script.Readings)
        {
            lasting.Step([reading], reading.MeasuredAt);
        }

        lasting.Step(Now);
        var started = new HomeWatch(Script.Facts);
        started.Rebuild(Later, Now, Earlier);

        var drift = Assert.Single(lasting.Open(), alert => alert.Kind == AlertKind.Drifting);
        var again = Assert.Single(started.Open(), alert => alert.Kind == AlertKind.Drifting);
        Assert.Equal((drift.Subject, drift.Since, drift.OpenedAt), (again.Subject, again.Since, again.OpenedAt));
        Assert.Equal(24.4, again.Evidence.Find(FigureName.UsualCelsius)!.Value, 0.1);
    }

    [Fact]
    public void Without_what_came_earlier_the_shift_would_pass_for_what_is_usual()
    {
        var started = new HomeWatch(Script.Facts);
        started.Rebuild(Later, Now);
        Assert.DoesNotContain(started.Open(), alert => alert.Kind == AlertKind.Drifting);
    }

    [Fact]
    public void Folding_a_place_again_from_its_beginning_keeps_what_came_earlier()
    {
        var started = new HomeWatch(Script.Facts);
        started.Rebuild(Later, Now, Earlier);
        started.Rebuild(Later, Now);
        Assert.Contains(started.Open(), alert => alert.Kind == AlertKind.Drifting);
    }

    [Fact]
    public void What_is_put_right_of_the_time_before_counts_at_once()
    {
        // The weeks before were read in another room: nothing is known yet of what is usual there.
        var aside = new SetAside(new("air"), new(Now - Duration.FromDays(60), Now - Duration.FromDays(5.5)));
        var right = Script.Facts with { SetAside = [aside] };
        var (started, told) = (new HomeWatch(right), new HomeWatch(Script.Facts));
        started.Rebuild(Later, Now, Earlier);
        told.Rebuild(Later, Now, Earlier);
        Assert.Contains(told.Open(), alert => alert.Kind == AlertKind.Drifting);

        var past = new WatchPast((probe, _) => Later(probe), Now) { Earlier = (probe, _) => Earlier(probe) };
        foreach (var request in told.Step(right, Now).OfType<RefoldNeeded>())
        {
            told.Refold(request, past, Now);
        }

        Assert.DoesNotContain(told.Open(), alert => alert.Kind == AlertKind.Drifting);
        Assert.Equal(Text(started), Text(told));

        static string Text(HomeWatch watch) =>
            string.Join('\n', watch.Open().Select(alert => $"{alert.Kind} {alert.Subject} {alert.Since}"));
    }

    private static IEnumerable<Reading> Later(ProbeId probe) =>
        Script.Readings.Where(reading => reading.Probe == probe && reading.MeasuredAt >= From);

    private static IEnumerable<TemperatureSample> Earlier(ProbeId probe) =>
        Script.Readings.Where(reading => reading.Probe == probe && reading.MeasuredAt < From)
            .Select(reading => new TemperatureSample(reading.MeasuredAt, reading.Temperature!.Value));
}
