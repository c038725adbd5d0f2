using System.Text.Json;
using Chamber.Service.Configuration;

namespace Chamber.Service.Demo;

/// <summary>
/// Time that runs faster from a moment on, timers included, so that a day of the simulated home passes in minutes and the
/// service keeps its ordinary rules about time.
/// </summary>
internal sealed class DemoClock : TimeProvider
{
    private static readonly TimeSpan ShortestWait = TimeSpan.FromMilliseconds(1);

    private readonly TimeProvider real;
    private readonly Course course;
    private readonly DateTimeOffset madeAt;
    private readonly long start;

    /// <param name="real">The clock behind it.</param>
    /// <param name="speed">Seconds that pass here for each real one; within <see cref="Core.Bounds.DemoSpeed"/>.</param>
    public DemoClock(TimeProvider real, double speed)
        : this(real, new Course(real.GetUtcNow(), real.GetUtcNow(), speed))
    {
    }

    private DemoClock(TimeProvider real, Course course)
    {
        this.real = real;
        this.course = course;
        madeAt = real.GetUtcNow();
        start = real.GetTimestamp();
    }

    /// <summary>The clock of the demo whose data this is; null when it is no demo's.</summary>
    public static DemoClock? Find(DataDirectory data, TimeProvider real) =>
        File.Exists(NoteIn(data)) ? new(real, Read(File.ReadAllText(NoteIn(data)))) : null;

    /// <summary>Notes it beside the data, so that the command line tells the same time.</summary>
    public void Note(DataDirectory data) => File.WriteAllText(NoteIn(data), JsonSerializer.Serialize(course));

    /// <summary>Notes that from now on it goes like any clock, from where it is.</summary>
    public void NoteStopped(DataDirectory data) =>
        File.WriteAllText(NoteIn(data), JsonSerializer.Serialize(new Course(real.GetUtcNow(), GetUtcNow(), 1)));

    public override TimeZoneInfo LocalTimeZone => real.LocalTimeZone;

    public override long TimestampFrequency => Math.Max(1, (long)(real.TimestampFrequency / course.Speed));

    public override DateTimeOffset GetUtcNow() => course.Here + (madeAt - course.There + real.GetElapsedTime(start)) * course.Speed;

    public override long GetTimestamp() => real.GetTimestamp();

    public override ITimer CreateTimer(TimerCallback callback, object? state, TimeSpan dueTime, TimeSpan period) =>
        new Timer(real.CreateTimer(callback, state, Shorten(dueTime), Shorten(period)), Shorten);

    private TimeSpan Shorten(TimeSpan wait) =>
        wait <= TimeSpan.Zero ? wait : TimeSpan.FromTicks(Math.Max(ShortestWait.Ticks, (long)(wait.Ticks / course.Speed)));

    private static Course Read(string note)
    {
        using var read = JsonDocument.Parse(note);
        return new(Time(nameof(Course.There)), Time(nameof(Course.Here)), read.RootElement.GetProperty(nameof(Course.Speed)).GetDouble());

        DateTimeOffset Time(string name) => read.RootElement.GetProperty(name).GetDateTimeOffset();
    }

    private static string NoteIn(DataDirectory data) => Path.Combine(data.Path, "demo-clock.json");

    /// <summary>Here it was this time when it was that time there, in the real world.</summary>
    private sealed record Course(DateTimeOffset There, DateTimeOffset Here, double Speed);

    private sealed class Timer(ITimer inner, Func<TimeSpan, TimeSpan> shorten) : ITimer
    {
        public bool Change(TimeSpan dueTime, TimeSpan period) => inner.Change(shorten(dueTime), shorten(period));

        public void Dispose() => inner.Dispose();

        public ValueTask DisposeAsync() => inner.DisposeAsync();
    }
}
