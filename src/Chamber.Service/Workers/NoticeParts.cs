using Chamber.Core.Spots;
using Chamber.Service.Configuration;
using Chamber.Service.Home;
using Chamber.Service.Notify;
using Chamber.Service.Plots;
using Chamber.Storage;

namespace Chamber.Service.Workers;

/// <summary>Puts together what tells people: the channels, the outbox and what makes notices. For the service and the command line alike.</summary>
internal static class NoticeParts
{
    public static void AddNotices(this IServiceCollection services, Settings settings, DataDirectory data, NoticeSettings notices)
    {
        services.AddSingleton(notices);
        services.AddSingleton<NoticeSetUp>();
        services.AddSingleton(Composer(settings, data, () => notices.Notices.PageLink));
        services.AddSingleton(provider =>
        {
            var channels = Channels(settings, data, provider.GetRequiredService<ChamberStore>(), provider.GetRequiredService<TimeProvider>());
            notices.Changed += () => channels.Use(notices.Notices);
            return channels;
        });
        services.AddSingleton(provider => new NoticeSender(
            provider.GetRequiredService<ChamberStore>().Ledger.Notices,
            provider.GetRequiredService<NoticeChannels>().All,
            provider.GetRequiredService<TimeProvider>(),

            // Tries only have to differ from those of other homes.
            new Random(Environment.ProcessId),
            provider.GetRequiredService<ILogger<NoticeSender>>()));
        services.AddSingleton<NoticeBell>();
        services.AddSingleton<NoticeWorker>();
        services.AddSingleton<NoticeDesk>();
    }

    /// <exception cref="BadInputException">A template cannot be used.</exception>
    public static NoticeComposer Composer(Settings settings, DataDirectory data, Func<string?>? pageLink = null) =>
        new(NoticeTemplates.Load(data), pageLink ?? (() => settings.Notices.PageLink), settings.Home.Zone ?? MachineZone.Find());

    /// <exception cref="BadInputException">A file with a secret cannot be read.</exception>
    public static NoticeChannels Channels(Settings settings, DataDirectory data, ChamberStore store, TimeProvider time) => new(
        settings.Notices,
        data,
        store,
        time,
        notice => notice.PlotSpot is { } spot ? SpotPlots.LastDay(Reader(settings, data, store), new SpotId(spot), notice.At) : null);

    /// <summary>This home, read afresh.</summary>
    public static HomeReader Reader(Settings settings, DataDirectory data, ChamberStore store) =>
        new(store, CropFile.Catalog(data, store), settings.Home.Zone ?? MachineZone.Find()) { Scale = settings.Units, StopBelow = settings.StopWaitingBelow };
}
