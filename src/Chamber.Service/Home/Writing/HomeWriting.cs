using Chamber.Storage.Writing;
using NodaTime;

namespace Chamber.Service.Home.Writing;

/// <summary>How a home is written in: through the seam, as it is read.</summary>
internal static class HomeWriting
{
    /// <summary>The pen of whoever writes through this reader: what is written down has the author and a time.</summary>
    public static HomePen Writing(this HomeReader home, Instant when) => new(home.Store, home.Records, home.Author, () => when);
}
