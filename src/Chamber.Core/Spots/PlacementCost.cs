using System.Globalization;
using Chamber.Core.Crops;

namespace Chamber.Core.Spots;

/// <summary>What a crop may expect on a spot, from its survey.</summary>
/// <param name="DaysToHalf">Days until half are up; null when it makes no progress there, or nothing is known.</param>
/// <param name="StandShare">The share that comes up there, of what comes up at the best temperature; 0 to 1.</param>
public readonly record struct PlaceOutlook(double? DaysToHalf, double StandShare)
{
    /// <summary>Whether the spot was never measured through a whole day.</summary>
    public bool IsUnknown { get; init; }

    /// <summary>The outlook on such a spot.</summary>
    public static PlaceOutlook Unknown { get; } = new(null, 1) { IsUnknown = true };
}

/// <summary>What it costs to put something on a spot, in days.</summary>
/// <param name="Spot">The spot.</param>
/// <param name="Days">Days of delay, and of loss as days; null when it must not go there.</param>
/// <param name="Why">A sentence.</param>
public sealed record PlacementCost(SpotId Spot, double? Days, string Why)
{
    /// <summary>Seed of which half is lost to the heat does not go there at all.</summary>
    private const double StandShareMin = 0.5;

    /// <summary>
    /// A batch wholly lost costs the time to notice and to start again: three times the days on its best spot, two weeks at least. An
    /// assumption.
    /// </summary>
    private const double NoticeTimes = 3;
    private const double NoticeDaysMin = 14;

    /// <summary>The cost of each spot for a crop; delay counts from the fastest of the spots that are open to it.</summary>
    /// <param name="crop">The crop.</param>
    /// <param name="spots">Each spot with what it promises.</param>
    /// <param name="name">How people see a spot; null for its own name.</param>
    public static IReadOnlyList<PlacementCost> Of(Crop crop, IReadOnlyList<(Spot Spot, PlaceOutlook Outlook)> spots,
        Func<SpotId, string>? name = null)
    {
        ArgumentNullException.ThrowIfNull(crop);
        ArgumentNullException.ThrowIfNull(spots);
        name ??= spot => spot.Text;
        var refusals = spots.Select(spot => Refuse(crop, spot.Spot, spot.Outlook, name(spot.Spot.Id))).ToArray();
        var open = spots.Where((_, i) => refusals[i] is null).Select(spot => spot.Outlook.DaysToHalf!.Value).DefaultIfEmpty(0).Min();
        return [.. spots.Select((spot, i) => refusals[i] is { } refusal
            ? new PlacementCost(spot.Spot.Id, null, refusal)
            : Priced(crop, spot.Spot, spot.Outlook, open))];
    }

    private static PlacementCost Priced(Crop crop, Spot spot, PlaceOutlook outlook, double fastest)
    {
        var days = outlook.DaysToHalf!.Value;
        var lost = 1 - Math.Min(1, outlook.StandShare);
        var loss = lost * Math.Max(NoticeDaysMin, NoticeTimes * fastest);
        var why = $"half up in {InDays(days)}";
        if (days > fastest + 0.05)
        {
            why += $", {InDays(days - fastest)} later than on its fastest spot";
        }

        if (lost >= 0.03)
        {
            why += string.Create(CultureInfo.InvariantCulture, $", {lost * 100:0} % lost to the temperature");
        }

        if (crop.Light == LightNeed.NeedsDark && spot.Light == LightLevel.Bright)
        {
            why += "; cover it, it wants dark";
        }

        return new(spot.Id, days - fastest + loss, why + ".");
    }

    private static string InDays(double days) => days.ToString("0.#", CultureInfo.InvariantCulture) is var text && text == "1"
        ? "1 day" : $"{text} days";

    private static string? Refuse(Crop crop, Spot spot, PlaceOutlook outlook, string name)
    {
        if (crop.Light == LightNeed.NeedsLight && spot.Light == LightLevel.Dark)
        {
            return $"{crop.CommonName} needs light and {name} is dark.";
        }

        if (outlook.IsUnknown)
        {
            return $"{name} has not been measured through a whole day yet.";
        }

        if (outlook.DaysToHalf is null)
        {
            return $"{crop.CommonName} makes no progress on {name}.";
        }

        return outlook.StandShare < StandShareMin
            ? string.Create(CultureInfo.InvariantCulture,
                $"{crop.CommonName} would lose {(1 - outlook.StandShare) * 100:0} % on {name}.")
            : null;
    }
}
