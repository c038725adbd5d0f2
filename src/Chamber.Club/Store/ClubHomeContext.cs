using Chamber.Core.Forecasts.Learning;
using Chamber.Service.Configuration;
using Chamber.Service.Home;
using NodaTime;

namespace Chamber.Club.Store;

/// <summary>A home of the club as the readers of a single home ask it.</summary>
internal static class ClubHomeContext
{
    /// <summary>Days are those of UTC, as for the silo that watches the home.</summary>
    public static Settings Settings { get; } = new() { Home = new() { Zone = DateTimeZone.Utc }, Broker = new() { Own = false } };

    /// <summary>Nothing lies there; what could lie there is not offered.</summary>
    public static DataDirectory Data { get; } = new(Path.Combine(AppContext.BaseDirectory, "no-data"));

    /// <summary>For somebody who shows no page of it.</summary>
    public static HomeContext Of(ClubDatabase club, int home, TimeProvider time) =>
        Of(club.Home(home), new ClubHomeRecords(club, home), new("/", "", "", ""), time, () => null);

    /// <param name="facts">Where facts and readings are.</param>
    /// <param name="records">What is kept beside.</param>
    /// <param name="host">Under which addresses it stands.</param>
    /// <param name="time">The clock.</param>
    /// <param name="others">What other homes have taught; asked once, when a forecast wants it.</param>
    public static HomeContext Of(
        IHomeStore facts, ClubHomeRecords records, HomeHost host, TimeProvider time, Func<SharedKnowledge?> others) =>
        new(host, facts, records, Settings, Data, time, others);
}
