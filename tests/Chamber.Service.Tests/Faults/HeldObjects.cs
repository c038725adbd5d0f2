using System.Reflection;
using Chamber.Testing;

namespace Chamber.Service.Tests.Faults;

/// <summary>Counts what can be reached from an object through its fields: objects, and places in arrays. Unlike the size of the heap it
/// does not depend on what other tests do meanwhile, and what tests hold themselves is left out.</summary>
internal static class HeldObjects
{
    private const BindingFlags Own = BindingFlags.Instance | BindingFlags.Public | BindingFlags.NonPublic | BindingFlags.DeclaredOnly;

    private static readonly Assembly[] Tests = [typeof(HeldObjects).Assembly, typeof(CollectedLog).Assembly];

    private static readonly Dictionary<Type, FieldInfo[]> Fields = [];

    public static long Count(params object[] roots)
    {
        var seen = new HashSet<object>(ReferenceEqualityComparer.Instance);
        var next = new Stack<object>();
        foreach (var root in roots)
        {
            Visit(root, seen, next);
        }

        while (next.TryPop(out var one))
        {
            Enter(one, seen, next);
        }

        return seen.Count + seen.OfType<Array>().Sum(array => array.LongLength);
    }

    private static void Enter(object one, HashSet<object> seen, Stack<object> next)
    {
        if (one is Array array)
        {
            if (MayHold(array.GetType().GetElementType()!))
            {
                foreach (var element in array)
                {
                    Visit(element, seen, next);
                }
            }

            return;
        }

        foreach (var field in FieldsOf(one.GetType()))
        {
            Visit(field.GetValue(one), seen, next);
        }
    }

    // A value in a field is looked into, and counts for nothing itself: it is a new box each time.
    private static void Visit(object? one, HashSet<object> seen, Stack<object> next)
    {
        if (one is null or string or Type or Pointer or MemberInfo or Thread or Assembly || Tests.Contains(one.GetType().Assembly))
        {
            return;
        }

        if (one is ValueType)
        {
            if (MayHold(one.GetType()))
            {
                Enter(one, seen, next);
            }
        }
        else if (seen.Add(one))
        {
            next.Push(one);
        }
    }

    private static bool MayHold(Type type) =>
        !type.IsPrimitive && !type.IsEnum && !type.IsPointer && (!type.IsValueType || FieldsOf(type).Length > 0);

    private static FieldInfo[] FieldsOf(Type type)
    {
        if (!Fields.TryGetValue(type, out var fields))
        {
            var all = new List<FieldInfo>();
            for (var level = type; level is not null; level = level.BaseType)
            {
                all.AddRange(level.GetFields(Own).Where(field => !field.FieldType.IsPointer && !field.FieldType.IsPrimitive
                    && !field.FieldType.IsFunctionPointer && !field.FieldType.IsByRefLike && field.FieldType != typeof(string)));
            }

            Fields[type] = fields = [.. all];
        }

        return fields;
    }
}
