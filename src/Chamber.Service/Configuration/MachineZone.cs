using NodaTime;
using NodaTime.TimeZones;

namespace Chamber.Service.Configuration;

/// <summary>The time zone of this machine.</summary>
internal static class MachineZone
{
    public static DateTimeZone Find()
    {
        try
        {
            return DateTimeZoneProviders.Tzdb.GetSystemDefault();
        }
        catch (DateTimeZoneNotFoundException)
        {
            // A machine without a named zone, as in a bare container.
            return DateTimeZone.Utc;
        }
    }
}
