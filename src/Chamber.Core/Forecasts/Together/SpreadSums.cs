using Chamber.Core.Forecasts.Learning;

namespace Chamber.Core.Forecasts.Together;

/// <summary>How far homes lie from the middle, kind by kind, beside how far they would by the variances as they are.</summary>
internal sealed class SpreadSums
{
    private readonly Dictionary<FactorKind, SpreadSum> kinds = [];

    /// <summary>The same of single batches.</summary>
    public SpreadSum Straying { get; } = new();

    public SpreadSum Of(FactorKind kind) => kinds.TryGetValue(kind, out var sum) ? sum : kinds[kind] = new();
}

/// <summary>Squares of pulls: as they were seen, and as they are expected.</summary>
internal sealed class SpreadSum
{
    public double Seen { get; set; }

    public double Expected { get; set; }
}
