using Chamber.Service.Health;
using NodaTime;

namespace Chamber.Service.Web.Views;

/// <summary>Version, data, readings and broker of the service.</summary>
/// <param name="Version">Its version.</param>
/// <param name="Data">Where its data is.</param>
/// <param name="Bytes">How large the database is.</param>
/// <param name="Readings">Readings kept one by one.</param>
/// <param name="RolledUp">Stretches that stand for older ones.</param>
/// <param name="NewestAt">When the newest reading was measured; null before the first.</param>
/// <param name="Broker">Where sensors reach the broker.</param>
/// <param name="BrokerConnected">Whether it is connected.</param>
/// <param name="BrokerFault">What is wrong with it, or null.</param>
/// <param name="Probes">Probes that have spoken.</param>
/// <param name="Spots">Spots that are set up.</param>
/// <param name="BatchesUnderWay">Batches that have not ended.</param>
/// <param name="LeftOut">What lies in the file beyond bounds and so counts for nothing, a sentence each.</param>
internal sealed record ServiceState(
    string Version, string Data, long Bytes, long Readings, long RolledUp, Instant? NewestAt, string Broker, bool BrokerConnected,
        string? BrokerFault, int Probes, int Spots, int BatchesUnderWay, IReadOnlyList<string> LeftOut)
{
    /// <summary>Of the service that keeps the home in a data file.</summary>
    public static ServiceState Of(PageHome page, BrokerState broker)
    {
        var (kept, rolled) = page.Store.Journal.Size();
        var latest = page.Read().Ledger.Readings.Latest(page.Now).Values.ToList();
        return new(
            ProgramVersion.Text,
            page.Data.Path,
            new[] { page.Data.Database, page.Data.Database + "-wal" }.Where(File.Exists).Sum(file => new FileInfo(file).Length),
            kept,
            rolled,
            latest.Count == 0 ? null : latest.Max(reading => reading.MeasuredAt),
            page.BrokerAddress,
            broker.IsConnected,
            broker.Fault,
            latest.Count,
            page.Read().Spots().Count,
            page.Read().Ledger.OpenBatches.Count,
            page.Store.FindLeftOut());
    }
}
