using System.Collections;

namespace Chamber.Core;

/// <summary>A list that equals another one that holds equal items in the same order, so that records with lists are compared by what they
/// say.</summary>
/// <param name="items">The items; not to be changed afterwards.</param>
internal sealed class ValueList<T>(IReadOnlyList<T> items) : IReadOnlyList<T>, IEquatable<ValueList<T>>
{
    public static readonly ValueList<T> Empty = new([]);

    public int Count => items.Count;

    public T this[int index] => items[index];

    public IEnumerator<T> GetEnumerator() => items.GetEnumerator();

    IEnumerator IEnumerable.GetEnumerator() => GetEnumerator();

    public bool Equals(ValueList<T>? other) => other is not null && (ReferenceEquals(this, other) || items.SequenceEqual(other));

    public override bool Equals(object? obj) => Equals(obj as ValueList<T>);

    public override int GetHashCode()
    {
        var hash = default(HashCode);
        foreach (var item in items)
        {
            hash.Add(item);
        }

        return hash.ToHashCode();
    }
}
