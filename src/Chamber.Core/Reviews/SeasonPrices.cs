using Chamber.Core.Batches;
using Chamber.Core.Crops;
using Chamber.Core.Plans;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Reviews;

/// <summary>What a season's things cost, in the home's own money; what is left out costs nothing.</summary>
public sealed record SeasonPrices
{
    /// <summary>Price of a kWh.</summary>
    public decimal KilowattHour { get; init; }

    /// <summary>Price of a litre of mix.</summary>
    public decimal MixLitre { get; init; }

    /// <summary>Litres of mix in a container; 0.5 by default (a cut milk carton; common practice, no source).</summary>
    public double ContainerLitres { get; init; } = 0.5;

    /// <summary>Pots, trays and whatever else, for the whole season.</summary>
    public decimal Other { get; init; }

    /// <summary>Power that a spot draws for the plants' sake, W: of a mat or a lamp, not of the boiler or router that is warm
    /// anyway.</summary>
    public IReadOnlyDictionary<SpotId, double> Watts { get; init; } = new Dictionary<SpotId, double>();

    /// <summary>
    /// What the batches of a season cost. Heat is counted for the hours in which at least one of them stood on the spot, as if it never
    /// switched off; a thermostat makes it less.
    /// </summary>
    /// <param name="batches">Those sown in the season.</param>
    /// <param name="seed">What their seed cost, as far as known.</param>
    /// <param name="planted">Plants that reached the garden.</param>
    /// <param name="now">Until when open stays are counted.</param>
    public PlantCost For(IReadOnlyCollection<Batch> batches, decimal seed, int planted, Instant now)
    {
        ArgumentNullException.ThrowIfNull(batches);
        var litres = batches.Where(batch => batch.Method != SowingMethod.DampTowel).Sum(batch => batch.Containers) * ContainerLitres;
        var kilowattHours = Watts.Sum(spot => PlantCost.KilowattHours(spot.Value, OccupiedHours(batches, spot.Key, now)));
        return new(seed, (decimal)litres * MixLitre, (decimal)kilowattHours * KilowattHour, Other, planted);
    }

    /// <summary>Hours in which at least one of the batches stood on a spot.</summary>
    public static double OccupiedHours(IEnumerable<Batch> batches, SpotId spot, Instant now)
    {
        var (hours, until) = (0.0, Instant.MinValue);
        foreach (var (start, end) in batches
            .SelectMany(batch => batch.Stays)
            .Where(stay => stay.Spot == spot)
            .Select(stay => (stay.When.Start, End: stay.When.HasEnd ? stay.When.End : now))
            .OrderBy(stay => stay.Start))
        {
            var from = Instant.Max(start, until);
            if (end > from)
            {
                hours += (end - from).TotalHours;
                until = end;
            }
        }

        return hours;
    }
}
