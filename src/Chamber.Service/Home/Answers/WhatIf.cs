using Chamber.Core.Batches;
using Chamber.Core.Crops;
using Chamber.Core.Forecasts;
using Chamber.Core.Forecasts.BeforeSowing;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Service.Home.Answers;

/// <summary>What is to be expected of a batch, or of seed that is sown on a spot.</summary>
/// <param name="SownAt">From when it counts.</param>
/// <param name="Half">Half are up, 80 % interval; nulls where that is not to be expected.</param>
/// <param name="StandLow">How many come up in all, the low end of an 80 % interval.</param>
/// <param name="StandHigh">The high end.</param>
/// <param name="Seeds">Of how many seeds.</param>
/// <param name="ReadyOn">The first day on which it has grown long enough to be planted out; null where the catalog has no weeks for it, or
/// half are never up.</param>
internal sealed record Expected(Instant SownAt, TimesAnswer Half, int StandLow, int StandHigh, int Seeds, LocalDate? ReadyOn)
{
    public static Expected Of(Instant sown, EmergenceForecast forecast, int seeds, Crop crop, DateTimeZone zone)
    {
        var half = TimesAnswer.Of(sown, forecast.Half);
        LocalDate? ready = half.Mid is { } up && crop.Guide is { IsSownInPlace: false, WeeksToPlantOut: { } weeks }
            ? up.InZone(zone).Date.PlusWeeks(weeks.Low) : null;
        return new(sown, half, forecast.StandLow, forecast.StandHigh, seeds, ready);
    }
}

/// <summary>A batch as it is, and as it would be with one thing changed.</summary>
/// <param name="Now">As it is.</param>
/// <param name="Then">With the change.</param>
internal sealed record WhatIfAnswer(Expected Now, Expected Then);

/// <summary>
/// What a change would do, before anything is done: the same forecasts, of a home in which one thing is otherwise. Nothing is written.
/// </summary>
internal sealed class WhatIf(HomeReader home, Instant now)
{
    private readonly HomeForecasts forecasts = home.At(now).Forecasts;

    /// <summary>A batch that is moved now, or whose spot is kept warmer or cooler from now on.</summary>
    /// <param name="batch">Which batch.</param>
    /// <param name="to">Where it would stand; null for where it does.</param>
    /// <param name="warmer">By how much warmer it would be there, K; below 0 for cooler.</param>
    /// <returns>Null while nothing can be said of one of the two.</returns>
    /// <exception cref="BadInputException">It has ended, or stands nowhere.</exception>
    public WhatIfAnswer? Of(Batch batch, SpotId? to, double warmer)
    {
        BadInputException.In("warmer", () => Core.Bounds.WarmerBy.Require(warmer));
        if (batch is not { EndedAt: null, Stays: [.., { When.HasEnd: false } stay] })
        {
            throw BadInputException.Contradicts($"{batch.Id} has ended or stands on no spot, so nothing about it can change.");
        }

        var spot = to ?? stay.Spot;
        var moved = spot == stay.Spot ? batch : batch with
        {
            Stays = [.. batch.Stays.SkipLast(1), stay with { When = new(stay.When.Start, now) }, new Stay(spot, new(now, null))],
        };
        var changed = warmer == 0 ? forecasts : new HomeForecasts(home, now, forecasts.Knowledge) { Warmer = (spot, warmer) };
        return Of(forecasts, batch) is { } asIs && Of(changed, moved) is { } then ? new(asIs, then) : null;
    }

    /// <summary>Seed that is sown on a spot some time from now.</summary>
    /// <param name="question">What would be sown.</param>
    /// <param name="spot">Where.</param>
    /// <param name="later">In how long; 0 for now.</param>
    /// <returns>Null while the spot has not been measured through a whole day.</returns>
    public Expected? Sown(CropQuestion question, SpotId spot, Duration later) =>
        forecasts.OnSpot(question, spot, later) is { } forecast
            ? Expected.Of(now + later, forecast, question.Seeds, question.Crop, home.Zone) : null;

    private Expected? Of(HomeForecasts some, Batch batch) =>
        home.Catalog.Find(batch.Crop) is { } crop && some.Of(batch) is { } forecast
            ? Expected.Of(batch.SownAt, forecast, batch.Seeds, crop, home.Zone) : null;
}
