using Chamber.Core.Batches;
using Chamber.Core.Cautions;
using Chamber.Core.Seeds;
using Chamber.Core.Statistics;

namespace Chamber.Service.Home.Answers;

/// <summary>A lot for programs.</summary>
internal sealed record LotAnswer(
    LotId Lot,
    Core.Crops.CropId Crop,
    string? Variety,
    SeedOrigin Origin,
    int? Year,
    LotYearKind YearKind,
    int Left,
    SeedStorage Storage,
    bool Treated,
    LotId? Parent,
    decimal? Price,
    double? Stated,
    string? Note,
    ShareInterval Germination,
    double FromAge,
    double? AgeYears,
    double? YearsLeft,
    LotAdvice Advice,
    IReadOnlyList<TestAnswer> Tests,
    IReadOnlyList<string> Cautions)
{
    public static LotAnswer Of(LotState state) => new(
        state.Lot.Id,
        state.Lot.Crop,
        state.Lot.Variety,
        state.Lot.Origin,
        state.Lot.Year,
        state.Lot.YearKind,
        state.SeedsLeft,
        state.Lot.Storage,
        state.Lot.Treated,
        state.Lot.Parent,
        state.Lot.Price,
        state.Lot.StatedShare,
        state.Lot.Note,
        state.Belief.Share.Interval(),
        state.Belief.FromAge,
        state.Belief.Age?.Years,
        state.Belief.YearsLeft,
        state.Advice,
        [.. state.Tests.Select(TestAnswer.Of)],
        [.. CautionRules.Of(state.Lot, state.Crop).Select(shown => shown.Caution.Full), .. LotRemarks.For(state.Lot, state.Crop)]);
}

/// <summary>A test for programs.</summary>
internal sealed record TestAnswer(NodaTime.Instant StartedAt, NodaTime.Instant? CalledAt, int Seeds, int Good, bool Fair,
    ShareInterval Share)
{
    public static TestAnswer Of(LotTest test) =>
        new(test.StartedAt, test.CalledAt, test.Seeds, test.Good, test.Fair, HomeTest.Result(new(test.Good, test.Seeds)));
}
