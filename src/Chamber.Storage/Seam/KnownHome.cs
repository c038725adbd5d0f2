using Chamber.Core.Facts;

namespace Chamber.Storage.Seam;

/// <summary>What the facts come to.</summary>
/// <param name="Number">The number of the newest of them; 0 when nothing is written down.</param>
/// <param name="Home">The home that they make. A store may have kept it part by part (<see cref="HomeParts"/>): former names, and what
/// people did about alerts, are then not in it.</param>
public sealed record KnownHome(long Number, HomeState Home);
