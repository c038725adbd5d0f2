using System.Collections.Concurrent;
using System.Reflection;
using System.Reflection.Emit;
using System.Runtime.CompilerServices;

namespace Chamber.Club.Checkpoints;

/// <summary>Hands each field of a type to a <see cref="Graph"/>, those of its bases too. Made once for a type, since reflection at each
/// field would take longer than reading the past again.</summary>
internal static class FieldWalk
{
    private static readonly MethodInfo Part = typeof(Graph).GetMethod(nameof(Graph.Part))!;
    private static readonly ConcurrentDictionary<Type, Action<Graph, object>> OfObjects = new();

    public static Action<Graph, object> OfObject(Type type) => OfObjects.GetOrAdd(type, static type =>
    {
        var method = Method(type, typeof(object));
        Emit(method, type, castTo: type);
        return method.CreateDelegate<Action<Graph, object>>();
    });

    public static DynamicMethod Method(Type type, Type second) =>
        new($"Walk {type.Name}", null, [typeof(Graph), second], typeof(Graph).Module, skipVisibility: true);

    public static void Emit(DynamicMethod method, Type type, Type? castTo)
    {
        if (type.IsDefined(typeof(InlineArrayAttribute)))
        {
            throw new GraphException($"{type} holds references side by side.");
        }

        var code = method.GetILGenerator();
        foreach (var field in Fields(type))
        {
            code.Emit(OpCodes.Ldarg_0);
            code.Emit(OpCodes.Ldarg_1);
            if (castTo is not null)
            {
                // A value behind an interface, as an immutable array is, lies in a box.
                code.Emit(castTo.IsValueType ? OpCodes.Unbox : OpCodes.Castclass, castTo);
            }

            code.Emit(OpCodes.Ldflda, field);
            code.Emit(OpCodes.Callvirt, Part.MakeGenericMethod(field.FieldType));
        }

        code.Emit(OpCodes.Ret);
    }

    private static IEnumerable<FieldInfo> Fields(Type type)
    {
        for (var part = type; part is not null && part != typeof(object); part = part.BaseType)
        {
            foreach (var field in part.GetFields(
                BindingFlags.Instance | BindingFlags.Public | BindingFlags.NonPublic | BindingFlags.DeclaredOnly))
            {
                yield return field.FieldType.IsPointer || field.FieldType.IsByRefLike
                    ? throw new GraphException($"{type}.{field.Name} is an address.") : field;
            }
        }
    }
}

/// <summary>The same for values that refer to something.</summary>
internal static class ValueFields<T>
{
    public delegate void Walker(Graph graph, ref T value);

    public static readonly Walker Walk = Make();

    private static Walker Make()
    {
        var method = FieldWalk.Method(typeof(T), typeof(T).MakeByRefType());
        FieldWalk.Emit(method, typeof(T), castTo: null);
        return method.CreateDelegate<Walker>();
    }
}
