using System.Collections.Concurrent;
using System.Collections.Frozen;

namespace Chamber.Club.Checkpoints;

/// <summary>Collections whose inside differs from process to process, or is best made again: they are written item by item.</summary>
internal abstract class Items
{
    private static readonly ConcurrentDictionary<Type, Items?> Known = new();

    /// <summary>How a type is written item by item; null for one that is not.</summary>
    public static Items? Of(Type type) => Known.GetOrAdd(type, static type =>
    {
        if (type.IsSZArray)
        {
            return Make(typeof(ArrayItems<>), type.GetElementType()!);
        }

        var definition = type.IsGenericType ? type.GetGenericTypeDefinition() : null;
        return definition == typeof(HashSet<>) ? Make(typeof(SetItems<>), type.GetGenericArguments())
            : definition == typeof(Dictionary<,>) ? Make(typeof(DictionaryItems<,>), type.GetGenericArguments())
            : definition == typeof(SortedDictionary<,>) ? Make(typeof(SortedItems<,>), type.GetGenericArguments())
            : definition == typeof(FrozenDictionary<,>) ? Make(typeof(FrozenItems<,>), type.GetGenericArguments())
            : null;
    });

    /// <summary>The type under which an object is written: its own, or what it is one form of.</summary>
    public static Type TypeOf(object node)
    {
        for (var type = node.GetType(); type is not null; type = type.BaseType)
        {
            if (type.IsGenericType && type.GetGenericTypeDefinition() == typeof(FrozenDictionary<,>))
            {
                return type;
            }
        }

        return node.GetType();
    }

    public abstract void Write(Graph graph, object node);

    /// <param name="graph">Where it is read from.</param>
    /// <param name="made">Is told of it before its items are read, where it can be had then.</param>
    public abstract object Read(Graph graph, Action<object> made);

    private static Items Make(Type definition, params Type[] of) => (Items)Activator.CreateInstance(definition.MakeGenericType(of))!;
}

internal sealed class ArrayItems<T> : Items
{
    public override void Write(Graph graph, object node)
    {
        var items = (T[])node;
        graph.Count(items.Length);
        graph.Parts(items);
    }

    public override object Read(Graph graph, Action<object> made)
    {
        var items = new T[graph.Count(0)];
        made(items);
        graph.Parts(items);
        return items;
    }
}

internal abstract class PlainItems<T> : Items
{
    public override void Write(Graph graph, object node)
    {
        var items = ((IEnumerable<T>)node).ToArray();
        graph.Count(items.Length);
        graph.Parts(items);
    }

    protected static T[] Read(Graph graph)
    {
        var items = new T[graph.Count(0)];
        graph.Parts(items);
        return items;
    }
}

internal sealed class SetItems<T> : PlainItems<T>
{
    public override object Read(Graph graph, Action<object> made)
    {
        var set = new HashSet<T>();
        made(set);
        set.UnionWith(Read(graph));
        return set;
    }
}

internal sealed class DictionaryItems<TKey, TValue> : PlainItems<KeyValuePair<TKey, TValue>>
    where TKey : notnull
{
    public override object Read(Graph graph, Action<object> made)
    {
        var all = new Dictionary<TKey, TValue>();
        made(all);
        foreach (var (key, value) in Read(graph))
        {
            all.Add(key, value);
        }

        return all;
    }
}

internal sealed class FrozenItems<TKey, TValue> : PlainItems<KeyValuePair<TKey, TValue>>
    where TKey : notnull
{
    public override object Read(Graph graph, Action<object> made) => Read(graph).ToFrozenDictionary();
}

internal sealed class SortedItems<TKey, TValue> : PlainItems<KeyValuePair<TKey, TValue>>
    where TKey : notnull
{
    public override void Write(Graph graph, object node)
    {
        graph.Object(((SortedDictionary<TKey, TValue>)node).Comparer);
        base.Write(graph, node);
    }

    public override object Read(Graph graph, Action<object> made)
    {
        var all = new SortedDictionary<TKey, TValue>((IComparer<TKey>)graph.Object(null)!);
        made(all);
        foreach (var (key, value) in Read(graph))
        {
            all.Add(key, value);
        }

        return all;
    }
}
