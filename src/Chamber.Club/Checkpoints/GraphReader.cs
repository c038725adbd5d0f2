using System.Runtime.CompilerServices;
using System.Text;

namespace Chamber.Club.Checkpoints;

/// <summary>Makes an object again that was written down, with all that it refers to.</summary>
/// <param name="bytes">As <see cref="GraphWriter"/> wrote them in the same program.</param>
/// <param name="given">What is there already, in the order in which it was given to the writer.</param>
internal sealed class GraphReader(ReadOnlyMemory<byte> bytes, IReadOnlyList<object> given) : Graph
{
    private readonly List<object?> known = [];
    private readonly List<Type?> types = [];
    private int at;

    /// <exception cref="GraphException">It does not fit.</exception>
    public static T Read<T>(ReadOnlyMemory<byte> bytes, IReadOnlyList<object> given)
    {
        try
        {
            var reader = new GraphReader(bytes, given);
            return reader.Object(null) is T root && reader.at == bytes.Length ? root : throw new GraphException("It is something else.");
        }
        catch (Exception problem) when (problem is not GraphException)
        {
            // Whatever it stumbles on: a home that cannot be made again reads its past, and is watched.
            throw new GraphException($"It cannot be made again: {problem.Message}");
        }
    }

    public override int Count(int count)
    {
        var (number, shift) = (0u, 0);
        while (true)
        {
            var next = Byte();
            number |= (uint)(next & 0x7F) << shift;
            if (next < 0x80)
            {
                return (int)number;
            }

            shift += 7;
        }
    }

    public override object? Object(object? node) => (GraphMark)Byte() switch
    {
        GraphMark.Nothing => null,
        GraphMark.Given => given[Count(0)],
        GraphMark.Known => known[Count(0)] ?? throw new GraphException("It refers to itself too soon."),
        GraphMark.New => New(),
        _ => throw new GraphException("It was not written by this program."),
    };

    protected override void Raw(Span<byte> part)
    {
        bytes.Span.Slice(at, part.Length).CopyTo(part);
        at += part.Length;
    }

    private object New()
    {
        var number = known.Count;
        known.Add(null);
        var type = Type();
        if (Items.Of(type) is { } items)
        {
            return known[number] = items.Read(this, made => known[number] = made);
        }

        if (type == typeof(string))
        {
            var text = new byte[Count(0)];
            Raw(text);
            return known[number] = Encoding.UTF8.GetString(text);
        }

        if (type.IsAssignableTo(typeof(Delegate)))
        {
            var declaring = Type();
            var method = GraphTypes.Method(declaring, Count(0));
            return known[number] = Delegate.CreateDelegate(type, Object(null), method);
        }

        var node = RuntimeHelpers.GetUninitializedObject(type);
        known[number] = node;
        FieldWalk.OfObject(type)(this, node);
        return node;
    }

    private Type Type()
    {
        if (Count(0) is > 0 and var before)
        {
            return types[before - 1]!;
        }

        var number = types.Count;
        types.Add(null);
        return (types[number] = (GraphMark)Byte() == GraphMark.Array ? Type().MakeArrayType() : Named())!;
    }

    private Type Named()
    {
        var part = Count(0);
        var type = GraphTypes.At(part, Count(0));
        return type.IsGenericTypeDefinition ? type.MakeGenericType([.. type.GetGenericArguments().Select(_ => Type())]) : type;
    }

    private byte Byte() => bytes.Span[at++];
}
