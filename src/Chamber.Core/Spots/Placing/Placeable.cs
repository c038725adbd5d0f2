namespace Chamber.Core.Spots.Placing;

/// <summary>Something that wants a spot.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Containers">How much of a spot's room it takes, at least 1; all of it is on one spot.</param>
/// <param name="Costs">What each spot would cost it, one for each spot.</param>
public sealed record Placeable(string Name, int Containers, IReadOnlyList<PlacementCost> Costs);

/// <summary>Where it goes.</summary>
/// <param name="Item">What was placed.</param>
/// <param name="Cost">The spot with its cost; null when there was no room for it.</param>
/// <param name="NextBest">Its next best spot, when all others may move too; null when there is none.</param>
/// <param name="NextBestCosts">How many days more all of them together would then lose; null when something else would then stand
/// nowhere.</param>
public sealed record PlacedItem(Placeable Item, PlacementCost? Cost, SpotId? NextBest, double? NextBestCosts);
