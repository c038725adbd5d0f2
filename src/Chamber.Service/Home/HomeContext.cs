using Chamber.Core.Crops;
using Chamber.Service.Configuration;
using Chamber.Storage;
using Chamber.Storage.Past;
using NodaTime;

namespace Chamber.Service.Home;

/// <summary>
/// Makes the readers of this home. While nothing was written and hardly any time has passed everybody gets the same one, so that what
/// one question has worked out serves the next; what the batches have taught is kept for longer (<see cref="HomeLearning"/>).
/// Any thread may ask.
/// </summary>
internal sealed class HomeContext
{
    /// <summary>For so long a reader is handed out again.</summary>
    public static readonly Duration AgeMax = Duration.FromSeconds(5);

    private readonly Lock gate = new();
    private readonly ChamberStore file;
    private readonly HomeAsOf? past;
    private readonly HomeLearning learning;
    private readonly Dictionary<TemperatureScale, (Mark Mark, HomeReader Reader)> readers = [];
    private (CropsMark Mark, CropCatalog Crops)? catalog;

    public HomeContext(ChamberStore store, Settings settings, DataDirectory data, TimeProvider clock)
        : this(store, null, settings, data, clock)
    {
    }

    private HomeContext(ChamberStore file, HomeAsOf? past, Settings settings, DataDirectory data, TimeProvider clock)
    {
        (this.file, this.past, Settings, Data, Clock, Zone) = (file, past, settings, data, clock, settings.Zone);
        learning = new(Facts);
    }

    /// <summary>The data file, for whoever writes.</summary>
    /// <exception cref="InvalidOperationException">This is the home as it was known earlier: it can only be read.</exception>
    public ChamberStore Store => past is null ? file
        : throw new InvalidOperationException("What was known at an earlier time is asked of its reader, and cannot be written.");

    public Settings Settings { get; }

    public DataDirectory Data { get; }

    public TimeProvider Clock { get; }

    public DateTimeZone Zone { get; }

    public Instant Now => Instant.FromDateTimeOffset(Clock.GetUtcNow());

    private IHomeStore Facts => past ?? file.Home;

    private IHomeRecords Records => past ?? file.Records;

    /// <summary>The home as it was known at a moment: from what was written down and received by then. Its crops.json and settings are
    /// those of now.</summary>
    public HomeContext AsOf(Instant known) =>
        new(file, new(file.Home, file.Records, new(file.Facts.Since(0)), known), Settings, Data, new HeldClock(known));

    /// <summary>The home as it is now.</summary>
    /// <param name="scale">How sentences put temperatures; null for what the settings say.</param>
    /// <exception cref="BadInputException">The user's own crops cannot be used.</exception>
    public HomeReader Read(TemperatureScale? scale = null)
    {
        var (shown, now, mark) = (scale ?? Settings.Units, Now, Seen());
        lock (gate)
        {
            if (mark is { } current && readers.TryGetValue(shown, out var kept) && kept.Mark == current && now - kept.Reader.Now is var age
                && age >= Duration.Zero && age <= AgeMax)
            {
                return kept.Reader;
            }

            // The home is read once, for the crops in it and for whatever is asked.
            var ledger = new HomeLedger(Facts, Records);
            var reader = new HomeReader(Facts, Records, Catalog(ledger.Crops), Zone) { Ledger = ledger, Now = now, Scale = shown,
                StopBelow = Settings.StopWaitingBelow, Learned = learning.Of };
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
            return new(file.DataVersion, file.Commits, CropsMark.Of(Data));
        }
        catch (StoreException)
        {
            return null;
        }
    }

    // The same catalog as long as its sources are the same: what was learned is of these crops.
    private CropCatalog Catalog(IReadOnlyList<(CropId Crop, string Json)> saved)
    {
        var mark = CropsMark.Of(Data) with { Kept = string.Join('\n', saved) };
        if (catalog is not { } known || known.Mark != mark)
        {
            catalog = known = (mark, CropFile.CatalogOrLastGood(Data, saved, file.LeaveOut));
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
