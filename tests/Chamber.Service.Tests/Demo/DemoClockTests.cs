using Chamber.Service.Configuration;
using Chamber.Service.Demo;
using Chamber.Testing;
using Microsoft.Extensions.Time.Testing;

namespace Chamber.Service.Tests.Demo;

public sealed class DemoClockTests
{
    private readonly FakeTimeProvider real = new(new DateTimeOffset(2026, 2, 20, 15, 0, 0, TimeSpan.Zero));

    [Fact]
    public void A_day_passes_in_minutes()
    {
        var clock = new DemoClock(real, 60);
        var before = clock.GetUtcNow();
        var mark = clock.GetTimestamp();

        real.Advance(TimeSpan.FromMinutes(24));

        Assert.Equal(TimeSpan.FromDays(1), clock.GetUtcNow() - before);
        Assert.Equal(1, clock.GetElapsedTime(mark).TotalDays, 1e-5);
    }

    [Fact]
    public void Timers_go_off_sooner()
    {
        var clock = new DemoClock(real, 60);
        var rung = 0;
        using var timer = clock.CreateTimer(_ => rung++, null, TimeSpan.FromHours(1), TimeSpan.FromHours(1));

        real.Advance(TimeSpan.FromSeconds(59));
        Assert.Equal(0, rung);
        real.Advance(TimeSpan.FromSeconds(61));
        Assert.Equal(2, rung);
    }

    [Fact]
    public void The_command_line_tells_the_same_time_while_the_demo_runs_and_after_it()
    {
        using var folder = new TempFolder();
        var data = new DataDirectory(folder.Path);
        var clock = new DemoClock(real, 60);
        clock.Note(data);
        real.Advance(TimeSpan.FromMinutes(10));
        Assert.Equal(clock.GetUtcNow(), DemoClock.Find(data, real)!.GetUtcNow());

        clock.NoteStopped(data);
        var stopped = clock.GetUtcNow();
        real.Advance(TimeSpan.FromMinutes(5));

        Assert.Equal(stopped + TimeSpan.FromMinutes(5), DemoClock.Find(data, real)!.GetUtcNow());
    }

    [Fact]
    public void A_home_that_is_no_demo_has_the_time_of_the_machine()
    {
        using var folder = new TempFolder();

        Assert.Null(DemoClock.Find(new DataDirectory(folder.Path), real));
    }
}
