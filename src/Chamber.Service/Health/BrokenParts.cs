using System.Collections.Concurrent;
using NodaTime;

namespace Chamber.Service.Health;

/// <summary>A part of the service that a fault has stopped.</summary>
/// <param name="Part">Which.</param>
/// <param name="Since">Since when.</param>
/// <param name="Problem">What stopped it.</param>
internal sealed record BrokenPart(string Part, Instant Since, string Problem);

/// <summary>The parts that faults have stopped, for health and page. Each is started again after a while.</summary>
internal sealed class BrokenParts
{
    private readonly ConcurrentDictionary<string, BrokenPart> parts = new(StringComparer.Ordinal);

    /// <summary>Those that are down now, the longest first.</summary>
    public IReadOnlyList<BrokenPart> Now => [.. parts.Values.OrderBy(part => part.Since)];

    public void Broke(string part, Instant at, string problem) =>
        parts.AddOrUpdate(part, _ => new(part, at, problem), (_, known) => known with { Problem = problem });

    public void Works(string part) => parts.TryRemove(part, out _);
}
