using System.Globalization;
using Chamber.Core.Batches;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Facts.Homes;

/// <summary>Somebody has limits of their own for alerts about a batch, or about whatever stands on a spot.</summary>
/// <param name="TooHot">It is too hot above it, °C; null as the crop has it.</param>
/// <param name="TooCold">It is too cold below it, °C; null as the crop has it.</param>
/// <param name="Batch">For which batch; null for a spot.</param>
/// <param name="Spot">For which spot; null for a batch.</param>
public sealed record LimitsChosen(double? TooHot = null, double? TooCold = null, BatchId? Batch = null, SpotId? Spot = null) : Fact
{
    public override IReadOnlyList<FactSubject> About() => [BatchOrSpot.Subject(Batch, Spot)];

    public override string Words(ShownNames names) => TooHot is null && TooCold is null
        ? $"{names.Of(BatchOrSpot.Subject(Batch, Spot))}: limits of the crop again"
        : FactWords.Line($"{names.Of(BatchOrSpot.Subject(Batch, Spot))}: own limits",
            TooHot is { } hot ? string.Create(CultureInfo.InvariantCulture, $"too hot above {hot:0.#} °C") : null,
            TooCold is { } cold ? string.Create(CultureInfo.InvariantCulture, $"too cold below {cold:0.#} °C") : null);

    internal override void Apply(HomeFold home, Instant at)
    {
        BatchOrSpot.Require(home, Batch, Spot);
        FactRefusedException.When(WithinBounds.WhyNot(at), "at");
        FactRefusedException.When(TooHot is { } hot ? Bounds.LimitCelsius.WhyNot(hot) : null, "tooHot");
        FactRefusedException.When(TooCold is { } cold ? Bounds.LimitCelsius.WhyNot(cold) : null, "tooCold");
        FactRefusedException.When(TooCold >= TooHot, $"Too cold lies below too hot: exchange the two.", "tooCold");
        var about = BatchOrSpot.Subject(Batch, Spot);
        if (TooHot is null && TooCold is null)
        {
            home.Limits.Remove(about);
        }
        else
        {
            home.Limits[about] = new(about, TooHot, TooCold);
        }
    }
}
