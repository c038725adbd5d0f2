using Chamber.Core.Alerts.Limits;

namespace Chamber.Core.Alerts.Conditions.WarmAndDark;

/// <summary>The limits of warm and dark in force.</summary>
internal sealed class WarmAndDarkLimits(WatchLimits limits)
{
    public static readonly NumberLimit Above =
        new("warm and dark above", 18, "°C", "from here on seedlings in the dark grow long and pale");
    public static readonly NumberLimit Hours =
        new("warm and dark hours", 12, "h", "so many hours of it since the first were up; urgent after three times that");

    public double WarmCelsius { get; } = limits.Of(Above);

    public double HoursMin { get; } = limits.Of(Hours);
}
