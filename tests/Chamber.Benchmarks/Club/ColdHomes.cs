using System.Diagnostics;
using Chamber.Club.Checkpoints;
using Chamber.Club.Homes;
using Chamber.Club.Pages;
using Chamber.Club.People;
using Chamber.Club.Store;
using Chamber.Testing;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;

namespace Chamber.Benchmarks.Club;

/// <summary>
/// How soon a home that is nowhere in memory answers, and is watched again: after all silos were stopped, from its whole past and from a
/// checkpoint; and how soon its page and API answer that nobody has used. Homes are asked one after the other. Arguments: homes, and how
/// many days of the past each has, four probes that speak each minute.
/// </summary>
internal static class ColdHomes
{
    public static async Task<int> Run(string[] arguments)
    {
        var (homes, days) = (ClubLoad.Number(arguments, 0, 20), ClubLoad.Number(arguments, 1, 14));
        await using var server = await PostgreSql.Start();
        var address = await server.MakeDatabase();
        await using var club = ClubDatabase.Open(address);
        await ClubHomes.Fill(club, homes, Duration.FromDays(days), Duration.FromMinutes(1));
        var now = SystemClock.Instance.GetCurrentInstant();
        for (var home = 1; home <= homes; home++)
        {
            while ((await club.RollUpAsync(home, now - Duration.FromDays(30))).More)
            {
            }
        }

        await Wake(server, address, homes, "from the whole past");
        var sizes = new List<int>();
        for (var home = 1; home <= homes; home++)
        {
            var kept = await club.AsAsync(home, session => CheckpointRows.FindAsync(session, home, GraphTypes.Stamp), default);
            sizes.Add(kept?.Body.Length ?? 0);
        }

        Measure.Say($"a checkpoint: {sizes.Average() / 1024:F0} KiB, {sizes.Count(size => size > 0)} of {homes} are there");
        await Wake(server, address, homes, "from a checkpoint");
        await Open(club, homes);
        return 0;
    }

    private static async Task Wake(PostgreSql server, string address, int homes, string how)
    {
        await using var programs = new ClubPrograms(server);
        var silo = await programs.Silo("silo", address);
        using var asking = SiloHost.Client(address);
        await asking.StartAsync();
        var grains = asking.Services.GetRequiredService<IGrainFactory>();
        await Until(grains.GetGrain<IHomeGrain>(1));
        var (before, memory) = (programs.Busy(), ClubPrograms.MegabytesOf(silo.Id));
        var (answers, watches) = (new List<double>(), new List<double>());
        for (var home = 2; home <= homes; home++)
        {
            var clock = Stopwatch.GetTimestamp();
            await grains.GetGrain<IHomeGrain>(home).ShowAsync();
            answers.Add(Stopwatch.GetElapsedTime(clock).TotalMilliseconds);
            await Until(grains.GetGrain<IHomeGrain>(home));
            watches.Add(Stopwatch.GetElapsedTime(clock).TotalMilliseconds);
        }

        Measure.Say($"a cold home, {how}, of {homes - 1} after a first: answers in {Spread(answers)}, is watched after {Spread(watches)}");
        programs.Tell("  all of them", homes - 1, before);
        Measure.Say($"  memory: {ClubPrograms.MegabytesOf(silo.Id) - memory} MB more");
        await asking.StopAsync();
        silo.AskToStop();
        await silo.End();
    }

    private static async Task Until(IHomeGrain grain)
    {
        while (await grain.ShowAsync() is { IsWatched: false })
        {
            await Task.Delay(TimeSpan.FromMilliseconds(2), TimeProvider.System);
        }
    }

    // Each by somebody who has signed in already.
    private static async Task Open(ClubDatabase club, int homes)
    {
        await using var pages = PageHost.Build(club, new(new(System.Net.IPAddress.Loopback, 0), null, false, "broker"), _ => { });
        await pages.StartAsync();
        using var http = new HttpClient(new HttpClientHandler { UseCookies = true }) { BaseAddress = new(pages.Urls.First()) };
        var invitations = new Invitations(club, TimeProvider.System);
        for (var home = 1; home <= homes; home++)
        {
            var secret = await invitations.InviteAsync(home, Role.Owner, "somebody", default);
            var form = await http.GetStringAsync(new Uri("/sign-in", UriKind.Relative));
            if (home > 1)
            {
                form = await http.GetStringAsync(new Uri($"/invitation/{secret}", UriKind.Relative));
            }

            var token = form.Split("__RequestVerificationToken\" value=\"")[1].Split('"')[0];
            using var filled = new FormUrlEncodedContent([new("name", "keeper"), new("password", "four plain short words"),
                new("__RequestVerificationToken", token)]);
            using var answer = await http.PostAsync(new Uri($"/invitation/{secret}", UriKind.Relative), filled);
        }

        await Ask("api/spots", 1, homes / 2);
        await Ask("", homes / 2, homes);
        return;

        async Task Ask(string page, int from, int to)
        {
            var (times, busy) = (new List<double>(), TimeSpan.Zero);
            for (var home = from; home < to; home++)
            {
                var (clock, processor) = (Stopwatch.GetTimestamp(), Environment.CpuUsage.TotalTime);
                using var answer = await http.GetAsync(new Uri($"/homes/{ClubHomes.Name(home)}/{page}", UriKind.Relative));
                answer.EnsureSuccessStatusCode();
                if (home > from)
                {
                    times.Add(Stopwatch.GetElapsedTime(clock).TotalMilliseconds);
                    busy += Environment.CpuUsage.TotalTime - processor;
                }
            }

            Measure.Say($"a home whose page nobody has open, {(page == "" ? "Today" : page)}: {Spread(times)}; {busy.TotalMilliseconds / times.Count:F0} ms of processor");
        }
    }

    private static FormattableString Spread(List<double> times)
    {
        times.Sort();
        return $"{times[times.Count / 2]:F0} ms in the middle and {times[times.Count * 95 / 100]:F0} for 95 in 100";
    }
}
