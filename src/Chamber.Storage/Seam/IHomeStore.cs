using System.Runtime.CompilerServices;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Facts;
using NodaTime;

namespace Chamber.Storage.Seam;

/// <summary>
/// All that a home needs of a store: facts and readings are added, and read back. Whoever asks loads what it needs once, works it out in
/// Core, and writes. The store knows no rule of growing: what may be written down is judged by the fold of the facts. Any thread
/// may ask. A store that fails throws <see cref="StoreException"/>, and then nothing was written.
/// </summary>
public interface IHomeStore
{
    /// <summary>Entries with a higher number than one, in order of number. An empty store has none; the first number is 1.</summary>
    /// <param name="after">The number; 0 for all.</param>
    /// <param name="cancel">Ends the wait.</param>
    ValueTask<IReadOnlyList<FactEntry>> FactsSinceAsync(long after, CancellationToken cancel = default);

    /// <summary>Adds entries, all of them or none, if nobody has written since.</summary>
    /// <param name="entries">In order of number, from the one expected on. None writes nothing.</param>
    /// <param name="cancel">Ends the wait before anything is written.</param>
    /// <returns>Whether they were added; not so when the store has an entry of the first number already.</returns>
    ValueTask<bool> TryAppendAsync(IReadOnlyList<FactEntry> entries, CancellationToken cancel = default);

    /// <summary>The readings of one probe in an interval, in order of time, on one state of the store: raw, those that were set aside
    /// too.</summary>
    /// <param name="probe">Whose, by its present name.</param>
    /// <param name="interval">From when on, up to and without when.</param>
    /// <param name="cancel">Ends the stream.</param>
    IAsyncEnumerable<Reading> ReadingsAsync(ProbeId probe, Interval interval, CancellationToken cancel = default);

    /// <summary>Takes in readings and refusals: when this ends, all of them are kept. A reading that is there already adds what was
    /// missing and changes nothing else.</summary>
    /// <param name="readings">In any order.</param>
    /// <param name="refusals">What was not used.</param>
    /// <param name="lastKnown">Values of unknown age, kept apart from readings.</param>
    /// <param name="cancel">Ends the wait before anything is written.</param>
    ValueTask<AppendResult> AppendAsync(IReadOnlyList<Reading> readings, IReadOnlyList<Refusal> refusals,
        IReadOnlyList<Reading> lastKnown, CancellationToken cancel = default);

    /// <summary>Which readings have changed since a mark, whoever wrote them.</summary>
    /// <param name="mark">What somebody has seen; <see cref="JournalMark.Beginning"/> for nothing.</param>
    /// <param name="cancel">Ends the wait.</param>
    ValueTask<JournalChanges> ChangesSinceAsync(JournalMark mark, CancellationToken cancel = default);

    // What follows from these. A store that has a quicker way goes it.

    /// <summary>Whether all that is asked of it is there when the call returns, as of a file on this machine: then nothing needs to be
    /// loaded first.</summary>
    bool IsAtHand => false;

    /// <summary>The same as appending entries, of those that whoever appends has judged: a store that keeps what the facts come to takes
    /// that over, and need not judge them again.</summary>
    /// <param name="judged">One after the other.</param>
    /// <param name="cancel">Ends the wait before anything is written.</param>
    ValueTask<bool> TryAppendAsync(IReadOnlyList<JudgedFacts> judged, CancellationToken cancel = default) =>
        TryAppendAsync([.. judged.SelectMany(act => act.Entries)], cancel);

    /// <summary>What the facts come to: their fold, or what the store has kept of it.</summary>
    /// <param name="cancel">Ends the wait.</param>
    async ValueTask<KnownHome> HomeAsync(CancellationToken cancel = default)
    {
        var log = FactLog.Of(await FactsSinceAsync(0, cancel));
        return new(log.Last, log.Home);
    }

    /// <summary>The home's own crops, each as JSON, by name: all that most questions about seed need of what the facts come to.</summary>
    /// <param name="cancel">Ends the wait.</param>
    async ValueTask<IReadOnlyList<(CropId Crop, string Json)>> OwnCropsAsync(CancellationToken cancel = default) =>
        (await HomeAsync(cancel)).Home.Crops;

    /// <summary>The temperatures of the readings of a probe, some hundreds at a time: they are most of what answers rest on. Each part is
    /// good until the next is asked for.</summary>
    /// <param name="probe">Whose, by its present name.</param>
    /// <param name="interval">From when on, up to and without when.</param>
    /// <param name="receivedBy">Only those received by then; null for all.</param>
    /// <param name="cancel">Ends the stream.</param>
    async IAsyncEnumerable<ReadOnlyMemory<TemperatureSample>> TemperaturesAsync(ProbeId probe, Interval interval,
        Instant? receivedBy = null, [EnumeratorCancellation] CancellationToken cancel = default)
    {
        const int most = 512;
        var part = new List<TemperatureSample>(most);
        await foreach (var reading in ReadingsAsync(probe, interval, cancel))
        {
            if (reading.Temperature is { } temperature && (receivedBy is null || reading.ReceivedAt <= receivedBy))
            {
                part.Add(new(reading.MeasuredAt, temperature));
            }

            if (part.Count == most)
            {
                yield return part.ToArray();
                part.Clear();
            }
        }

        if (part.Count > 0)
        {
            yield return part.ToArray();
        }
    }

    /// <summary>Every probe that the store has a name for, because it spoke or was set up: the present names, in order.</summary>
    /// <param name="cancel">Ends the wait.</param>
    async ValueTask<IReadOnlyList<ProbeId>> ProbesAsync(CancellationToken cancel = default)
    {
        var spoken = (await ChangesSinceAsync(JournalMark.Beginning, cancel)).Stretches.Select(stretch => stretch.Probe);
        var setUp = (await HomeAsync(cancel)).Home.Probes.Select(entry => entry.Probe.Id);
        return [.. spoken.Concat(setUp).Distinct().OrderBy(probe => probe.Text, StringComparer.Ordinal)];
    }

    /// <summary>The newest of each quantity of every probe that has spoken. What was set aside is passed over; what lies more than a
    /// quarter of an hour ahead waits until its time has come.</summary>
    /// <param name="now">The time that it is.</param>
    /// <param name="cancel">Ends the wait.</param>
    ValueTask<IReadOnlyList<LatestReading>> LatestAsync(Instant now, CancellationToken cancel = default) =>
        NewestReadings.OfAsync(this, now, cancel);
}
