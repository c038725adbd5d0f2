using Chamber.Core.Batches;
using Chamber.Core.Facts;
using Chamber.Core.Forecasts;
using Chamber.Service.Home;
using NodaTime;

namespace Chamber.Service.Web.Views;

/// <summary>What the last entry of a batch, a look or a move, did to its forecast: that of this moment with it and without.</summary>
internal static class EntryEffect
{
    /// <summary>In a sentence; null where there is no entry yet, no forecast, or the batch has ended.</summary>
    public static string? Of(HomeReader home, Batch batch, EmergenceForecast? after, LocalDate today)
    {
        if (after is null || batch.EndedAt is not null || Without(batch, home.Ledger.Names) is not var (entry, before)
            || home.AtNow.Forecasts.Of(before) is not { } then)
        {
            return null;
        }

        var up = batch.Looks is [.., var last] ? last.Up : 0;
        var (what, of) = Waited(up, after);
        var (was, now) = (When(of(then)), When(of(after)));
        var (wasStand, stand) = (Stand(then), Stand(after));
        return $"{entry}: " + (was, wasStand) switch
        {
            _ when was == now && wasStand == stand => "nothing changes.",
            _ when was == now => $"in all it was {wasStand}, now {stand}.",
            _ => $"{what} was {was}, now {now}.",
        };

        string When(TimeEstimate time) => BatchViews.When(batch, time, home.Zone, today)
            .Replace("was due", "due", StringComparison.Ordinal).Replace("any day now, by", "by", StringComparison.Ordinal);
    }

    private static (string What, Func<EmergenceForecast, TimeEstimate> Of) Waited(int up, EmergenceForecast after) => up == 0
        ? ("first up", forecast => forecast.First)
        : up * 2 < after.StandHigh ? ("half up", forecast => forecast.Half) : ("nine in ten up", forecast => forecast.Most);

    private static string Stand(EmergenceForecast forecast) =>
        forecast.StandLow == forecast.StandHigh ? $"{forecast.StandLow}" : $"{forecast.StandLow} to {forecast.StandHigh}";

    // The batch as if its last look or move had not been.
    private static (string Entry, Batch Before)? Without(Batch batch, ShownNames names)
    {
        var moved = batch.Stays is [_, .., { When.HasStart: true } stay] ? stay.When.Start : (Instant?)null;
        if (batch.Looks is [.., var look] && (moved is null || look.At >= moved))
        {
            return ("Last look", batch with { Looks = [.. batch.Looks.SkipLast(1)] });
        }

        return batch.Stays is [.., var before, var to] && moved is not null
            ? ($"The move to {names.Of(to.Spot)}",
                batch with { Stays = [.. batch.Stays.SkipLast(2), before with { When = new(before.When.Start, null) }] })
            : null;
    }
}
