using Chamber.Core.Alerts;
using Chamber.Core.Chores;
using Chamber.Core.Facts;
using Chamber.Service.Home.Watching;

namespace Chamber.Service.Web.Views;

/// <summary>All that needs a hand about one batch or one spot: a card of Today.</summary>
/// <param name="Key">Which batch, spot or probe; the same from one reading of the home to the next.</param>
/// <param name="Items">What costs most by waiting first; never empty.</param>
public sealed record TodayGroup(string Key, IReadOnlyList<TodayItem> Items)
{
    /// <summary>What is to be done first.</summary>
    public TodayItem First => Items[0];
}

/// <summary>Groups what there is to do by what it is about, so that nobody goes to a spot twice.</summary>
internal static class TodayGroups
{
    /// <summary>A card stands where its most urgent item stands.</summary>
    /// <param name="items">What costs most by waiting first.</param>
    public static IReadOnlyList<TodayGroup> Of(IEnumerable<TodayItem> items) =>
        [.. items.GroupBy(KeyOf).Select(group => new TodayGroup(group.Key, [.. group]))];

    /// <summary>How an item is headed.</summary>
    public static string Title(TodayItem item, ShownNames names) => item.Alert?.Title
        ?? $"{TodayWords.Title(item.Reminder!.Kind)} {names.Of(item.Reminder.Batch)} {item.Crop?.Text}"
            + (item.Spot is { } spot ? $", on {names.Of(spot)}" : "");

    /// <summary>Whether an item asks for a count.</summary>
    public static bool AsksForLook(TodayItem item) =>
        IsAbout(item, AlertKind.LookNow) || IsAbout(item, AlertKind.StopWaiting)
            || item.Reminder?.Kind is ReminderKind.Look or ReminderKind.StopWaiting;

    /// <summary>Whether an item asks for water.</summary>
    public static bool AsksForWater(TodayItem item) => IsAbout(item, AlertKind.DryingOut);

    /// <summary>Whether it asks for a thermometer, since no probe tells how warm it is there.</summary>
    public static bool AsksForReading(TodayItem item) =>
        item.Spot is not null && (IsAbout(item, AlertKind.SilentProbe) || IsAbout(item, AlertKind.FaultyProbe));

    // A probe is a matter of the spot that it stands on.
    private static string KeyOf(TodayItem item) => item switch
    {
        { Reminder: { } reminder } => $"batch-{reminder.Batch}",
        { Alert: { SubjectKind: SubjectKind.Batch } alert } => $"batch-{alert.Subject}",
        { Spot: { } spot } => $"spot-{spot}",
        _ => $"probe-{item.Alert!.Subject}",
    };

    private static bool IsAbout(TodayItem item, AlertKind kind) => item.Alert?.Condition == Choice.Word(kind);
}
