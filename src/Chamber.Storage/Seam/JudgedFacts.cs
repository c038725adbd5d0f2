using Chamber.Core.Facts;

namespace Chamber.Storage.Seam;

/// <summary>Entries that were judged beside all that is known before the first of them.</summary>
/// <param name="Entries">In order of number.</param>
/// <param name="Before">The home without them.</param>
/// <param name="After">The home with them.</param>
/// <param name="LeftOut">What counts for nothing then; null where that is as it was.</param>
public sealed record JudgedFacts(IReadOnlyList<FactEntry> Entries, HomeState Before, HomeState After, IReadOnlyList<LeftOutFact>? LeftOut);
