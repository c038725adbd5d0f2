using Chamber.Core;
using Chamber.Core.Batches;
using Chamber.Core.Crops;
using Chamber.Core.Facts.Batches;
using Chamber.Core.Facts.Lots;
using Chamber.Core.Seeds;
using Chamber.Storage.Writing;
using NodaTime;

namespace Chamber.Service.Home.Writing;

/// <summary>What people record of seed and its tests: the same for the command line, the page and the API.</summary>
/// <remarks>Every method throws <see cref="BadInputException"/> or <see cref="Core.RefusedException"/>, and then nothing was
/// written.</remarks>
internal sealed class HomeLots(HomeReader home, Instant now)
{
    private HomePen Ledger => home.Writing(now);

    private HomeSeeds Seeds => home.At(now).Seeds;

    /// <summary>Adds a lot, or changes the one with this name: what was not asked stays as it is.</summary>
    public LotState Save(LotId id, LotRequest asked)
    {
        Check(asked);
        var old = Ledger.Seeds.Lot(id);
        var crop = asked.Crop is { } named ? BadInputException.In("crop", () => home.Catalog.Require(named)).Id
            : old?.Crop ?? throw BadInputException.In("crop", $"There is no lot \"{id}\" yet: say which crop it is.");
        var lot = Apply(old ?? new(id, crop, null, SeedOrigin.Bought, null, LotYearKind.PackedFor, 0, now), asked) with { Crop = crop };
        lot = old is null || asked.Saved is not null || asked.Parent is not null ? Origin(lot, asked) : lot;
        lot = asked.Seeds is { } seeds ? old is null ? lot with { Counted = seeds, CountedAt = now } : Counted(lot, seeds)
            : old is not null ? lot
            : throw BadInputException.In("seeds", $"There is no lot \"{id}\" yet: say how many seeds there are.");
        Ledger.Seeds.Save(Without(lot, asked.Forget ?? []));
        return Seeds.Require(id.Text);
    }

    public LotState Count(string name, CountRequest counted)
    {
        var lot = Seeds.Require(name).Lot;
        Ledger.Seeds.Save(Counted(lot, In("seeds", Bounds.SeedsOfLot, counted.Seeds)));
        return Seeds.Require(name);
    }

    public LotId Remove(string name)
    {
        var lot = Seeds.Find(name).Id;
        Ledger.Seeds.Remove(lot);
        return lot;
    }

    /// <summary>Starts a test, on a towel unless the lot is treated; from then on it is looked at like any batch.</summary>
    public TestStarted StartTest(string name, TestStartRequest asked)
    {
        var state = Seeds.Require(name);
        var spot = BadInputException.In("spot", () => home.RequireSpot(asked.Spot));
        var test = HomeTest.Plan(state.Crop, TestQuestion.Rate, state.SeedsLeft, state.Lot.Treated);
        var count = asked.Seeds is { } seeds ? In("seeds", Bounds.SeedsCounted, seeds) : test.Seeds;
        var at = home.PastOf(asked.At, now);
        var batch = new Batch(Ledger.Batches.FreeId(state.Crop.Id), state.Crop.Id, state.Lot.Id, MethodOf(state), at, count,
            [new Stay(spot.Id, new Interval(at, null))], []) { IsTest = true };
        Ledger.Write([.. BatchFacts.Of(batch), LotTested.Of(new(state.Lot.Id, at, null, count, 0, Batch: batch.Id))]);
        return new(batch.Id, state.Lot.Id, count, at.InZone(home.Zone).Date.PlusDays(test.FinalCountDay), test.Advice,
            HomeWarnings.OfSowing(home, batch), [.. HomeCautions.OfSowing(home, batch).Select(shown => CautionAnswer.Of(shown.Caution))]);
    }

    /// <summary>Calls a running test and ends its batch.</summary>
    public TestResult CallTest(string name, TestCallRequest asked)
    {
        var batch = home.RequireBatch(name);
        if (!batch.IsTest || batch.Lot is not { } lot)
        {
            throw new BadInputException($"{batch.Id} is not a test.") { Kind = BadInputKind.Contradicts,
                Hint = "Start one: chamber test start LOT --spot SPOT" };
        }

        var good = asked.Good ?? (batch.Looks.Count > 0 ? batch.Looks[^1].Up
            : throw BadInputException.In("good", $"Nobody has looked at {batch.Id}: say how many were good, 0 if none."));
        if (good < 0 || good > batch.Seeds)
        {
            throw BadInputException.Contradicts($"{good} good is too many: only {batch.Seeds} seeds were laid out.", "good");
        }

        var crop = home.Catalog.Require(batch.Crop.Text);
        var until = batch.EndedAt ?? now;
        var fair = FairTest.Judge(crop, Seeds.Hours(batch, crop, until), home.Scale);

        // A test whose spot nobody measured is taken at its word: a thermometer is not required of a towel.
        var called = LotTested.Of(
            new(lot, batch.SownAt, until, batch.Seeds, good, fair.Verdict is Fairness.Fair or Fairness.Unknown, batch.Id));
        Ledger.Write(batch.EndedAt is null ? [called, new BatchEnded(batch.Id).At(now)] : [called]);
        return new(lot, good, batch.Seeds, fair);
    }

    /// <summary>Records a germination test done without Chamber.</summary>
    public TestResult RecordTest(string name, TestRecordRequest asked)
    {
        var state = Seeds.Require(name);
        In("seeds", Bounds.SeedsCounted, asked.Seeds);
        if (asked.Good < 0 || asked.Good > asked.Seeds)
        {
            throw BadInputException.In("good", $"{asked.Good} good is more than the {asked.Seeds} seeds.");
        }

        var at = home.PastOf(asked.At, now);
        Ledger.Seeds.Record(new(state.Lot.Id, at, at, asked.Seeds, asked.Good, !asked.Unfair));
        return new(state.Lot.Id, asked.Good, asked.Seeds, null)
        {
            Warnings = at >= state.Lot.CountedAt && LotStock.Warn(state.Lot, state.SeedsLeft, asked.Seeds) is { } warning ? [warning] : [],
        };
    }

    // Bare hands go to a towel every day: treated seed is tested in mix.
    private static SowingMethod MethodOf(LotState state) => (state.Lot.Treated, state.Crop.Light) switch
    {
        (false, _) => SowingMethod.DampTowel,
        (_, LightNeed.NeedsLight) => SowingMethod.OpenMix,
        _ => SowingMethod.CoveredMix,
    };

    private void Check(LotRequest asked)
    {
        Year(asked.Year);
        Refuse("seeds", asked.Seeds is { } seeds ? Bounds.SeedsOfLot.WhyNot(seeds) : null);
        Refuse("price", asked.Price is { } price ? Bounds.Price.WhyNot(price) : null);
        Refuse("stated", asked.Stated is { } share ? Bounds.Share.WhyNot(share) : null);
        Refuse("variety", Bounds.Variety.WhyNot(asked.Variety));
        Refuse("note", Bounds.Note.WhyNot(asked.Note));

        static void Refuse(string field, string? why)
        {
            if (why is not null)
            {
                throw BadInputException.In(field, why);
            }
        }
    }

    private static Lot Apply(Lot lot, LotRequest asked) => lot with
    {
        Variety = Filled(asked.Variety) ?? lot.Variety,
        Year = asked.Year ?? lot.Year,
        YearKind = asked.YearIs ?? lot.YearKind,
        Price = asked.Price ?? lot.Price,
        Storage = asked.Storage ?? lot.Storage,
        Treated = asked.Treated ?? lot.Treated,
        Parent = asked.Parent ?? lot.Parent,
        StatedShare = asked.Stated ?? lot.StatedShare,
        Note = Filled(asked.Note) ?? lot.Note,
    };

    // The year of saved seed is that of its harvest, unless somebody says otherwise.
    private static Lot Origin(Lot lot, LotRequest asked)
    {
        var own = asked.Saved ?? (asked.Parent is not null || lot.Origin == SeedOrigin.Saved);
        return lot with
        {
            Origin = own ? SeedOrigin.Saved : SeedOrigin.Bought,
            YearKind = asked.YearIs
                ?? (own ? LotYearKind.Harvested : lot.YearKind == LotYearKind.Harvested ? LotYearKind.PackedFor : lot.YearKind),
        };
    }

    private static Lot Without(Lot lot, IReadOnlyList<LotPart> forget) => lot with
    {
        Variety = forget.Contains(LotPart.Variety) ? null : lot.Variety,
        Year = forget.Contains(LotPart.Year) ? null : lot.Year,
        Parent = forget.Contains(LotPart.Parent) ? null : lot.Parent,
        Price = forget.Contains(LotPart.Price) ? null : lot.Price,
        StatedShare = forget.Contains(LotPart.Stated) ? null : lot.StatedShare,
        Note = forget.Contains(LotPart.Note) ? null : lot.Note,
    };

    // What the price paid for is the first count.
    private Lot Counted(Lot lot, int seeds) =>
        lot with { Counted = seeds, CountedAt = now, Bought = lot.Bought ?? (lot.Counted > 0 ? lot.Counted : null) };

    private int? Year(int? typed)
    {
        var thisYear = now.InZone(home.Zone).Year;
        return typed is null || (Bounds.LotYear.Holds(typed.Value) && typed <= thisYear + 10)
            ? typed
            : throw BadInputException.In("year", $"{typed} is not a year for a lot: write it with four digits, such as {thisYear}.");
    }

    private static T In<T>(string field, Bound bound, T number)
        where T : struct, System.Numerics.INumber<T> => BadInputException.In(field, () => bound.Require(number));

    private static string? Filled(string? text) => string.IsNullOrWhiteSpace(text) ? null : text.Trim();
}
