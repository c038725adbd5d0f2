using NodaTime;

namespace Chamber.Service.Tests.Rig;

/// <summary>A machine's clock that can be set, over timestamps that go on evenly.</summary>
internal sealed class SetClock : TimeProvider
{
    private long stamp;

    public Instant Time { get; set; }

    public override long TimestampFrequency => TimeSpan.TicksPerSecond;

    public void Pass(Duration length)
    {
        Time += length;
        stamp += length.ToTimeSpan().Ticks;
    }

    public override DateTimeOffset GetUtcNow() => Time.ToDateTimeOffset();

    public override long GetTimestamp() => stamp;
}
