using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Service.Home;

/// <summary>Readings of a probe from before it stood anywhere: they count for no spot, and whoever brought them seldom wants
/// that.</summary>
internal static class UnplacedReadings
{
    // A sensor speaks for some minutes before somebody says where it is.
    private static readonly Duration Worth = Duration.FromHours(1);

    /// <summary>When the first of them was read; null when there is none worth a word.</summary>
    public static Instant? First(HomeReader home, ProbeId probe)
    {
        var stations = home.Ledger.Stations.Where(station => station.Probe == probe).ToList();
        var first = home.Ledger.Readings.Temperatures(probe, new(null, null)).Select(sample => (Instant?)sample.At).FirstOrDefault();
        return stations.Count == 0 || first + Worth <= stations[0].When.Start ? first : null;
    }

    /// <summary>The line that lets them count.</summary>
    public static string Fix(ProbeId probe, string spot, Instant first, DateTimeZone zone) =>
        $"chamber probe move {probe} {spot} --when \"{TimeText.Typed(first, zone)}\"";
}
