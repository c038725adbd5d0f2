using Chamber.Club.Pages;
using Chamber.Club.People;
using Chamber.Club.Store;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.Extensions.DependencyInjection;

namespace Chamber.Club.Tests.Pages;

/// <summary>The pages of a club with two homes, served by Kestrel on a free port, on a database of its own.</summary>
public sealed class ClubSite(ClubServer server) : IAsyncLifetime
{
    private WebApplication? pages;

    internal ClubDatabase Club { get; private set; } = null!;

    internal string DatabaseAddress { get; private set; } = "";

    internal string Address { get; private set; } = "";

    internal int Mill { get; private set; }

    internal int Weir { get; private set; }

    internal Invitations Invitations { get; private set; } = null!;

    /// <summary>Homes of which the silos were told that something was written.</summary>
    internal List<int> Told { get; } = [];

    internal HomeSites Sites => pages!.Services.GetRequiredService<HomeSites>();

    public async ValueTask InitializeAsync()
    {
        DatabaseAddress = await server.Address();
        Club = ClubDatabase.Open(DatabaseAddress);
        (Mill, Weir) = (await Club.AddHomeAsync("mill-lane-4", default), await Club.AddHomeAsync("weir-house", default));
        Invitations = new(Club, TimeProvider.System);
        pages = PageHost.Build(Club, new(new(System.Net.IPAddress.Loopback, 0), null, false, "broker.club.example:8883"), home =>
        {
            lock (Told)
            {
                Told.Add(home);
            }
        });
        await pages.StartAsync();
        Address = pages.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()!.Addresses.Single();
    }

    /// <summary>Somebody who came to a home by a link that its keeper or owner made.</summary>
    internal async Task<Visitor> Person(string name, int home, Role role)
    {
        var visitor = new Visitor(Address);
        Assert.NotNull((await visitor.ComeIn(await Link(home, role), name)).To);
        return visitor;
    }

    internal Task<string> Link(int home, Role role) => Invitations.InviteAsync(home, role, "somebody", default);

    public async ValueTask DisposeAsync()
    {
        await pages!.DisposeAsync();
        await Club.DisposeAsync();
    }
}
