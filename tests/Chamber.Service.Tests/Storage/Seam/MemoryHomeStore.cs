using System.Runtime.CompilerServices;
using Chamber.Core.Climate;
using Chamber.Core.Facts;
using NodaTime;

namespace Chamber.Service.Tests.Storage.Seam;

/// <summary>A home store in memory, as simple as the seam allows.</summary>
internal sealed class MemoryHomeStore : IHomeStore
{
    private readonly Lock gate = new();
    private readonly List<FactEntry> facts = [];
    private readonly SortedDictionary<(string Probe, Instant At), Reading> readings = [];

    // Every change of a reading, in the order in which it came.
    private readonly List<(string Probe, Instant At)> changes = [];

    public ValueTask<IReadOnlyList<FactEntry>> FactsSinceAsync(long after, CancellationToken cancel = default)
    {
        lock (gate)
        {
            return new([.. facts.Where(entry => entry.Number > after)]);
        }
    }

    public ValueTask<bool> TryAppendAsync(IReadOnlyList<FactEntry> entries, CancellationToken cancel = default)
    {
        lock (gate)
        {
            var isExpected = entries.Index().All(one => one.Item.Number == facts.Count + 1 + one.Index);
            facts.AddRange(isExpected ? entries : []);
            return new(isExpected);
        }
    }

    public async IAsyncEnumerable<Reading> ReadingsAsync(
        ProbeId probe, Interval interval, [EnumeratorCancellation] CancellationToken cancel = default)
    {
        foreach (var reading in Of(probe, interval))
        {
            await Task.Yield();
            cancel.ThrowIfCancellationRequested();
            yield return reading;
        }
    }

    public ValueTask<AppendResult> AppendAsync(IReadOnlyList<Reading> added, IReadOnlyList<Refusal> refusals,
        IReadOnlyList<Reading> lastKnown, CancellationToken cancel = default)
    {
        lock (gate)
        {
            var (inserted, filled, changed) = (0, 0, new List<Reading>());
            foreach (var reading in added)
            {
                var (name, names) = Former(reading.Probe);
                var at = Instant.FromUnixTimeMilliseconds(reading.MeasuredAt.ToUnixTimeMilliseconds());

                // Under its first name, which it keeps when a later one is taken back.
                var key = (names[^1], at);
                if (!readings.TryGetValue(key, out var known))
                {
                    inserted++;
                    changed.Add(readings[key] = reading with { MeasuredAt = at, Probe = name });
                }
                else if (Filled(known, reading) is var whole && whole != known)
                {
                    filled++;
                    changed.Add(readings[key] = whole with { Probe = name });
                }
                else
                {
                    continue;
                }

                changes.Add(key);
            }

            return new(new AppendResult(inserted, filled, added.Count - inserted - filled, 0, changed));
        }
    }

    public ValueTask<JournalChanges> ChangesSinceAsync(JournalMark mark, CancellationToken cancel = default)
    {
        lock (gate)
        {
            var stretches = changes.Skip((int)mark.Late).Select(key =>
                (Former(new(key.Probe)).Present, new Interval(key.At, key.At + Duration.FromMilliseconds(1)))).ToList();
            return new(new JournalChanges(mark with { Late = changes.Count }, stretches));
        }
    }

    private List<Reading> Of(ProbeId probe, Interval interval)
    {
        lock (gate)
        {
            if (Former(probe).Present != probe)
            {
                return [];
            }

            var names = Former(probe).Names;
            return [.. readings.Where(pair => names.Contains(pair.Key.Probe) && interval.Contains(pair.Key.At)).OrderBy(pair => pair.Key.At)
                .Select(pair => pair.Value with { Probe = probe })];
        }
    }

    // A probe's present name, and all that it ever had.
    private (ProbeId Present, IReadOnlyList<string> Names) Former(ProbeId probe)
    {
        var home = FactLog.Of(facts).Home;
        var present = home.Probes.Select(entry => entry.Probe.Id)
            .FirstOrDefault(id => home.NamesOf(FactSubject.Of(id)).Contains(FactSubject.Of(probe)), probe);
        return (present, [.. home.NamesOf(FactSubject.Of(present)).Select(name => name.Name)]);
    }

    private static Reading Filled(Reading known, Reading more) => known with
    {
        Temperature = known.Temperature ?? more.Temperature,
        Humidity = known.Humidity ?? more.Humidity,
        Moisture = known.Moisture ?? more.Moisture,
        Battery = known.Battery ?? more.Battery,
    };
}
