using Chamber.Core.Alerts;
using Chamber.Core.Batches;
using Chamber.Core.Chores;
using Chamber.Service.Home.Watching;
using Chamber.Service.Web.Views;

namespace Chamber.Service.Tests.Web.Views;

public sealed class TodayGroupsTests
{
    [Fact]
    public void What_is_about_one_batch_or_one_spot_is_one_card_where_its_first_stands()
    {
        var groups = TodayGroups.Of(
        [
            Alert(SubjectKind.Spot, "mat"),
            Reminder("T1"),
            Alert(SubjectKind.Probe, "p1", spot: "mat"),
            Alert(SubjectKind.Batch, "T1", spot: "mat"),
            Alert(SubjectKind.Probe, "p2"),
        ]);

        Assert.Equal(["spot-mat 2", "batch-T1 2", "probe-p2 1"], groups.Select(group => $"{group.Key} {group.Items.Count}"));
        Assert.NotNull(groups[1].First.Reminder);
    }

    private static TodayItem Reminder(string batch) => new(1, null,
        new(new(batch), ReminderKind.Look, new(2026, 3, 1), new(2026, 3, 2), "Look."), new("tomato"), null, 12, 0, [new BatchId(batch)]);

    private static TodayItem Alert(SubjectKind kind, string subject, string? spot = null) => new(
        1,
        new(1, "too hot", kind, subject, Severity.Warning, default, default, null, null, null, null, null, "Title", "", "", "", "", "", []),
        null,
        null,
        (kind, spot) switch
        {
            (SubjectKind.Spot, _) => new(subject),
            (_, { } place) => new(place),
            _ => null,
        },
        0,
        0,
        []);
}
