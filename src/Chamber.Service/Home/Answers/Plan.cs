using Chamber.Core.Plans;
using Chamber.Core.Statistics;

namespace Chamber.Service.Home.Answers;

/// <summary>What was asked.</summary>
/// <param name="Plants">Plants wanted.</param>
/// <param name="Germination">A share that is taken as known; null when a lot is named.</param>
/// <param name="Lot">The lot whose share is believed; null when a share is given.</param>
/// <param name="Survival">Of those up, the share planted out.</param>
/// <param name="Assurance">How sure to be.</param>
/// <param name="PerCell">Seeds in a cell; null for single sowing.</param>
/// <param name="Outlay">Prices; the seeds are filled in.</param>
/// <param name="BoughtEach">The price of a bought plant; null without.</param>
/// <param name="NotCounted">What the cost leaves out because a part of it was not given: a sentence each.</param>
internal sealed record PlanRequest(
    int Plants,
    double? Germination,
    LotState? Lot,
    double Survival,
    double Assurance,
    int? PerCell,
    Outlay? Outlay,
    decimal? BoughtEach,
    IReadOnlyList<string> NotCounted);

/// <summary>The answer.</summary>
internal sealed record Plan(
    int Sow,
    double Chance,
    int Plants,
    int? Cells,
    int? PerCell,
    ShareInterval Germination,
    double Survival,
    double Assurance,
    CostAnswer? Cost,
    IReadOnlyList<string> NotCounted)
{
    /// <exception cref="BadInputException">No number of seeds is enough.</exception>
    public static Plan Of(PlanRequest request)
    {
        var count = Count(request) ?? throw new BadInputException(
            $"No sowing makes {request.Plants} plants {RangeText.Percent(request.Assurance)} sure with this seed: test it, or "
                + $"take other seed.");
        var sow = count.Sow * (request.PerCell ?? 1);
        return new(
            sow,
            count.Chance,
            request.Plants,
            request.PerCell is null ? null : count.Sow,
            request.PerCell,
            request.Lot?.Belief.Share.Interval() ?? new(request.Germination!.Value, request.Germination.Value, request.Germination.Value),
            request.Survival,
            request.Assurance,
            request.Outlay is { } outlay ? CostAnswer.Of(outlay with { Seeds = sow }, request.Plants, request.BoughtEach) : null,
            request.NotCounted);
    }

    private static SowCount? Count(PlanRequest request) => (request.Lot?.Belief.Share, request.PerCell) switch
    {
        (null, null) => SowCount.For(request.Plants, request.Germination!.Value * request.Survival, request.Assurance),
        (null, { } cell) => SowCount.Cells(request.Plants, cell, request.Germination!.Value, request.Survival, request.Assurance),
        ({ } belief, null) => SowCount.For(request.Plants, belief, request.Survival, request.Assurance),
        ({ } belief, { } cell) => SowCount.Cells(request.Plants, cell, belief, request.Survival, request.Assurance),
    };
}
