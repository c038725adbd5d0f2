using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Storage.Seam;

/// <summary>The newest of each quantity, from readings alone: for a store that has no quicker way.</summary>
public static class NewestReadings
{
    private static readonly Duration Day = Duration.FromDays(1);

    // Clocks differ: what lies further ahead waits until its time has come.
    private static readonly Duration AheadMax = Duration.FromMinutes(15);

    // They are looked for in the last two days, then further back.
    private static readonly Duration?[] LookedThrough = [Duration.FromDays(2), Duration.FromDays(30), null];

    /// <param name="store">Where the readings are.</param>
    /// <param name="now">The time that it is.</param>
    /// <param name="cancel">Ends the wait.</param>
    public static async ValueTask<IReadOnlyList<LatestReading>> OfAsync(IHomeStore store, Instant now, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(store);
        var setAside = (await store.HomeAsync(cancel)).Home.SetAside.ToLookup(span => span.Probe, span => span.When);
        var latest = new List<LatestReading>();
        foreach (var probe in await store.ProbesAsync(cancel))
        {
            if (await LastDayAsync(store, probe, now + AheadMax, cancel) is [.., var newest] day)
            {
                latest.Add(Of(newest, [.. day.Where(reading => !setAside[probe].Any(span => span.Contains(reading.MeasuredAt)))]));
            }
        }

        return latest;
    }

    // The newest reading, and those of the day before it.
    private static async ValueTask<List<Reading>> LastDayAsync(IHomeStore store, ProbeId probe, Instant end, CancellationToken cancel)
    {
        foreach (var back in LookedThrough)
        {
            var found = new List<Reading>();
            await foreach (var reading in store.ReadingsAsync(probe, new(back is { } some ? end - some : null, end), cancel))
            {
                found.Add(reading);
            }

            if (found.Count > 0 && (back is not { } looked || found[^1].MeasuredAt - Day >= end - looked))
            {
                var since = found[^1].MeasuredAt - Day;
                return found.FindAll(reading => reading.MeasuredAt >= since);
            }
        }

        return [];
    }

    private static LatestReading Of(Reading newest, List<Reading> used)
    {
        return new(
            newest.Probe,
            newest.MeasuredAt,
            newest.ReceivedAt,
            Last(reading => reading.Temperature),
            Last(reading => reading.Humidity),
            Last(reading => reading.Moisture),
            Last(reading => reading.Battery));

        Dated<T>? Last<T>(Func<Reading, T?> quantityOf)
            where T : struct
        {
            var found = used.FindLastIndex(reading => quantityOf(reading) is not null);
            return found < 0 ? null : new(used[found].MeasuredAt, quantityOf(used[found])!.Value);
        }
    }
}
