using System.Collections;
using System.Collections.Immutable;
using System.Reflection;
using Chamber.Core.Alerts;
using Chamber.Core.Alerts.Conditions.Drifting;
using Chamber.Core.Alerts.Fold;
using Chamber.Core.Alerts.Watching;
using Chamber.Core.Climate;

namespace Chamber.Core.Tests.Alerts.Fold;

/// <summary>A checkpoint is a state apart: a copy holds nothing that changes when the original goes on.</summary>
public sealed class CheckpointTests
{
    // What both may hold: it says what happened and is never changed, or is one for the whole time of a place.
    private static readonly Type[] Shared =
    [
        typeof(Condition), typeof(InputTable), typeof(LocationTimeline), typeof(LocationSettings), typeof(HourLog), typeof(Alert),
        typeof(LocationChange), typeof(CarriedState), typeof(CarriedAlert), typeof(BatchDeparture), typeof(BatchTerms),
        typeof(Delegate), typeof(Type), typeof(string), typeof(IComparer),
    ];

    [Fact]
    public void A_copy_of_a_place_shares_nothing_that_changes()
    {
        var month = RestartedMonth.Live(seed: null, days: 24);
        var places = Locations(month.Watch);

        Assert.All(places, place => Assert.Equal([], Common(place.Watch, place.Watch.Copy())));
        Assert.Contains(places, place => place.Watch.Book.Open.Count > 0 && place.Watch.Stations.Count > 1);
    }

    [Fact]
    public void A_copy_of_the_home_s_drift_shares_nothing_that_changes()
    {
        var fold = new DriftFold();
        var probe = new ProbeId("p");
        for (var hour = 0; hour < 24 * 20; hour++)
        {
            var end = new Core.Folding.Moment((hour + 1) * TimeSpan.TicksPerHour);
            fold.Fold(end, hour % 24, [(new("a"), new(end, end, probe, HourEntryKind.Mean, 20 + hour / 200.0)),
                (new("b"), new(end, end, probe, HourEntryKind.Mean, 21))]);
        }

        Assert.Equal([], Common(fold, fold.Copy()));
    }

    // The check can fail: a list that both hold is found.
    [Fact]
    public void What_is_shared_is_found()
    {
        List<int> list = [1];

        Assert.NotEmpty(Common(new Holder(list), new Holder(list)));
        Assert.Empty(Common(new Holder(list), new Holder([.. list])));
    }

    private static Dictionary<Location, LocationFold>.ValueCollection Locations(HomeWatch watch) =>
        ((WatchedLocations)typeof(HomeWatch).GetField("locations", BindingFlags.NonPublic | BindingFlags.Instance)!.GetValue(watch)!).All;

    private static List<string> Common(object one, object other)
    {
        var mutable = Mutable(one);
        return [.. Mutable(other).Where(entry => mutable.ContainsKey(entry.Key))
            .Select(entry => $"{entry.Value}: {entry.Key.GetType().Name}").Order(StringComparer.Ordinal)];
    }

    private static Dictionary<object, string> Mutable(object root)
    {
        var found = new Dictionary<object, string>(ReferenceEqualityComparer.Instance);
        Walk(root, root.GetType().Name, found);
        return found;
    }

    private static void Walk(object? node, string path, Dictionary<object, string> found)
    {
        Assert.True(path.Length < 2000, path[..Math.Min(path.Length, 2000)]);
        if (node is null or ImmutableArray<string> || node.GetType().IsPrimitive
            || Array.Exists(Shared, type => type.IsInstanceOfType(node)))
        {
            return;
        }

        if (!IsFixed(node) && !found.TryAdd(node, path))
        {
            return;
        }

        if (node is Array array)
        {
            foreach (var item in array)
            {
                Walk(item, $"{path}[]", found);
            }

            return;
        }

        foreach (var field in Fields(node.GetType()).Where(field => !field.FieldType.IsPrimitive && !field.FieldType.IsEnum))
        {
            Walk(field.GetValue(node), $"{path}.{field.Name}", found);
        }
    }

    // A value, an object none of whose own fields is written after it was made, or an array of nothing. What such an object refers to is
    // looked at all the same.
    private static bool IsFixed(object node) => node is ValueType || node is Array { Length: 0 }
        || (node is not Array && Fields(node.GetType()).All(field => field.IsInitOnly));

    private static IEnumerable<FieldInfo> Fields(Type type)
    {
        for (var part = type; part is not null && part != typeof(object); part = part.BaseType)
        {
            foreach (var field in part.GetFields(
                BindingFlags.Instance | BindingFlags.Public | BindingFlags.NonPublic | BindingFlags.DeclaredOnly))
            {
                yield return field;
            }
        }
    }

    private sealed class Holder(List<int> items)
    {
        public int Count => items.Count;
    }
}
