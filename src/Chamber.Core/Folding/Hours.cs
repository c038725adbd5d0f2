using System.Runtime.CompilerServices;

namespace Chamber.Core.Folding;

/// <summary>A value for each hour of a day, or for each of the last 24: held by value, so that a copy of what holds it is a copy of the
/// hours.</summary>
[InlineArray(Count)]
internal struct Hours24<T>
    where T : struct
{
    public const int Count = 24;
    private T first;
}

/// <summary>The same for two days.</summary>
[InlineArray(Count)]
internal struct Hours48<T>
    where T : struct
{
    public const int Count = 48;
    private T first;
}
