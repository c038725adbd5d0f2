using System.IO.Compression;
using System.Security.Cryptography;
using Chamber.Club.Store;
using Chamber.Core.Alerts;
using Chamber.Core.Alerts.Conditions;
using Chamber.Core.Alerts.Limits;
using Chamber.Core.Alerts.Watching;
using Chamber.Core.Crops;
using Chamber.Core.Facts;
using Chamber.Service.Configuration;

namespace Chamber.Club.Checkpoints;

/// <summary>
/// How far a home had come: its watch as it stood, with what it rests on. It spares whoever wakes the home the reading of its past, and
/// says nothing that facts and readings would not say: it is read by the very program that wrote it, or not at all.
/// </summary>
/// <param name="Watch">The watch.</param>
/// <param name="Facts">What it was given to know.</param>
/// <param name="Settings">What was set for the home, as it was written; null for nothing.</param>
/// <param name="Told">The alerts that were told, with their numbers.</param>
/// <param name="Mark">Up to where readings were taken in.</param>
/// <param name="Refused">The number of the last refusal that was taken in.</param>
internal sealed record HomeCheckpoint(HomeWatch Watch, HomeFacts Facts, string? Settings, List<(long Number, Alert Alert)> Told,
    JournalMark Mark, long Refused)
{
    private const int HashLength = 32;

    /// <summary>Whether these are the alerts that were told: where more was told since, or something else, the watch would not know of
    /// it.</summary>
    /// <param name="kept">Alerts as they were kept, each with the newest fact then.</param>
    /// <param name="log">What was known of the home by facts.</param>
    public bool HasTold(IReadOnlyList<(AlertEntry Alert, long Known)> kept, FactLog log)
    {
        var known = Told.ToDictionary(one => one.Number, one => AlertRecords.ToEntry(one.Alert, one.Number));
        return kept.All(one => ConditionRegistry.Find(one.Alert.Kind.Name) is null
            || (known.TryGetValue(one.Alert.Number, out var told)
                && told == one.Alert with { Subject = AlertNames.Now(log, one.Alert.Subject, one.Known), Notified = told.Notified }));
    }

    /// <summary>As it is kept.</summary>
    /// <param name="settings">What is set for the home.</param>
    /// <exception cref="GraphException">Something in it cannot be written down.</exception>
    public byte[] Write(Settings settings)
    {
        var plain = GraphWriter.Write(this, Given(settings, Facts.Limits));
        var packed = new byte[BrotliEncoder.GetMaxCompressedLength(plain.Length)];
        return BrotliEncoder.TryCompress(plain.Span, packed, out var length, quality: 1, window: 20)
            ? [.. SHA256.HashData(packed.AsSpan(0, length)), .. BitConverter.GetBytes(plain.Length), .. packed.AsSpan(0, length)]
            : throw new GraphException("It cannot be packed.");
    }

    /// <summary>Null for one that does not fit.</summary>
    /// <param name="kept">As it was kept.</param>
    /// <param name="settings">What is set for the home.</param>
    public static HomeCheckpoint? Read(ReadOnlyMemory<byte> kept, Settings settings)
    {
        if (kept.Length < HashLength + sizeof(int)
            || !SHA256.HashData(kept.Span[(HashLength + sizeof(int))..]).AsSpan().SequenceEqual(kept.Span[..HashLength]))
        {
            return null;
        }

        var plain = new byte[BitConverter.ToInt32(kept.Span[HashLength..])];
        try
        {
            return BrotliDecoder.TryDecompress(kept.Span[(HashLength + sizeof(int))..], plain, out var length) && length == plain.Length
                ? GraphReader.Read<HomeCheckpoint>(plain, Given(settings, settings.WatchLimits())) : null;
        }
        catch (GraphException)
        {
            return null;
        }
    }

    // What is there for all homes, or made again from what is set: it is named and not written.
    private static object[] Given(Settings settings, WatchLimits limits) =>
        [settings.Zone, limits, .. HomeWatch.SharedByAll, .. CropCatalog.Shipped.Crops];
}
