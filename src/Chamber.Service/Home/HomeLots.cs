using Chamber.Core.Batches;
using Chamber.Core.Crops;
using Chamber.Core.Seeds;
using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Home;

/// <summary>What people write down of seed and its tests: one place for the command line, the page and the API.</summary>
/// <remarks>Every method throws <see cref="BadInputException"/> or <see cref="LedgerRefusedException"/>, and then nothing was written.</remarks>
internal sealed class HomeLots(HomeReader home, Instant now)
{
    private Ledger Ledger => home.Store.Ledger;

    private HomeSeeds Seeds => new(home, now);

    /// <summary>Adds a lot, or changes the one of this name.</summary>
    public LotState Save(LotId id, LotRequest asked)
    {
        var own = asked.Saved || asked.Parent is not null;
        Ledger.Seeds.Save(new(
            id,
            BadInputException.In("crop", () => home.Catalog.Require(asked.Crop)).Id,
            Filled(asked.Variety),
            own ? SeedOrigin.Saved : SeedOrigin.Bought,
            Year(asked.Year),
            asked.YearIs ?? (own ? LotYearKind.Harvested : LotYearKind.PackedFor),
            asked.Seeds >= 0 ? asked.Seeds : throw BadInputException.In("seeds", "seeds: 0 or more."),
            now,
            asked.Price is null or >= 0 ? asked.Price : throw BadInputException.In("price", "A price is 0 or more."),
            null,
            asked.Storage ?? StoragePlace.Room,
            asked.Treated,
            asked.Parent,
            asked.Stated is null or (>= 0 and <= 1) ? asked.Stated : throw BadInputException.In("stated", "The germination on a packet is a share from 0 to 1."),
            Filled(asked.Note)));
        return Seeds.Require(id.Text);
    }

    public LotState Count(string name, CountRequest counted)
    {
        var lot = Seeds.Require(name).Lot;
        if (counted.Seeds < 0)
        {
            throw BadInputException.In("seeds", $"{counted.Seeds} seeds cannot be; 0 is none.");
        }

        Ledger.Seeds.Save(lot with
        {
            Counted = counted.Seeds,
            CountedAt = now,
            Bought = lot.Bought ?? (lot.Counted > 0 ? lot.Counted : null),
        });
        return Seeds.Require(name);
    }

    public LotId Remove(string name)
    {
        var lot = Seeds.Require(name).Lot.Id;
        Ledger.Seeds.Remove(lot);
        return lot;
    }

    /// <summary>Starts a test, on a towel unless the lot is treated; from then on it is looked at like any batch.</summary>
    public TestStarted StartTest(string name, TestStartRequest asked)
    {
        var state = Seeds.Require(name);
        var spot = BadInputException.In("spot", () => home.RequireSpot(asked.Spot));
        var test = HomeTest.Plan(state.Crop, TestQuestion.Rate, state.Left, state.Lot.Treated);
        var count = asked.Seeds is null or >= 1 ? asked.Seeds ?? test.Seeds : throw BadInputException.In("seeds", $"seeds: {asked.Seeds} is too few; write at least 1.");
        RefuseMoreThanLeft(state, count);
        var at = home.PastOf(asked.At, now);
        var batch = new Batch(Ledger.Batches.FreeId(state.Crop.Id), state.Crop.Id, state.Lot.Id, MethodOf(state), at, count, [new Stay(spot.Id, new Interval(at, null))], []) { IsTest = true };
        Ledger.Batches.Sow(batch);
        Ledger.Seeds.Record(new(state.Lot.Id, at, null, count, 0, Batch: batch.Id));
        return new(batch.Id, state.Lot.Id, count, at.InZone(home.Zone).Date.PlusDays(test.FinalCountDay), test.Advice);
    }

    /// <summary>Calls a running test and ends its batch.</summary>
    public TestResult CallTest(string name, TestCallRequest asked)
    {
        var batch = home.RequireBatch(name);
        if (!batch.IsTest || batch.Lot is not { } lot)
        {
            throw new BadInputException($"{batch.Id} is not a test.") { Kind = BadInputKind.Contradicts, Hint = "Start one: chamber test start LOT --spot SPOT" };
        }

        var good = asked.Good ?? (batch.Looks.Count > 0 ? batch.Looks[^1].Up : throw BadInputException.In("good", $"Nobody has looked at {batch.Id}: say how many were good, 0 if none."));
        if (good < 0 || good > batch.Seeds)
        {
            throw BadInputException.Contradicts($"{good} good cannot be: only {batch.Seeds} seeds were laid out.", "good");
        }

        var crop = home.Catalog.Require(batch.Crop.Text);
        var until = batch.EndedAt ?? now;
        var fair = FairTest.Judge(crop, Seeds.Hours(batch, crop, until), home.Scale);

        // A test whose spot nobody measured is taken at its word: a thermometer is not required of a towel.
        Ledger.Seeds.Record(new(lot, batch.SownAt, until, batch.Seeds, good, fair.Verdict is Fairness.Fair or Fairness.Unknown, batch.Id));
        if (batch.EndedAt is null)
        {
            Ledger.Batches.End(batch.Id, now);
        }

        return new(lot, good, batch.Seeds, fair);
    }

    /// <summary>Writes down a test that was done without Chamber.</summary>
    public TestResult RecordTest(string name, TestRecordRequest asked)
    {
        var state = Seeds.Require(name);
        if (asked.Seeds < 1 || asked.Good < 0 || asked.Good > asked.Seeds)
        {
            throw BadInputException.In("good", $"{asked.Good} good ones cannot come of {asked.Seeds} seeds.");
        }

        var at = home.PastOf(asked.At, now);
        if (at >= state.Lot.CountedAt)
        {
            RefuseMoreThanLeft(state, asked.Seeds);
        }

        Ledger.Seeds.Record(new(state.Lot.Id, at, at, asked.Seeds, asked.Good, !asked.Unfair));
        return new(state.Lot.Id, asked.Good, asked.Seeds, null);
    }

    // Bare hands go to a towel every day: treated seed is tested in mix.
    private static SowingMethod MethodOf(LotState state) => (state.Lot.Treated, state.Crop.Light) switch
    {
        (false, _) => SowingMethod.DampTowel,
        (_, LightNeed.NeedsLight) => SowingMethod.OpenMix,
        _ => SowingMethod.CoveredMix,
    };

    private int? Year(int? typed)
    {
        var thisYear = now.InZone(home.Zone).Year;
        return typed is null || (typed >= 1900 && typed <= thisYear + 10)
            ? typed
            : throw BadInputException.In("year", $"{typed} is no year of a lot: write it with four digits, as {thisYear}.");
    }

    private static void RefuseMoreThanLeft(LotState state, int seeds)
    {
        if (LotStock.Refuse(state.Lot, state.Left, seeds) is { } refusal)
        {
            throw BadInputException.Contradicts(refusal, "seeds");
        }
    }

    private static string? Filled(string? text) => string.IsNullOrWhiteSpace(text) ? null : text.Trim();
}
