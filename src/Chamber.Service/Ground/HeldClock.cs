using NodaTime;

namespace Chamber.Service.Ground;

/// <summary>A clock that stands at one moment, for answers from what was known then.</summary>
internal sealed class HeldClock(Instant at) : TimeProvider
{
    public override DateTimeOffset GetUtcNow() => at.ToDateTimeOffset();
}
