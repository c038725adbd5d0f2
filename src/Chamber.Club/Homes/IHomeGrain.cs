using Orleans.Concurrency;

namespace Chamber.Club.Homes;

/// <summary>A home of the club while somebody asks for it or it is watched, on one of the silos. Its key is the home's number.</summary>
internal interface IHomeGrain : IGrainWithIntegerKey
{
    /// <summary>Something was taken in for the home: it is woken, and sees it within a minute. A telling that is lost is made good when the
    /// home looks by itself.</summary>
    [AlwaysInterleave]
    Task TellAsync();

    /// <summary>The same of something so warm that it may be a hazard (<see cref="Core.Alerts.Watching.HomeWatch.UrgentCelsius"/>): the
    /// home looks at once, and whoever tells does not wait for that.</summary>
    [AlwaysInterleave]
    Task TellOfHeatAsync();

    /// <summary>The home as it is now.</summary>
    Task<ShownHome> ShowAsync();
}

/// <summary>A home as it is now.</summary>
/// <param name="Spots">Its spots, in order of name.</param>
/// <param name="Alerts">The alerts that are open, in order of opening.</param>
/// <param name="IsWatched">Whether the watch has taken in what there is; before that the alerts are those of the last time.</param>
/// <param name="IsTold">Whether the home is told when something comes; otherwise it finds it by itself within a minute.</param>
/// <param name="AsOf">When it was, where the database is away and this is what was known last; null for now.</param>
[GenerateSerializer]
internal sealed record ShownHome(
    [property: Id(0)] ShownSpot[] Spots,
    [property: Id(1)] ShownAlert[] Alerts,
    [property: Id(2)] bool IsWatched,
    [property: Id(3)] bool IsTold,
    [property: Id(4)] DateTime? AsOf);

/// <summary>A spot and what was measured there last.</summary>
/// <param name="Spot">Its name.</param>
/// <param name="Celsius">Corrected; null when no probe there has spoken.</param>
/// <param name="At">When that was measured, UTC.</param>
[GenerateSerializer]
internal sealed record ShownSpot([property: Id(0)] string Spot, [property: Id(1)] double? Celsius, [property: Id(2)] DateTime? At);

/// <summary>An open alert in words.</summary>
[GenerateSerializer]
internal sealed record ShownAlert([property: Id(0)] string Title, [property: Id(1)] string Text, [property: Id(2)] DateTime OpenedAt);
