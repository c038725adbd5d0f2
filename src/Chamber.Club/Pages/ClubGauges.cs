using System.Diagnostics.Metrics;
using Chamber.Club.Store;
using Chamber.Club.Telemetry;

namespace Chamber.Club.Pages;

/// <summary>The state of the whole club for a scraper, as its keepers see it on their page; asked for once a minute.</summary>
internal sealed class ClubGauges : IDisposable
{
    private static readonly TimeSpan Every = TimeSpan.FromMinutes(1);

    private readonly Meter meter = new(ClubSignals.Name);
    private readonly CancellationTokenSource ended = new();
    private readonly Task following;
    private volatile ClubTotals? last;

    public ClubGauges(ClubDatabase club, HomeSites sites, TimeProvider time)
    {
        meter.CreateObservableGauge("chamber.club.sites", () => sites.Count, null, "Homes that have a page open in this process.");
        Add("chamber.club.silos", null, "Silos at work, as the database has it.", totals => totals.Silos);
        Add("chamber.club.homes", null, "Homes of the club.", totals => totals.Homes);
        Add("chamber.club.database.size", "By", "The club's database.", totals => totals.Bytes);
        following = FollowAsync(club, time);
    }

    public void Dispose()
    {
        ended.Cancel();
        meter.Dispose();
        _ = following.ContinueWith(_ => ended.Dispose(), TaskScheduler.Default);
    }

    private void Add(string name, string? unit, string words, Func<ClubTotals, long> value) => meter.CreateObservableGauge(
        name, () => last is { } totals ? [new Measurement<long>(value(totals))] : Array.Empty<Measurement<long>>(), unit, words);

    private async Task FollowAsync(ClubDatabase club, TimeProvider time)
    {
        using var timer = new PeriodicTimer(Every, time);
        try
        {
            do
            {
                try
                {
                    last = await ClubTotals.ReadAsync(club, ended.Token);
                }
                catch (StoreException)
                {
                    // That it is away is counted where it was asked.
                    last = null;
                }
            }
            while (await timer.WaitForNextTickAsync(ended.Token));
        }
        catch (OperationCanceledException)
        {
            // The process ends.
        }
    }
}
