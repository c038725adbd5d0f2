using Chamber.Club.Store;
using Chamber.Core;
using Chamber.Core.Alerts;
using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Diagnosis;
using Chamber.Core.Facts;
using Chamber.Core.Forecasts.Learning;
using Chamber.Service.Configuration;
using Chamber.Service.Ground;
using Chamber.Service.Home;
using Chamber.Service.Home.Watching;
using Chamber.Storage.Moving;
using NodaTime;

namespace Chamber.Club.Homes;

/// <summary>
/// What the watch of a home is given to know, worked out by the same code as in the service of a single home: what was written down, what
/// surveys found, what forecasts have brought due, and what is set. Belongs to one caller at a time.
/// </summary>
internal sealed class HomeInsight
{
    private readonly IHomeStore facts;
    private readonly ClubHomeRecords records;
    private readonly Func<Task<string?>> crops;
    private readonly Func<CancellationToken, Task<SharedKnowledge?>> others;
    private readonly Func<FactLog> log;
    private HomeContext context = null!;
    private WatchFacts watched = null!;
    private string? written;
    private string? ownCrops;
    private SharedKnowledge? known;
    private bool hasCrops;
    private bool isStale = true;

    /// <param name="club">The club's database.</param>
    /// <param name="home">The home's number.</param>
    /// <param name="log">What was written down, as far as it is seen.</param>
    /// <param name="others">What other homes have taught: the same object while it is the same.</param>
    public HomeInsight(ClubDatabase club, int home, Func<FactLog> log, Func<CancellationToken, Task<SharedKnowledge?>> others)
    {
        (this.log, this.others) = (log, others);
        facts = new SeenHome(club.Home(home), log);
        records = new(club, home, facts);
        crops = () => club.AsAsync(home, session => PartRows.TextAsync(session, home, HomeFolder.Crops), CancellationToken.None);
        Use();
    }

    /// <summary>What is set for the home.</summary>
    public Settings Settings => context.Settings;

    /// <summary>The same as it was written; null where nothing is.</summary>
    public string? SetText => written;

    /// <summary>How sentences about it are put.</summary>
    public WordStyle Style => new(Settings.Units == TemperatureScale.Fahrenheit, Settings.Zone);

    /// <summary>Why forecasts and surveys cannot be had now; null while they can.</summary>
    public string? Problem { get; private set; }

    /// <summary>Whether what is known has to be worked out again: something was written or set, forecasts have moved on, or a week was
    /// surveyed.</summary>
    public bool IsOldAt(Instant now) => isStale || watched.AreOld(now);

    /// <summary>Something was written down.</summary>
    public void NoteWritten() => isStale = true;

    /// <summary>Takes over what is set for the home.</summary>
    /// <param name="text">As it was written; null for nothing.</param>
    /// <returns>Whether that is something else than before.</returns>
    public bool Set(string? text)
    {
        if (text == written)
        {
            return false;
        }

        (hasCrops, written) = (false, text);
        Use();
        return true;
    }

    /// <summary>All of it at an instant. Where nothing can be worked out of what was written down, what stands there counts all the same,
    /// so that a danger is told.</summary>
    /// <exception cref="StoreException">The database is away; it is asked for again by the next look.</exception>
    public async Task<HomeFacts> AtAsync(Instant now, Instant? endedAfter, CancellationToken cancel)
    {
        isStale = true;
        var taught = await others(cancel);
        if (!hasCrops || !ReferenceEquals(taught, known))
        {
            (ownCrops, known, hasCrops) = (await crops(), taught, true);
            Use();
        }

        var home = context.Loaded(now);
        try
        {
            var all = await AtHand.AskAsync(() => Explained(watched.At(home, now), home), cancel);
            (isStale, Problem) = (false, null);
            return all;
        }
        catch (Exception problem) when (problem is RefusedException or BadInputException or FormatException)
        {
            Problem = problem.Message;
            return Written(endedAfter);
        }
    }

    /// <summary>What was written down and set, and nothing that is worked out of readings.</summary>
    public HomeFacts Written(Instant? endedAfter) => HomeFacts.Of(log().Home.ToParts(), CropCatalog.Shipped.Find, endedAfter) with
    {
        Zone = Settings.Zone,
        Limits = Settings.WatchLimits(),
    };

    /// <summary>The home as it is at an instant, for whoever makes words of it, by <see
    /// cref="AtHand.AskAsync{T}(Func{T}, CancellationToken)"/>.</summary>
    public HomeReader ReadAt(Instant now) => context.Loaded(now);

    // Words about a batch that is given up say why; asked for later, their reader would have to be loaded again.
    private static HomeFacts Explained(HomeFacts known, HomeReader home)
    {
        var causes = known.Batches.Where(one => one.StopWaitingFrom is not null)
            .ToDictionary(one => one.Batch.Id, one => home.DiagnosisOf(one.Batch.Id));
        return known with { DiagnosisOf = new KnownCauses(causes).Of };
    }

    // Written down with the watch, and so an object of its own.
    private sealed class KnownCauses(Dictionary<BatchId, BatchDiagnosis?> causes)
    {
        public BatchDiagnosis? Of(BatchId batch) => causes.GetValueOrDefault(batch);
    }

    private void Use()
    {
        var (settings, taught) = (SettingRows.Of(written), known);
        context = ClubHomeContext.Unshown(facts, records, new(settings, ownCrops), TimeProvider.System, () => taught);
        watched = new(context, new(settings, ClubHomeContext.Data, []));
        isStale = true;
    }
}
