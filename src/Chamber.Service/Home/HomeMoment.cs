using NodaTime;

namespace Chamber.Service.Home;

/// <summary>This home at one moment: what is worked out of it, each once however often it is asked. Any thread may ask.</summary>
internal sealed class HomeMoment(HomeReader home, HomeLedger ledger, Instant now)
{
    private readonly Lazy<HomeForecasts> forecasts = Once<HomeForecasts>(() => new(home, now));
    private readonly Lazy<HomeSeeds> seeds = Once<HomeSeeds>(() => new(home, now));
    private readonly Lazy<HomeHindsight> hindsight = Once<HomeHindsight>(() => new(home, now));
    private readonly Lazy<HomeDiagnoses> diagnoses = Once<HomeDiagnoses>(() => new(home, now));

    public Instant Now => now;

    /// <summary>What was recorded by then.</summary>
    public HomeLedger Ledger => ledger;

    public HomeForecasts Forecasts => forecasts.Value;

    public HomeSeeds Seeds => seeds.Value;

    public HomeHindsight Hindsight => hindsight.Value;

    public HomeDiagnoses Diagnoses => diagnoses.Value;

    // What was not at hand is asked for again.
    private static Lazy<T> Once<T>(Func<T> make) => new(make, LazyThreadSafetyMode.PublicationOnly);
}
