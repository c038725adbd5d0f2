using System.Net;
using Chamber.Club.Notices;
using Chamber.Club.Sharing;
using Chamber.Club.Store;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Logging;
using Orleans.Configuration;

namespace Chamber.Club.Homes;

/// <summary>Makes a silo, and whoever asks the silos. Which silos there are stands in the club's database.</summary>
internal static class SiloHost
{
    private const string Invariant = "Npgsql";
    private const string Name = "chamber-club";

    /// <summary>An answer that takes longer than this is asked for again: the silo that was asked may stand still.</summary>
    public static readonly TimeSpan AnswerWithin = TimeSpan.FromMilliseconds(1500);

    /// <summary>The same for what silos ask one another, and homes are told: in the minute in which all homes wake answers are
    /// late.</summary>
    public static readonly TimeSpan ToldWithin = TimeSpan.FromSeconds(5);

    // One silo that does not answer for three seconds is taken for dead by the word of one other where there are two, of two others where
    // there are more.
    private static readonly TimeSpan ProbeEvery = TimeSpan.FromSeconds(1);
    private const int MissedMax = 3;
    private const int Votes = 2;

    // Answers that come slowly make Orleans wait longer for the next; a frozen silo must not profit from a busy minute before.
    private static readonly TimeSpan ProbeWithin = TimeSpan.FromSeconds(2);

    // A silo that has not written down for six seconds that it lives is asked by whoever joins, and given up when it does not answer: after
    // a power cut the first one need not wait for the others, who are all dead.
    private static readonly TimeSpan AliveEvery = TimeSpan.FromSeconds(2);
    private const int AliveMissedMax = 3;

    /// <param name="database">The club's database.</param>
    /// <param name="address">How to reach it, for Orleans.</param>
    /// <param name="endpoint">Where other silos reach this one.</param>
    /// <param name="gatewayPort">Where whoever asks reaches it.</param>
    /// <param name="mail">How notices leave; null for not at all.</param>
    /// <param name="listenPort">Where it listens for other silos, when something passes the port of its endpoint on to it.</param>
    /// <param name="log">What is at least worth a line.</param>
    public static IHost Silo(ClubDatabase database, string address, IPEndPoint endpoint, int gatewayPort,
        ClubMail? mail = null, int? listenPort = null, LogLevel log = LogLevel.Information)
    {
        var builder = Builder();
        builder.Logging.SetMinimumLevel(log);
        builder.Services.AddSingleton(database);
        builder.Services.AddSingleton(TimeProvider.System);
        builder.Services.AddSingleton<ClubLearned>();
        if (mail is not null)
        {
            builder.Services.AddSingleton(mail);
        }

        builder.UseOrleans(silo =>
        {
            silo.Configure<ClusterOptions>(Named);
            silo.UseAdoNetClustering(options => (options.Invariant, options.ConnectionString) = (Invariant, address));
            silo.UseAdoNetReminderService(options => (options.Invariant, options.ConnectionString) = (Invariant, address));
            silo.ConfigureEndpoints(endpoint.Address, endpoint.Port, gatewayPort, listenOnAnyHostAddress: false);
            silo.Configure<EndpointOptions>(options => options.SiloListeningEndpoint = new(endpoint.Address, listenPort ?? endpoint.Port));
            silo.Configure<SiloMessagingOptions>(options => options.ResponseTimeout = ToldWithin);
            silo.Configure<ClusterMembershipOptions>(options =>
            {
                options.ProbeTimeout = ProbeEvery;
                options.MaxProbeTimeout = ProbeWithin;
                options.IAmAliveTablePublishTimeout = AliveEvery;
                options.NumMissedTableIAmAliveLimit = AliveMissedMax;
                options.TableRefreshTimeout = AliveEvery;
                options.NumMissedProbesLimit = MissedMax;
                options.NumVotesForDeathDeclaration = Votes;
            });
        });
        return builder.Build();
    }

    /// <summary>Whoever asks the silos; its start waits until one of them is there, or it is cancelled.</summary>
    /// <param name="address">How to reach the club's database, where the silos stand.</param>
    /// <param name="refused">Is told why none is reached, each time that it is tried.</param>
    /// <param name="within">How long an answer may take; null for <see cref="AnswerWithin"/>.</param>
    public static IHost Client(string address, Action<Exception>? refused = null, TimeSpan? within = null)
    {
        var builder = Builder();
        builder.UseOrleansClient(client =>
        {
            client.Configure<ClusterOptions>(Named);
            client.UseAdoNetClustering(options => (options.Invariant, options.ConnectionString) = (Invariant, address));
            client.Configure<ClientMessagingOptions>(options => options.ResponseTimeout = within ?? AnswerWithin);
            client.Configure<GatewayOptions>(options => options.GatewayListRefreshPeriod = ProbeEvery);
            client.UseConnectionRetryFilter(async (problem, cancel) =>
            {
                refused?.Invoke(problem);
                await Task.Delay(ProbeEvery, TimeProvider.System, cancel);
                return true;
            });
        });
        return builder.Build();
    }

    private static void Named(ClusterOptions options) => (options.ClusterId, options.ServiceId) = (Name, Name);

    private static HostApplicationBuilder Builder()
    {
        var builder = Host.CreateApplicationBuilder(new HostApplicationBuilderSettings { DisableDefaults = true });
        builder.Logging.AddSimpleConsole(line => line.SingleLine = true);
        builder.Logging.SetMinimumLevel(LogLevel.Information);
        builder.Logging.AddFilter("Orleans", LogLevel.Error);
        builder.Logging.AddFilter("Microsoft", LogLevel.Warning);
        builder.Logging.AddFilter("Polly", LogLevel.Error);
        return builder;
    }
}
