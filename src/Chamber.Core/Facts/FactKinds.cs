using System.Text.Json;

namespace Chamber.Core.Facts;

/// <summary>The kinds of facts by their names: <c>BatchSown</c> is <c>batch-sown</c>. The set is all records under <see
/// cref="Fact"/>.</summary>
public static class FactKinds
{
    private static readonly Dictionary<string, Type> ByName = typeof(Fact).Assembly.GetTypes()
        .Where(type => type.IsSubclassOf(typeof(Fact)) && !type.IsAbstract)
        .ToDictionary(NameOf, StringComparer.Ordinal);

    /// <summary>Every kind, by name.</summary>
    public static IReadOnlyDictionary<string, Type> All => ByName;

    /// <summary>The name of a kind.</summary>
    public static string NameOf(Type kind)
    {
        ArgumentNullException.ThrowIfNull(kind);
        return JsonNamingPolicy.KebabCaseLower.ConvertName(kind.Name);
    }

    /// <summary>The name of a fact's kind.</summary>
    public static string NameOf(Fact fact)
    {
        ArgumentNullException.ThrowIfNull(fact);
        return NameOf(fact.GetType());
    }
}
