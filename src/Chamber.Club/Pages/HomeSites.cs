using Chamber.Club.People;
using Microsoft.AspNetCore.Http;

namespace Chamber.Club.Pages;

/// <summary>The sites of the homes that somebody uses: made when somebody comes, and let go some minutes after the last has left. Any
/// thread may ask.</summary>
internal sealed class HomeSites(ClubParts club) : IAsyncDisposable
{
    /// <summary>So many at most in one process.</summary>
    public const int SitesMax = 500;

    /// <summary>A site that nobody has used for so long is let go.</summary>
    public static readonly TimeSpan Rest = TimeSpan.FromMinutes(5);

    private readonly Lock gate = new();
    private readonly Dictionary<int, Place> places = [];
    private readonly Lazy<SharedEndpoints> shared = new(() => new(club));

    /// <summary>How many there are now.</summary>
    public int Count
    {
        get
        {
            lock (gate)
            {
                return places.Count;
            }
        }
    }

    /// <summary>Answers a request by the site of its home.</summary>
    /// <returns>False when there are as many as may be, and all are in use.</returns>
    public async Task<bool> ServeAsync(HttpContext context, OwnHome home, SiteVisitor visitor)
    {
        var (place, idle) = Enter(home);
        if (idle is not null)
        {
            await LetGoAsync(idle);
        }

        if (place is null)
        {
            return false;
        }

        try
        {
            var site = await place.Site.Value;
            await site.ServeAsync(context, visitor);
            return true;
        }
        finally
        {
            if (Leave(home.Home, place))
            {
                await LetGoAsync(place);
            }
        }
    }

    /// <summary>Lets go of those that nobody has used for <see cref="Rest"/>.</summary>
    public async Task LetGoOfIdleAsync()
    {
        List<Place> idle;
        lock (gate)
        {
            var old = places.Where(one => one.Value.Users == 0 && club.Time.GetElapsedTime(one.Value.LeftAt) >= Rest).ToList();
            old.ForEach(one => places.Remove(one.Key));
            idle = [.. old.Select(one => one.Value)];
        }

        foreach (var place in idle)
        {
            await LetGoAsync(place);
        }
    }

    /// <summary>Who opens a page of the home from now on gets another site, because something of it was set; pages that are open keep the
    /// one that they have.</summary>
    public async Task ForgetAsync(int home)
    {
        Place? idle;
        lock (gate)
        {
            if (!places.Remove(home, out var place))
            {
                return;
            }

            place.IsForgotten = true;
            idle = place.Users == 0 ? place : null;
        }

        if (idle is not null)
        {
            await LetGoAsync(idle);
        }
    }

    public async ValueTask DisposeAsync()
    {
        List<Place> all;
        lock (gate)
        {
            all = [.. places.Values];
            places.Clear();
        }

        await Task.WhenAll(all.Select(LetGoAsync));
        if (shared.IsValueCreated)
        {
            await shared.Value.DisposeAsync();
        }
    }

    // A live connection of an open page is in there as long as it lasts, so a site is in use as long as a page of it is open.
    private (Place? Own, Place? Idle) Enter(OwnHome home)
    {
        lock (gate)
        {
            Place? idle = null;
            if (!places.TryGetValue(home.Home, out var place))
            {
                if (places.Count >= SitesMax)
                {
                    var (key, oldest) = places.Where(one => one.Value.Users == 0).OrderBy(one => one.Value.LeftAt).FirstOrDefault();
                    if (oldest is null)
                    {
                        return (null, null);
                    }

                    places.Remove(key);
                    idle = oldest;
                }

                // It starts outside of the lock, and for all who wait for it.
                place = places[home.Home] = new(new(() => HomeSite.StartAsync(home, club, shared.Value, CancellationToken.None)));
            }

            place.Users++;
            return (place, idle);
        }
    }

    // Whether it is to be let go by who was the last in it.
    private bool Leave(int home, Place place)
    {
        lock (gate)
        {
            place.Users--;
            place.LeftAt = club.Time.GetTimestamp();

            // One that could not start is tried again by the next.
            if (place.Site is { IsValueCreated: true, Value.IsFaulted: true } && places.GetValueOrDefault(home) == place)
            {
                places.Remove(home);
            }

            return place is { IsForgotten: true, Users: 0 };
        }
    }

    private static async Task LetGoAsync(Place place)
    {
        if (place.Site is { IsValueCreated: true, Value.IsFaulted: false })
        {
            await (await place.Site.Value).DisposeAsync();
        }
    }

    private sealed class Place(Lazy<Task<HomeSite>> site)
    {
        public Lazy<Task<HomeSite>> Site => site;

        public int Users { get; set; }

        public long LeftAt { get; set; }

        public bool IsForgotten { get; set; }
    }
}
