using System.Collections.Frozen;
using System.Collections.Immutable;
using System.Reflection;
using System.Runtime.InteropServices;
using System.Security.Cryptography;
using Chamber.Core.Alerts.Watching;
using NodaTime;

namespace Chamber.Club.Checkpoints;

/// <summary>The types of which objects may be: those of the program, and some that all programs have. Whatever was written down, nothing
/// else is made from it.</summary>
internal static class GraphTypes
{
    private static readonly Assembly[] Own =
    [
        typeof(HomeWatch).Assembly, typeof(JournalMark).Assembly, typeof(Service.Home.HomeContext).Assembly, typeof(GraphTypes).Assembly,
        typeof(Instant).Assembly,
    ];

    private static readonly Type[] Common =
    [
        typeof(string), typeof(bool), typeof(byte), typeof(short), typeof(int), typeof(long), typeof(double), typeof(TimeSpan),
        typeof(List<>), typeof(Queue<>), typeof(Dictionary<,>), typeof(SortedDictionary<,>), typeof(HashSet<>),
        typeof(FrozenDictionary<,>), typeof(ImmutableArray<>), typeof(Nullable<>), typeof(KeyValuePair<,>), typeof(ValueTuple<,>),
        typeof(ValueTuple<,,>), typeof(ValueTuple<,,,>), typeof(Action), typeof(Action<>), typeof(Func<>), typeof(Func<,>),
        typeof(Func<,,>),
        typeof(Comparison<>), typeof(Comparer<>), Comparer<int>.Create((one, other) => one - other).GetType().GetGenericTypeDefinition(),
    ];

    /// <summary>Says which program it is, to the last letter of its code: only the same one reads what it wrote.</summary>
    public static byte[] Stamp { get; } = SHA256.HashData([.. Own.Select(part => part.ManifestModule)
        .Concat(Common.Select(type => type.Module)).Distinct().SelectMany(part => part.ModuleVersionId.ToByteArray()),
        .. System.Text.Encoding.UTF8.GetBytes(RuntimeInformation.RuntimeIdentifier)]);

    /// <summary>The place of a type among those of <see cref="At"/>: which part of the program, or none for a common one, and where
    /// there.</summary>
    /// <exception cref="GraphException">It is not among them.</exception>
    public static (int Part, int Token) PlaceOf(Type type)
    {
        var definition = type.IsGenericType ? type.GetGenericTypeDefinition() : type;
        return Array.IndexOf(Own, definition.Assembly) is >= 0 and var part ? (part + 1, definition.MetadataToken)
            : Array.IndexOf(Common, definition) is >= 0 and var common ? (0, common)
            : throw new GraphException($"{type} is not written down.");
    }

    public static Type At(int part, int token) => part == 0 ? Common[token] : Own[part - 1].ManifestModule.ResolveType(token);

    /// <summary>The method that a function calls.</summary>
    public static MethodInfo Method(Type declaring, int token) =>
        (MethodInfo)declaring.Module.ResolveMethod(token, declaring.GetGenericArguments(), null)!;
}
