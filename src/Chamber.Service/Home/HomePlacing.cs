using System.Globalization;
using Chamber.Core.Batches;
using Chamber.Core.Cautions;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Forecasts.BeforeSowing;
using Chamber.Core.Spots;
using Chamber.Core.Spots.Placing;
using NodaTime;

namespace Chamber.Service.Home;

/// <summary>Which batch, or which crop to be sown, goes on which spot: the question with this home's numbers, and its answer in
/// words.</summary>
internal static class HomePlacing
{
    /// <summary>The end of what is said of a crop that gets no spot because it is sown outside.</summary>
    public const string NotOffered = "so no spot indoors is offered.";

    private const int SeedsOfForecast = 12;

    public static IReadOnlyList<PlacedItem> Solve(HomeReader home, Instant now, string[] crops, bool newOnly, bool indoors = false)
    {
        var spots = home.Spots();
        if (spots.Count == 0)
        {
            throw BadInputException.Contradicts("There is no spot yet.");
        }

        var waiting = home.Ledger.OpenBatches.Where(batch => FirstSeen.Of(batch).By is null).ToList();
        var room = spots.ToDictionary(spot => spot.Id, spot => spot.Room);
        foreach (var batch in home.Ledger.OpenBatches.Where(batch => newOnly || FirstSeen.Of(batch).By is not null))
        {
            if (batch.Stays is [.., { When.HasEnd: false } stay] && room.TryGetValue(stay.Spot, out var left))
            {
                room[stay.Spot] = Math.Max(0, left - batch.Containers);
            }
        }

        var costs = new SpotCosts(home, now, spots);
        var items = crops.Select(text => BadInputException.In("crop", () => Wanted.Parse(home.Catalog, text)))
            .Select(wanted => !indoors && wanted.Crop.Guide is { IsSownInPlace: true } ? costs.Outside(wanted.Crop, wanted.Plants)
                : costs.Item(wanted.Crop.CommonName, wanted.Crop, wanted.Plants));
        if (!newOnly)
        {
            items = items.Concat(waiting.Where(batch => home.Catalog.Find(batch.Crop) is not null)
                .Select(batch => costs.Item($"{batch.Id} {batch.Crop}", home.Catalog.Find(batch.Crop)!, batch.Containers)));
        }

        var list = items.ToList();
        return list.Count is > 0 and <= PlacementSolver.ItemsMax
            ? PlacementSolver.Solve(list, room)
            : throw new BadInputException(list.Count == 0 ? "Nothing is waiting for a spot: name crops, such as tomato:2 basil."
                : $"At most {PlacementSolver.ItemsMax} can be arranged at once.");
    }

    /// <summary>One row of a table: what, where, why, and what the next best would cost.</summary>
    public static string[] Row(PlacedItem one) =>
    [
        one.Item.Name,
        one.Cost?.Spot.Text ?? "nowhere",
        Why(one),
        one is { NextBest: { } next, NextBestCosts: { } days }
            ? string.Create(CultureInfo.InvariantCulture, $"{next}, {days:0.#} days lost in all") : "-",
    ];

    /// <summary>Why it goes there; of what goes nowhere, what is wrong with each spot, and that those without a fault are full.</summary>
    public static string Why(PlacedItem one)
    {
        if (one.Cost is { } cost)
        {
            return cost.Why;
        }

        var closed = one.Item.Costs.Where(spot => spot.Days is null).Select(spot => spot.Why).Distinct().ToList();
        return one.Item.Costs.All(spot => spot.Days is null) ? string.Join(' ', closed)
            : string.Join(' ', [.. closed, closed.Count == 0 ? "Every spot is full." : "Every other spot is full."]);
    }

    /// <summary>The cautions of the spots that something goes on, before what is said of them: spots of a kind share one.</summary>
    public static IReadOnlyList<(string Spots, ShownCaution Caution)> Cautions(HomeReader home, IReadOnlyList<PlacedItem> placing)
    {
        var used = placing.Select(one => one.Cost?.Spot).ToHashSet();
        return [.. home.Spots().Where(spot => used.Contains(spot.Id)).GroupBy(spot => spot.Kind)
            .Select(same => (string.Join(", ", same.Select(spot => home.Ledger.Names.Of(spot.Id))), CautionRules.Repeated(same.Key)))];
    }

    /// <summary>What is up and still takes the room that something wants: it belongs into the light anyway. Null when all found
    /// room.</summary>
    public static string? InTheWay(HomeReader home, IReadOnlyList<PlacedItem> placing)
    {
        var bright = home.Spots().Where(spot => spot.Light == LightLevel.Bright).Select(spot => spot.Id).ToHashSet();
        var up = home.Ledger.OpenBatches
            .Where(batch => FirstSeen.Of(batch).By is not null && batch.Stays is [.., { When.HasEnd: false } stay]
                && !bright.Contains(stay.Spot))
            .Select(batch => $"{home.Ledger.Names.Of(batch.Id)} on {home.Ledger.Names.Of(batch.Stays[^1].Spot)}")
            .ToList();
        return up.Count == 0 || placing.All(one => one.Cost is not null) ? null
            : $"Up, and still taking up room: {string.Join(", ", up)}. Moving them to the light makes room.";
    }

    /// <summary>What each spot would cost a crop, from its survey.</summary>
    private sealed class SpotCosts(HomeReader home, Instant now, IReadOnlyList<Spot> spots)
    {
        private readonly HomeForecasts forecasts = home.At(now).Forecasts;

        public Placeable Item(string name, Crop crop, int containers) =>
            new(name, containers, PlacementCost.Of(crop, [.. spots.Select(spot => (spot, Outlook(crop, spot)))],
                home.Ledger.Names.Of));

        /// <summary>A crop that is sown where it will grow: no spot is offered.</summary>
        public Placeable Outside(Crop crop, int containers) =>
            new(crop.CommonName, containers,
                [.. spots.Select(spot =>
                new PlacementCost(spot.Id, null, $"{PlainText.Capital(crop.CommonName)} is sown where it will grow, {NotOffered}"))]);

        private PlaceOutlook Outlook(Crop crop, Spot spot)
        {
            var forecast = forecasts.OnSpot(new CropQuestion(crop, SeedsOfForecast), spot.Id);
            return forecast is null ? PlaceOutlook.Unknown : new(forecast.Half.Mid?.TotalDays, StandShare(crop, spot));
        }

        private double StandShare(Crop crop, Spot spot)
        {
            var means = HourlyMeans.Of(home.Trace(spot.Id, HomeReader.SurveyWindow(now)), home.Zone);
            return means.Count == 0 || crop.Stand.Best <= 0 ? 1 : StandTally.Over(crop, means.Select(mean => mean.Mean)).Share(crop.Stand);
        }
    }
}
