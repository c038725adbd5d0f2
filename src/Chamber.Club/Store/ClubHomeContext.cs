using Chamber.Core.Forecasts.Learning;
using Chamber.Service.Configuration;
using Chamber.Service.Home;
using Chamber.Storage.Moving;

namespace Chamber.Club.Store;

/// <summary>A home of the club as the readers of a single home ask it.</summary>
internal static class ClubHomeContext
{
    /// <summary>Nothing lies there; what could lie there is not offered.</summary>
    public static DataDirectory Data { get; } = new(Path.Combine(AppContext.BaseDirectory, "no-data"));

    /// <summary>For somebody who shows no page of it.</summary>
    public static async Task<HomeContext> OfAsync(ClubDatabase club, int home, TimeProvider time, CancellationToken cancel) =>
        Unshown(club.Home(home), new ClubHomeRecords(club, home), await OwnAsync(club, home, cancel), time, () => null);

    /// <summary>What a home has of its own beside facts and readings.</summary>
    public static Task<OwnParts> OwnAsync(ClubDatabase club, int home, CancellationToken cancel) => club.AsAsync(
        home, async session => new OwnParts(SettingRows.Of(await SettingRows.ReadAsync(session, home)),
            await PartRows.TextAsync(session, home, HomeFolder.Crops)), cancel);

    /// <summary>The same with all that it rests on.</summary>
    public static HomeContext Unshown(
        IHomeStore facts, ClubHomeRecords records, OwnParts own, TimeProvider time, Func<SharedKnowledge?> others) =>
        Of(facts, records, new("/", "", "", "", ""), own, time, others);

    /// <param name="facts">Where facts and readings are.</param>
    /// <param name="records">What is kept beside.</param>
    /// <param name="host">Under which addresses it stands.</param>
    /// <param name="own">What is set for it, and its own crops.</param>
    /// <param name="time">The clock.</param>
    /// <param name="others">What other homes have taught; asked once, when a forecast wants it.</param>
    public static HomeContext Of(
        IHomeStore facts, ClubHomeRecords records, HomeHost host, OwnParts own, TimeProvider time, Func<SharedKnowledge?> others) =>
        new(host, facts, records, own.Settings, Data, time, others, own.Crops);
}

/// <summary>What a home has of its own beside facts and readings.</summary>
/// <param name="Settings">What is set for it.</param>
/// <param name="Crops">Its crops.json; null for none.</param>
internal sealed record OwnParts(Settings Settings, string? Crops);
