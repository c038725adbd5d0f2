using Chamber.Core.Crops;
using Chamber.Core.Facts;
using Chamber.Core.Forecasts.Learning;
using Chamber.Service.Configuration;
using Chamber.Storage;
using Chamber.Storage.Past;
using Chamber.Storage.Writing;
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
    private readonly ChamberStore? file;
    private readonly IHomeStore facts;
    private readonly IHomeRecords records;
    private readonly HomeLearning learning = new();
    private readonly Dictionary<TemperatureScale, (Mark Mark, HomeReader Reader)> readers = [];
    private (FileMark Mark, CropCatalog Crops)? catalog;
    private (FileMark Mark, Lazy<SharedKnowledge?> Known)? others;
    private readonly Dictionary<TemperatureScale, HomeReader> before = [];
    private Lazy<SharedKnowledge?>? given;
    private string? ownCrops;

    /// <param name="store">The data file.</param>
    /// <param name="settings">What is set.</param>
    /// <param name="data">Where its data is.</param>
    /// <param name="clock">What time it is.</param>
    /// <param name="home">Where facts and readings are; in the data file by default.</param>
    public HomeContext(ChamberStore store, Settings settings, DataDirectory data, TimeProvider clock, IHomeStore? home = null)
        : this(store, null, home ?? store.Home, store.Records, settings, data, clock)
    {
    }

    /// <summary>The same of a home that others keep: there is no data file.</summary>
    /// <param name="host">Who keeps it.</param>
    /// <param name="facts">Where facts and readings are.</param>
    /// <param name="records">What is kept beside.</param>
    /// <param name="settings">What is set.</param>
    /// <param name="data">Where files of its own would lie; there need be none.</param>
    /// <param name="clock">What time it is.</param>
    /// <param name="others">What other homes have taught; asked once, when a forecast wants it. Null for nothing.</param>
    /// <param name="ownCrops">The home's crops.json; null for none.</param>
    public HomeContext(HomeHost host, IHomeStore facts, IHomeRecords records, Settings settings, DataDirectory data, TimeProvider clock,
        Func<SharedKnowledge?>? others = null, string? ownCrops = null)
        : this(null, host, facts, records, settings, data, clock) => (given, this.ownCrops) = (new(others ?? (() => null)), ownCrops);

    private HomeContext(ChamberStore? file, HomeHost? host, IHomeStore facts, IHomeRecords records, Settings settings,
        DataDirectory data, TimeProvider clock) => (this.file, Host, this.facts, this.records, Settings, Data, Clock, Zone) =
        (file, host, facts, records, settings, data, clock, settings.Zone);

    /// <summary>Who keeps the home; null for one in a data file here.</summary>
    public HomeHost? Host { get; }

    /// <summary>The data file, for what no reader knows.</summary>
    /// <exception cref="InvalidOperationException">This is the home as it was known earlier, which can only be read, or there is no
    /// file.</exception>
    public ChamberStore Store => facts is not HomeAsOf && file is { } here ? here
        : throw new InvalidOperationException("What was known at an earlier time, or is kept by others, is asked of its reader.");

    public Settings Settings { get; }

    public DataDirectory Data { get; }

    public TimeProvider Clock { get; }

    public DateTimeZone Zone { get; }

    public Instant Now => Instant.FromDateTimeOffset(Clock.GetUtcNow());

    /// <summary>Whether all of it is there when it is asked for: then a reader needs nothing loaded first.</summary>
    public bool IsAtHand => facts.IsAtHand;

    /// <summary>When a home that is not at hand was read last, as people write it; null before that.</summary>
    public string? ReadAt
    {
        get
        {
            lock (gate)
            {
                return before.Count == 0 ? null : TimeText.Show(before.Values.Max(home => home.Now), Zone, Now);
            }
        }
    }

    /// <summary>The home as it was known at a moment: from what was written down and received by then. Its crops.json and settings are
    /// those of now.</summary>
    public async ValueTask<HomeContext> AsOfAsync(Instant known)
    {
        var past = new HomeAsOf(facts, records, new(await facts.FactsSinceAsync(0)), known);
        return new(file, Host, past, past, Settings, Data, new HeldClock(known)) { given = given, ownCrops = ownCrops };
    }

    /// <summary>The home as it is now, wherever its facts and readings are; what is asked of it is asked by <see
    /// cref="AtHand.AskAsync{T}(Func{T}, CancellationToken)"/>. While it cannot be asked, as it was read last: what was loaded then is at
    /// hand still.</summary>
    /// <param name="scale">How sentences put temperatures; null for what the settings say.</param>
    /// <param name="last">What whoever asks has read last; null for nothing.</param>
    /// <param name="cancel">Ends the wait.</param>
    public async ValueTask<HomeReader> ReadAsync(
        TemperatureScale? scale = null, HomeReader? last = null, CancellationToken cancel = default)
    {
        var shown = scale ?? Settings.Units;
        if (IsAtHand)
        {
            return Read(shown);
        }

        try
        {
            var (store, beside) = (new LoadedStore(facts), new LoadedRecords(records));
            return Kept(shown, await AtHand.AskAsync(
                () =>
                {
                    // Small parts of a page ask for names and crops when nothing is loaded any more.
                    var home = Reader(store, beside, shown, Now);
                    _ = (home.Catalog, home.Ledger.Names);
                    return home;
                },
                cancel));
        }
        catch (StoreException problem) when (problem.Fault == StoreFault.Away && (last ?? Before(shown)) is { } known)
        {
            return known;
        }
    }

    private HomeReader Kept(TemperatureScale scale, HomeReader home)
    {
        lock (gate)
        {
            return before[scale] = home;
        }
    }

    private HomeReader? Before(TemperatureScale scale)
    {
        lock (gate)
        {
            return before.GetValueOrDefault(scale);
        }
    }

    /// <summary>The home at a moment for whoever asks by <see cref="AtHand.AskAsync{T}(Func{T}, CancellationToken)"/> and lets go of it
    /// then: nothing that is loaded for it is kept.</summary>
    public HomeReader Loaded(Instant now) => Reader(new LoadedStore(facts), new LoadedRecords(records), Settings.Units, now);

    /// <summary>Does something in a draft of the home as it is now, and writes that.</summary>
    /// <param name="act">What is done, as often as it takes: it may change nothing but the draft.</param>
    /// <param name="scale">How sentences put temperatures; null for what the settings say.</param>
    /// <returns>What the act answered, and the entries that were written.</returns>
    public async Task<(T Answer, IReadOnlyList<FactEntry> Entries)> WriteAsync<T>(Func<HomeReader, T> act, TemperatureScale? scale = null)
    {
        var home = await ReadAsync(scale);
        return await HomeDraft.WriteAsync(facts, records, draft => act(home.On(draft, draft)));
    }

    /// <summary>The same of a home that is at hand.</summary>
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

            var reader = Reader(facts, records, shown, now);
            if (mark is { } seen)
            {
                readers[shown] = (seen, reader);
            }

            return reader;
        }
    }

    // The home is read when something of it is asked: what a crop wants, or what was refused, needs none of it.
    private HomeReader Reader(IHomeStore store, IHomeRecords beside, TemperatureScale scale, Instant now)
    {
        var crops = new Lazy<CropCatalog>(() => Catalog(AtHand.Of(store.OwnCropsAsync())), LazyThreadSafetyMode.PublicationOnly);
        return new(store, beside, crops, Zone)
        {
            Now = now,
            Scale = scale,
            StopBelow = Settings.StopWaitingBelow,
            Learned = learning.Of,
            OthersWhenAsked = Others(),
        };
    }

    // What a reader rests on; null when the file cannot say: then nothing is kept.
    private Mark? Seen()
    {
        try
        {
            return file is null ? null : new(file.DataVersion, file.Commits, FileMark.Of(Data.Crops), FileMark.Of(Data.Experience));
        }
        catch (StoreException)
        {
            return null;
        }
    }

    // The same catalog as long as its sources are the same: what was learned is of these crops.
    private CropCatalog Catalog(IReadOnlyList<(CropId Crop, string Json)> saved)
    {
        var mark = FileMark.Of(Data.Crops) with { Kept = string.Join('\n', saved) };
        lock (gate)
        {
            if (catalog is not { } known || known.Mark != mark)
            {
                catalog = known = (mark, Host is null ? CropFile.CatalogOrLastGood(Data, saved, LeaveOut)
                    : CropFile.CatalogOf(ownCrops, saved, LeaveOut));
            }

            return known.Crops;
        }
    }

    private void LeaveOut(string name, string why) => file?.LeaveOut(name, why);

    // Learned again when somebody has taken more, or forgotten.
    private Lazy<SharedKnowledge?> Others()
    {
        if (given is not null)
        {
            return given;
        }

        var mark = FileMark.Of(Data.Experience);
        lock (gate)
        {
            if (others is not { } known || known.Mark != mark)
            {
                others = known = (mark, new Lazy<SharedKnowledge?>(() => ExperienceInUse.LearnOrNothing(Data, LeaveOut)));
            }

            return known.Known;
        }
    }

    private readonly record struct Mark(long Foreign, long Own, FileMark Crops, FileMark Experience);

    /// <summary>A file as it was last written; of the user's own crops with those kept in the ledger.</summary>
    private readonly record struct FileMark(DateTime Written, long Length, string Kept)
    {
        public static FileMark Of(string path) =>
            new FileInfo(path) is { Exists: true } file ? new(file.LastWriteTimeUtc, file.Length, "") : new(default, 0, "");
    }
}
