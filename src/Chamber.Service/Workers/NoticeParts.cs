using Chamber.Core.Spots;
using Chamber.Service.Configuration;
using Chamber.Service.Home;
using Chamber.Service.Notify;
using Chamber.Service.Plots;
using Chamber.Storage;

namespace Chamber.Service.Workers;

/// <summary>Puts together what tells people: the channels, the outbox and what makes notices. For the service and the command line
/// alike.</summary>
internal static class NoticeParts
{
    public static void AddNotices(this IServiceCollection services, Settings settings, DataDirectory data, SettingsInForce notices)
    {
        services.AddSingleton(notices);
        services.AddSingleton<NoticeSetUp>();
        services.AddSingleton(NoticeComposer.For(settings, data, () => notices.Notices.PageLink));
        services.AddSingleton(provider =>
        {
            var channels = Channels(provider.GetRequiredService<HomeContext>());
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

    /// <exception cref="BadInputException">A file with a secret cannot be read.</exception>
    public static NoticeChannels Channels(HomeContext home) => new(
        home.Settings.Notices,
        home.Data,
        home.Store,
        home.Clock,
        notice => notice.PlotSpot is { } spot ? SpotPlots.LastDay(home.Read(), new SpotId(spot), notice.At) : null);
}
