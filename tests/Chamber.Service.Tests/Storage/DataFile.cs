using Chamber.Core.Climate;
using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Tests.Storage;

/// <summary>A real data file in its own folder, gone when disposed.</summary>
internal sealed class DataFile : IDisposable
{
    public static readonly Instant Start = Instant.FromUtc(2026, 2, 1, 6, 0);

    private readonly string folder = Directory.CreateTempSubdirectory("chamber-storage-").FullName;

    public string Path => System.IO.Path.Combine(folder, "chamber.db");

    public string Beside(string name) => System.IO.Path.Combine(folder, name);

    public ChamberStore Open(StoreOptions? options = null) => ChamberStore.Open(Path, options);

    /// <summary>A reading so many minutes after the start.</summary>
    public static Reading At(double minutes, double? celsius = 21.5, string probe = "shelf", double? humidity = null)
    {
        var at = Start + Duration.FromMilliseconds((long)(minutes * 60_000));
        return new(
            new(probe),
            at,
            at + Duration.FromMilliseconds(40),
            celsius is { } value ? Temperature.FromCelsius(value) : null,
            humidity is { } percent ? RelativeHumidity.FromPercent(percent) : null);
    }

    public static IReadOnlyList<Reading> Minutes(int first, int count, string probe = "shelf") =>
        [.. Enumerable.Range(first, count).Select(minute => At(minute, 20 + minute % 50 / 10.0, probe))];

    public void Dispose() => Directory.Delete(folder, recursive: true);
}
