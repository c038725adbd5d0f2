using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Spots;

namespace Chamber.Core.Facts;

/// <summary>By which names of any letters people see spots, probes and batches; whoever has none is seen by its own name.</summary>
public sealed class ShownNames
{
    private const string Prefix = "shown-as/";

    private readonly Dictionary<string, string> names;

    private ShownNames(Dictionary<string, string> names) => this.names = names;

    /// <summary>Nobody has chosen any.</summary>
    public static ShownNames None { get; } = new([]);

    /// <summary>Those among what was chosen for a home.</summary>
    public static ShownNames Of(IReadOnlyDictionary<string, string> settings)
    {
        ArgumentNullException.ThrowIfNull(settings);
        return new(settings.Where(pair => pair.Key.StartsWith(Prefix, StringComparison.Ordinal)).ToDictionary(StringComparer.Ordinal));
    }

    /// <summary>Every thing that has one, with it.</summary>
    public IEnumerable<(FactSubject Thing, string Shown)> All =>
        names.Select(pair => (SubjectOf(pair.Key)!.Value, pair.Value)).OrderBy(one => one.Item1.Name, StringComparer.Ordinal);

    /// <summary>The name that was chosen; null for none.</summary>
    public string? Find(FactSubject thing) => names.GetValueOrDefault(KeyOf(thing));

    /// <summary>How people see it.</summary>
    public string Of(FactSubject thing) => Find(thing) ?? thing.Name;

    /// <inheritdoc cref="Of(FactSubject)"/>
    public string Of(SpotId spot) => Of(FactSubject.Of(spot));

    /// <inheritdoc cref="Of(FactSubject)"/>
    public string Of(ProbeId probe) => Of(FactSubject.Of(probe));

    /// <inheritdoc cref="Of(FactSubject)"/>
    public string Of(BatchId batch) => Of(FactSubject.Of(batch));

    /// <summary>Under which name it stands among what was chosen for a home.</summary>
    internal static string KeyOf(FactSubject thing) => $"{Prefix}{thing.Kind.ToString().ToLowerInvariant()}/{thing.Name}";

    /// <summary>What a choice names; null for one of another sort.</summary>
    internal static FactSubject? SubjectOf(string key) =>
        key.StartsWith(Prefix, StringComparison.Ordinal) && key[Prefix.Length..].Split('/', 2) is [var kind, var name]
            && Enum.TryParse<FactSubjectKind>(kind, ignoreCase: true, out var known) ? new(known, name) : null;
}
