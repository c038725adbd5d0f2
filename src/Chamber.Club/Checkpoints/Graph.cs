using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace Chamber.Club.Checkpoints;

/// <summary>
/// Goes through an object and all that it refers to, field by field, to write it down (<see cref="GraphWriter"/>) or to make it again
/// (<see cref="GraphReader"/>). Both take the same way, so that what one writes the other reads.
/// </summary>
internal abstract class Graph
{
    /// <summary>A field, an item: what it holds is written, or put there.</summary>
    public void Part<T>(ref T part)
    {
        if (!RuntimeHelpers.IsReferenceOrContainsReferences<T>())
        {
            Raw(MemoryMarshal.CreateSpan(ref Unsafe.As<T, byte>(ref part), Unsafe.SizeOf<T>()));
        }
        else if (typeof(T).IsValueType)
        {
            ValueFields<T>.Walk(this, ref part);
        }
        else
        {
            part = (T)Object(part)!;
        }
    }

    /// <summary>The items of an array.</summary>
    public void Parts<T>(T[] items)
    {
        if (!RuntimeHelpers.IsReferenceOrContainsReferences<T>())
        {
            Raw(MemoryMarshal.CreateSpan(
                ref Unsafe.As<T, byte>(ref MemoryMarshal.GetArrayDataReference(items)), checked(items.Length * Unsafe.SizeOf<T>())));
            return;
        }

        for (var i = 0; i < items.Length; i++)
        {
            Part(ref items[i]);
        }
    }

    /// <summary>How many there are.</summary>
    public abstract int Count(int count);

    /// <summary>An object, once: where it is met again it is the same one.</summary>
    public abstract object? Object(object? known);

    /// <summary>Bytes of values that refer to nothing.</summary>
    protected abstract void Raw(Span<byte> bytes);
}

/// <summary>The object is of a sort that cannot be written down, or what was written down does not fit.</summary>
internal sealed class GraphException(string message) : Exception(message);
