using NodaTime;

namespace Chamber.Core.Climate;

/// <summary>A temperature at an instant.</summary>
public readonly record struct TemperatureSample(Instant At, Temperature Temperature)
{
    /// <summary>
    /// The same, dated <paramref name="now"/> at the latest. One that lies ahead was dated by a clock that has since been put back: nothing
    /// says how old it is, and it counts as the newest there is.
    /// </summary>
    public TemperatureSample NoLaterThan(Instant now) => At > now ? this with { At = now } : this;
}
