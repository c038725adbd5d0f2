using Chamber.Core.Crops;
using Chamber.Service.Configuration;
using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Home;

/// <summary>
/// Makes the readers of this home. While nothing was written and hardly any time has passed everybody gets the same one, so that what
/// one question has worked out serves the next; what the batches have taught is kept for longer (<see cref="HomeLearning"/>).
/// Any thread may ask.
/// </summary>
internal sealed class HomeContext(ChamberStore store, Settings settings, DataDirectory data, TimeProvider clock)
{
    /// <summary>For so long a reader is handed out again.</summary>
    public static readonly Duration AgeMax = Duration.FromSeconds(5);

    private readonly Lock gate = new();
    private readonly HomeLearning learning = new(store);
    private readonly Dictionary<TemperatureScale, (Mark Mark, HomeReader Reader)> readers = [];
    private (CropsMark Mark, CropCatalog Crops)? catalog;

    public ChamberStore Store => store;

    public Settings Settings => settings;

    public DataDirectory Data => data;

    public TimeProvider Clock => clock;

    public DateTimeZone Zone { get; } = settings.Zone;

    public Instant Now => Instant.FromDateTimeOffset(clock.GetUtcNow());

    /// <summary>The home as it was known at a moment: from what was written down and received by then. Its crops.json and settings are
    /// those of now.</summary>
    /// <param name="known">The moment.</param>
    /// <param name="then">What was in the file then; whoever asks disposes of it.</param>
    public HomeContext AsOf(Instant known, out ChamberStore then) =>
        new(then = store.AsOf(known), settings, data, new HeldClock(known));

    /// <summary>The home as it is now.</summary>
    /// <param name="scale">How sentences put temperatures; null for what the settings say.</param>
    /// <exception cref="BadInputException">The user's own crops cannot be used.</exception>
    public HomeReader Read(TemperatureScale? scale = null)
    {
        var (shown, now, mark) = (scale ?? settings.Units, Now, Seen());
        lock (gate)
        {
            if (mark is { } current && readers.TryGetValue(shown, out var kept) && kept.Mark == current && now - kept.Reader.Now is var age
                && age >= Duration.Zero && age <= AgeMax)
            {
                return kept.Reader;
            }

            var reader = new HomeReader(store, Catalog(), Zone) { Now = now, Scale = shown, StopBelow = settings.StopWaitingBelow,
                Learned = learning.Of };
            if (mark is { } seen)
            {
                readers[shown] = (seen, reader);
            }

            return reader;
        }
    }

    // What a reader rests on; null when the file cannot say: then nothing is kept.
    private Mark? Seen()
    {
        try
        {
            return new(store.DataVersion, store.Commits, CropsMark.Of(data));
        }
        catch (StoreException)
        {
            return null;
        }
    }

    // The same catalog as long as its sources are the same: what was learned is of these crops.
    private CropCatalog Catalog()
    {
        var mark = CropsMark.Of(data) with { Kept = string.Join('\n', store.Ledger.Crops.All()) };
        if (catalog is not { } known || known.Mark != mark)
        {
            catalog = known = (mark, CropFile.Catalog(data, store));
        }

        return known.Crops;
    }

    private readonly record struct Mark(long Foreign, long Own, CropsMark Crops);

    /// <summary>The user's own crops: their file as it was last written, and those kept in the ledger.</summary>
    private readonly record struct CropsMark(DateTime Written, long Length, string Kept)
    {
        public static CropsMark Of(DataDirectory data) =>
            new FileInfo(data.Crops) is { Exists: true } file ? new(file.LastWriteTimeUtc, file.Length, "") : new(default, 0, "");
    }
}
