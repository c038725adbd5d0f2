using Chamber.Service.Configuration;
using Chamber.Service.Notify;
using Chamber.Storage;

namespace Chamber.Service.Workers;

/// <summary>Puts together what tells people: the channels, the outbox and what turns alerts into notices.</summary>
internal static class NoticeParts
{
    public static void AddNotices(this IServiceCollection services, Settings settings, DataDirectory data)
    {
        services.AddSingleton(provider => Channels(settings, data, provider.GetRequiredService<ChamberStore>(), provider.GetRequiredService<TimeProvider>()));
        services.AddSingleton(provider => new NoticeSender(
            provider.GetRequiredService<ChamberStore>().Ledger.Notices,
            provider.GetRequiredService<NoticeChannels>().All,
            provider.GetRequiredService<TimeProvider>(),

            // Tries only have to differ from those of other homes.
            new Random(Environment.ProcessId),
            provider.GetRequiredService<ILogger<NoticeSender>>()));
        services.AddSingleton<NoticeWorker>();
        services.AddSingleton(provider => new NoticeDesk(
            provider.GetRequiredService<NoticeSender>(), provider.GetRequiredService<NoticeWorker>(), settings.Notices, provider.GetRequiredService<TimeProvider>()));
    }

    /// <summary>The channels of a home, also for the command line.</summary>
    /// <exception cref="Commands.BadInputException">A file with a secret cannot be read.</exception>
    public static NoticeChannels Channels(Settings settings, DataDirectory data, ChamberStore store, TimeProvider time) =>
        new(settings.Notices, data, store, time, _ => null);
}
