using System.Buffers;
using System.Text;

namespace Chamber.Club.Checkpoints;

/// <summary>Writes an object down with all that it refers to.</summary>
/// <param name="given">What whoever reads has already: it is named by its place here.</param>
internal sealed class GraphWriter(IReadOnlyList<object> given) : Graph
{
    private readonly ArrayBufferWriter<byte> written = new(1 << 16);
    private readonly Dictionary<object, int> known = new(ReferenceEqualityComparer.Instance);
    private readonly Dictionary<string, int> texts = new(StringComparer.Ordinal);
    private readonly Dictionary<Type, int> types = [];
    private readonly Dictionary<object, int> places = given.Index().DistinctBy(one => one.Item, ReferenceEqualityComparer.Instance)
        .ToDictionary(one => one.Item, one => one.Index, (IEqualityComparer<object>)ReferenceEqualityComparer.Instance);

    /// <exception cref="GraphException">Something in it cannot be written down.</exception>
    public static ReadOnlyMemory<byte> Write(object root, IReadOnlyList<object> given)
    {
        try
        {
            var writer = new GraphWriter(given);
            writer.Object(root);
            return writer.written.WrittenMemory;
        }
        catch (Exception problem) when (problem is not GraphException)
        {
            throw new GraphException($"It cannot be written down: {problem.Message}");
        }
    }

    public override int Count(int count)
    {
        for (var rest = (uint)count; ; rest >>= 7)
        {
            Byte((byte)(rest < 0x80 ? rest : rest & 0x7F | 0x80));
            if (rest < 0x80)
            {
                return count;
            }
        }
    }

    public override object? Object(object? node)
    {
        if (node is null)
        {
            Byte((byte)GraphMark.Nothing);
        }
        else if (places.TryGetValue(node, out var place))
        {
            Marked(GraphMark.Given, place);
        }
        else if (node is string text ? texts.TryGetValue(text, out var number) : known.TryGetValue(node, out number))
        {
            Marked(GraphMark.Known, number);
        }
        else
        {
            New(node);
        }

        return node;
    }

    protected override void Raw(Span<byte> bytes) => written.Write(bytes);

    private void New(object node)
    {
        var number = known.Count;
        known.Add(node, number);
        Byte((byte)GraphMark.New);
        var type = Items.TypeOf(node);
        Type(type);
        switch (node)
        {
            case string text:
                texts.Add(text, number);
                var bytes = Encoding.UTF8.GetBytes(text);
                Count(bytes.Length);
                Raw(bytes);
                break;
            case Delegate { HasSingleTarget: true } call:
                Type(call.Method.DeclaringType!);
                Count(call.Method.MetadataToken);
                Object(call.Target);
                break;
            case Delegate:
                throw new GraphException($"{type} calls several.");
            default:
                if (Items.Of(type) is { } items)
                {
                    items.Write(this, node);
                }
                else
                {
                    FieldWalk.OfObject(type)(this, node);
                }

                break;
        }
    }

    private void Type(Type type)
    {
        if (types.TryGetValue(type, out var number))
        {
            Count(number + 1);
            return;
        }

        types.Add(type, types.Count);
        Count(0);
        if (type.IsSZArray)
        {
            Byte((byte)GraphMark.Array);
            Type(type.GetElementType()!);
            return;
        }

        var (part, token) = GraphTypes.PlaceOf(type);
        Marked(GraphMark.New, part);
        Count(token);
        foreach (var argument in type.GetGenericArguments())
        {
            Type(argument);
        }
    }

    private void Marked(GraphMark mark, int number)
    {
        Byte((byte)mark);
        Count(number);
    }

    private void Byte(byte value)
    {
        written.GetSpan(1)[0] = value;
        written.Advance(1);
    }
}

/// <summary>What follows.</summary>
internal enum GraphMark : byte
{
    Nothing,
    Given,
    Known,
    New,
    Array,
}
