using Chamber.Service.Notify;
using NodaTime;

namespace Chamber.Service.Tests.Notify;

internal static class SampleNotice
{
    public static Notice TooHot { get; } = new(
        "alert-17-opened",
        Instant.FromUtc(2026, 3, 4, 2, 10),
        "alert.opened",
        "boiler-cupboard",
        NoticeUrgency.Soon,
        "Boiler cupboard: too hot for lettuce",
        "29.4 °C since 01:40.\nMove the lettuce to the router shelf, or leave the door ajar.");
}
