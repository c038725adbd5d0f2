using System.Reflection;
using Chamber.Core.Alerts;
using Chamber.Core.Alerts.Conditions;
using Chamber.Core.Alerts.Fold;
using Chamber.Core.Alerts.Scripts;
using NodaTime;

namespace Chamber.Core.Tests.Alerts.Conditions;

public sealed class ConditionRegistryTests
{
    private static readonly ConditionSet WithToy = new([.. ConditionRegistry.Standard, new WarmAirCondition()]);

    // What DEVELOPERS.md says of adding a condition: a room, and a line in the registry.
    [Fact]
    public void A_condition_is_added_by_one_line_in_the_registry()
    {
        const string story = """
            shows warm air
            spot sill is a sill
            probe air measures air on sill
            part near miss
            08:00 to 08:10 every 5 min: air reads 28
            08:10: expect nothing
            part hold
            08:15 to 08:20 every 5 min: air reads 29
            08:20: expect nothing
            part opens
            08:25: air reads 29
            08:25: expect note: warm air on sill since 08:15
            part stays
            08:30: expect warm air on sill
            part closes
            08:35: air reads 28
            08:35: expect nothing
            """;

        var script = WatchScript.Parse("toy", story.Replace("note: ", "note ", StringComparison.Ordinal), WithToy);
        var result = script.Run();

        Assert.Empty(result.Failures);
        var alert = Assert.Single(result.Alerts, alert => alert.Kind.Name == "WarmAir");
        Assert.StartsWith("Warm air on sill", ConditionRegistry.InWords(WithToy, alert, script.Facts, new(false, DateTimeZone.Utc))
            .ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void Its_limit_can_be_set_like_any_other()
    {
        const string story = """
            limit warm air above 20
            spot sill is a sill
            probe air measures air on sill
            08:00 to 08:10 every 5 min: air reads 21
            08:10: expect warm air on sill
            """;

        Assert.Empty(WatchScript.Parse("toy", story, WithToy).Run().Failures);
    }

    [Fact]
    public void Every_name_that_other_code_may_use_is_registered()
    {
        var named = typeof(AlertKind).GetProperties(BindingFlags.Public | BindingFlags.Static)
            .Where(name => name.PropertyType == typeof(AlertKind)).Select(name => (AlertKind)name.GetValue(null)!);

        Assert.Equal(ConditionRegistry.Kinds.Order(ConditionRegistry.Order), named.Order(ConditionRegistry.Order));
    }

    // A room that nobody registered would be watched by nobody.
    [Fact]
    public void Every_room_is_registered()
    {
        var rooms = typeof(Condition).Assembly.GetTypes().Where(type => type.IsSubclassOf(typeof(Condition)) && !type.IsAbstract);

        Assert.Equal(ConditionRegistry.Standard.Select(condition => condition.GetType().Name).Order(StringComparer.Ordinal),
            rooms.Select(type => type.Name).Order(StringComparer.Ordinal));
    }
}
