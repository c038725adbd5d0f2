using Chamber.Core.Climate;

namespace Chamber.Club.Store;

/// <summary>Values of unknown age, one row a probe: a newer one replaces what it has and leaves the rest.</summary>
internal static class LastKnownRows
{
    public static async Task KeepAsync(HomeSession session, int home, IReadOnlyList<Reading> values, int probesMax)
    {
        if (values.Count == 0)
        {
            return;
        }

        var probes = await ProbeRows.TakeAsync(session, values.Select(one => (home, one.Probe.Text)), probesMax);
        foreach (var value in values)
        {
            if (probes.TryGetValue((home, value.Probe.Text), out var probe))
            {
                await session.ExecuteAsync(
                    """
                    INSERT INTO last_known AS known (home, probe, received, temperature, humidity, moisture, battery)
                    VALUES ($1, $2, $3, $4, $5, $6, $7)
                    ON CONFLICT (home, probe) DO UPDATE SET received = excluded.received,
                      temperature = coalesce(excluded.temperature, known.temperature),
                      humidity = coalesce(excluded.humidity, known.humidity),
                      moisture = coalesce(excluded.moisture, known.moisture),
                      battery = coalesce(excluded.battery, known.battery)
                    WHERE excluded.received >= known.received
                    """,
                    home, probe.Key, ReadingTimes.Floor(value.ReceivedAt), value.Temperature?.Celsius, value.Humidity?.Percent,
                    value.Moisture, value.Battery);
            }
        }
    }
}
