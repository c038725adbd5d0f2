using System.Globalization;
using NodaTime;

namespace Chamber.Service.Tests.Rig;

/// <summary>Settings under which it is not night: nobody is asked to look at night, and a test runs at any hour.</summary>
internal static class NightElsewhen
{
    /// <summary>The members <c>home</c> and <c>quietHours</c> of the settings, each with its comma: one quiet hour, far from now.</summary>
    public static string Of(Instant now)
    {
        var (quiet, loud) = (Hour(now + Duration.FromHours(8)), Hour(now + Duration.FromHours(9)));
        return $$""" "home": { "zone": "UTC" }, "quietHours": { "from": "{{quiet}}", "to": "{{loud}}" }, """;
    }

    private static string Hour(Instant at) => at.InUtc().TimeOfDay.ToString("HH':'mm", CultureInfo.InvariantCulture);
}
