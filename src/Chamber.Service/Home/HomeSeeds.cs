using Chamber.Core.Batches;
using Chamber.Core.Climate.Warmth;
using Chamber.Core.Crops;
using Chamber.Core.Seeds;
using Chamber.Core.Statistics;
using Chamber.Service.Configuration;
using NodaTime;

namespace Chamber.Service.Home;

/// <summary>A lot with what is left of it and what is believed of it.</summary>
internal sealed record LotState(Lot Lot, Crop Crop, int SeedsLeft, LotBelief Belief, LotAdvice Advice, IReadOnlyList<LotTest> Tests);

/// <summary>The lots of this home, with what tests and batches have taught about each.</summary>
internal sealed class HomeSeeds
{
    private readonly HomeReader home;
    private readonly LocalDate today;

    public HomeSeeds(HomeReader home, Instant now)
    {
        this.home = home;
        Now = now;
        today = now.InZone(home.Zone).Date;
    }

    public Instant Now { get; }

    /// <summary>Every lot, first the one to use first.</summary>
    public IReadOnlyList<LotState> All() =>
        [.. home.Ledger.Lots.Select(lot => Of(lot)).OfType<LotState>()
            .OrderBy(state => UseFirst.Rank(state.Belief, state.SeedsLeft)).ThenBy(state => state.Lot.Id.Text, StringComparer.Ordinal)];

    /// <summary>Those of which nothing can be said, since the catalog no longer has their crop: a sentence each, with the fix.</summary>
    public IReadOnlyList<string> WithoutCrop() =>
        [.. home.Ledger.Lots.Where(lot => home.Catalog.Find(lot.Crop) is null).Select(WithoutCropWords)];

    /// <exception cref="BadInputException">There is none with this name; the message names those that there are.</exception>
    public LotState Require(string name)
    {
        var lot = Find(name);
        return Of(lot) ?? throw new BadInputException(WithoutCropWords(lot));
    }

    /// <summary>A lot as it was recorded; its crop may be gone.</summary>
    /// <exception cref="BadInputException">There is none with this name; the message names those that there are.</exception>
    public Lot Find(string name)
    {
        var lots = home.Ledger.Lots;
        return lots.FirstOrDefault(lot => string.Equals(lot.Id.Text, name, StringComparison.OrdinalIgnoreCase))
            ?? throw (lots.Count > 0
                ? BadInputException.NoSuch("lot", name, [.. lots.Select(lot => lot.Id.Text)])
                : BadInputException.Unknown("There is no lot yet.",
                    $"Add one: chamber lot add {name} --crop tomato --seeds 50 --year 2026"));
    }

    /// <summary>The state of a lot, learned from everything but one batch when that is being judged.</summary>
    public LotState? Of(Lot lot, BatchId? except = null)
    {
        if (home.Catalog.Find(lot.Crop) is not { } crop)
        {
            return null;
        }

        var tests = home.Ledger.Tests(lot.Id);
        var belief = LotBelief.Of(lot, crop, Evidence(lot, crop, tests, except), today);
        var left = LotStock.SeedsLeft(lot, home.Ledger.Batches, tests);
        var replaceable = lot.Origin == SeedOrigin.Bought || tests.Any(test => test is { CalledAt: not null, Fair: true });
        return new(lot, crop, left, belief, UseFirst.Advise(belief, left, replaceable), tests);
    }

    private static string WithoutCropWords(Lot lot) =>
        $"Lot {lot.Id} is of crop {lot.Crop}, which the catalog no longer has. Write the crop down again ({CropFile.Again(lot.Crop)}), or "
        + $"say what it is: chamber lot add {lot.Id} --crop NAME";

    /// <summary>
    /// What is believed of a lot from age, packet and tests alone: what its batches have shown is for the forecast to learn, which
    /// knows their temperatures, and must not count twice. Null when the lot or its crop is gone.
    /// </summary>
    public ShareBelief? WithoutBatches(LotId id)
    {
        if (home.Ledger.Lot(id) is not { } lot || home.Catalog.Find(lot.Crop) is not { } crop)
        {
            return null;
        }

        var tests = home.Ledger.Tests(id).Where(test => test.Batch is null && test.CalledAt <= Now);
        var evidence = tests.Select(test => (Test: test, On: test.CalledAt!.Value.InZone(home.Zone).Date))
            .Select(test => new LotEvidence(test.On, new SeedCount(test.Test.Good, test.Test.Seeds), test.Test.Fair,
                $"test of {test.On:d MMM uuuu}"));
        return LotBelief.Of(lot, crop, evidence, today).Share;
    }

    /// <summary>What a batch went through until a moment.</summary>
    public HoursSeen Hours(Batch batch, Crop crop, Instant until)
    {
        var when = new Interval(batch.SownAt, Instant.Max(batch.SownAt, until));
        var sum = WarmthFold.Over(home.TraceOf(batch, when), when, crop.Limits, home.Zone).Total;
        return new(sum.HoursBelow, sum.HoursAbove, sum.MeasuredTime.TotalHours, (sum.UnknownTime + sum.EstimatedTime).TotalHours);
    }

    private IEnumerable<LotEvidence> Evidence(Lot lot, Crop crop, IReadOnlyList<LotTest> tests, BatchId? except)
    {
        foreach (var test in tests.Where(test => test.CalledAt is not null && (except is null || test.Batch != except)))
        {
            var on = test.CalledAt!.Value.InZone(home.Zone).Date;
            yield return new(on, new SeedCount(test.Good, test.Seeds), test.Fair, $"test of {on:d MMM uuuu}");
        }

        var tested = tests.Select(test => test.Batch).OfType<BatchId>().ToHashSet();
        foreach (var batch in home.Ledger.Batches.Where(batch => batch.Lot == lot.Id && batch.Looks.Count > 0 && batch.EndedAt is not null
            && !tested.Contains(batch.Id) && batch.Id != except))
        {
            var last = batch.Looks[^1];
            var fair = FairTest.Judge(crop, Hours(batch, crop, last.At)).MayBlameSeed;
            yield return new(last.At.InZone(home.Zone).Date, new SeedCount(last.Up, batch.Seeds), fair, $"batch {batch.Id}");
        }
    }
}
