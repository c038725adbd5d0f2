using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using NodaTime;

namespace Chamber.Core.Alerts;

/// <summary>A batch at a place: how it fares there against its crop's limits.</summary>
internal sealed class BatchState
{
    // 70 °F, what nearly all seedlings are grown on at (Iowa State Univ. Extension, 2023), for a crop without a growing day of its own.
    private static readonly Temperature UsualGrowingDay = Temperature.FromCelsius(21.1);

    private readonly Crop crop;
    private readonly CardinalTemperatures cardinals;
    private readonly double cool;
    private readonly double hot;
    private readonly double growingDay;
    private RollingDay lost = new();
    private HeldCondition tooCold;
    private HeldCondition tooHot;
    private HeldCondition swing;
    private RollingDay coldHours = new();
    private RollingDay warmHours = new();
    private double lostToCold;
    private double lostToHeat;
    private double hotHours;
    private double hotCelsiusHours;

    private readonly long cameAt;

    /// <summary>What its temperatures have left of its seed since the sowing, here and where it stood before, until the first was up.</summary>
    public StandTally Stand { get; set; }

    public BatchState(BatchTerms terms, long cameAt)
    {
        this.cameAt = cameAt;
        Terms = terms;
        crop = terms.Watched.Crop;
        cardinals = crop.Profile.Cardinals;
        cool = crop.CoolLimit.Celsius;
        hot = crop.HotLimit.Celsius;
        growingDay = (crop.Guide?.GrowingDay?.High ?? UsualGrowingDay).Celsius;
        Name = terms.Watched.Batch.Id.Text;
        (Up, FirstUpAt, IsUncovered) = terms.Before;
        IsOpenHere = !terms.Watched.HasCover && Instant.FromUnixTimeTicks(cameAt) == terms.Watched.Batch.SownAt;
    }

    public BatchTerms Terms { get; }

    public BatchId Id => Terms.Watched.Batch.Id;

    public string Name { get; }

    public SowingMethod Method => Terms.Watched.Batch.Method;

    /// <summary>How many were up at the last look.</summary>
    public int Up { get; set; }

    /// <summary>When somebody first saw one up.</summary>
    public long? FirstUpAt { get; set; }

    public bool IsUncovered { get; private set; }

    /// <summary>Whether the air over it is known to be open, since it was sown here without a cover, or its cover came off here. One that came uncovered says nothing of the lids beside it.</summary>
    public bool IsOpenHere { get; private set; }

    private bool IsSeedling => FirstUpAt is not null && (Method != SowingMethod.DampTowel || IsUncovered);

    public bool IsCovered => Terms.Watched.HasCover && !IsUncovered;

    /// <summary>How often the shut cover was told: 1 as a note, 2 as a warning.</summary>
    public int CoverTold { get; set; }

    /// <summary>Hours in the warm and dark since the first were up.</summary>
    public double WarmDarkHours { get; set; }

    public double CoolLimit => cool;

    /// <summary>°C. Until the first are up that of coming up; then that of seedlings. A root in a towel still has to come up.</summary>
    public double HotLimit(WatchLimits limits) => IsSeedling ? growingDay + limits.SeedlingHotKelvins : hot;

    /// <summary>Hours of progress lost to cold within the day before an instant.</summary>
    public double HoursLostAt(long at) => lost.SumAt(at);

    /// <summary>Since when the present cold has cost it progress.</summary>
    public long ColdSince { get; private set; }

    /// <summary>Its cover is off.</summary>
    public void Uncover(long at)
    {
        IsUncovered = true;
        IsOpenHere |= at > cameAt;
    }

    public bool IsTooCold => tooCold.IsOpen;

    public bool IsTooHot => tooHot.IsOpen;

    public long HotSince => tooHot.Since;

    public long ColdTurnedAt => tooCold.TurnedAt;

    public long HotTurnedAt => tooHot.TurnedAt;

    /// <summary>Lets a straight line from the last temperature to this one count.</summary>
    public void Pass(long from, double fromCelsius, long to, double toCelsius)
    {
        if (FirstUpAt is null)
        {
            Stand = Stand.With(crop.Stand, (to - Math.Max(from, cameAt)) / (double)NodaConstants.TicksPerHour, (fromCelsius + toCelsius) / 2);
        }

        if (IsSeedling)
        {
            return;
        }

        var hours = (to - from) / (double)NodaConstants.TicksPerHour;
        var mean = (fromCelsius + toCelsius) / 2;
        if (mean < cool)
        {
            coldHours.Add(to, hours);
            LoseToCold(from, to, hours * LostShare(fromCelsius, toCelsius));
        }
        else if (mean > hot)
        {
            warmHours.Add(to, hours);
            hotHours += hours;
            hotCelsiusHours += hours * mean;
            lostToHeat += hours * LostShare(fromCelsius, toCelsius);
        }
    }

    public Turn JudgeCold(long at, double celsius, WatchTicks limits)
    {
        // The limit is that of coming up: seedlings that are up grow best cool and bright.
        var isUp = FirstUpAt is not null;
        var bad = !isUp && celsius < cool && lost.SumAt(at) >= limits.Limits.ColdLostHours;
        return tooCold.Judge(at, bad, isUp || celsius >= cool + limits.Limits.ColdMargin, 0, limits.ColdClear);
    }

    public Turn JudgeHot(long at, double celsius, long hold, WatchTicks limits)
    {
        var limit = HotLimit(limits.Limits);
        return tooHot.Judge(at, celsius > limit, celsius <= limit - limits.Limits.HotMargin, hold, limits.HotClear);
    }

    public Turn AdvanceCold(long at, WatchTicks limits) => tooCold.Advance(at, 0, limits.ColdClear);

    public Turn AdvanceHot(long at, long hold, WatchTicks limits) => tooHot.Advance(at, hold, limits.HotClear);

    /// <summary>A spell that is over starts its count afresh, so that an alert does not reopen for hours already told.</summary>
    public void ForgetCold()
    {
        lost.Clear();
        lostToCold = 0;
    }

    /// <summary>See <see cref="ForgetCold"/>.</summary>
    public void ForgetHeat() => hotHours = hotCelsiusHours = lostToHeat = 0;

    /// <summary>The temperature is not known from here on.</summary>
    public void Lose()
    {
        tooCold.Lose();
        tooHot.Lose();
    }

    public Turn JudgeSwing(long at, WatchLimits limits)
    {
        var below = coldHours.SumAt(at);
        var above = warmHours.SumAt(at);
        return swing.Judge(
            at, FirstUpAt is null && below >= limits.SwingColdHours && above >= limits.SwingHotHours,
            FirstUpAt is not null || below < limits.SwingColdHours / 2 || above < limits.SwingHotHours / 2, 0, 0);
    }

    public BatchHarm HarmOfSwing() => Harm(lostToCold + lostToHeat, ShareLostAt(MeanHot));

    public BatchHarm HarmOfCold() => Harm(lostToCold, 0);

    public BatchHarm HarmOfHeat() => IsSeedling ? HarmOfSeedlings : Harm(lostToHeat, ShareLostAt(MeanHot));

    /// <summary>What a heat that harms at once means for it.</summary>
    public BatchHarm HarmOfHazard(double worst) => IsSeedling ? HarmOfSeedlings : Harm(0, ShareLostAt(worst));

    /// <summary>What a drift of its spot costs it against the usual course: progress so far, and seed if it stays as in the last day. Null when seedlings are up.</summary>
    /// <param name="hours">The hours since the drift began, in order.</param>
    public BatchHarm? HarmOfDrift(IReadOnlyList<DriftedHour> hours)
    {
        var here = hours.Where(hour => hour.End > cameAt).ToList();
        if (FirstUpAt is not null || here.Count == 0)
        {
            return null;
        }

        var lostHours = here.Sum(hour => LostShare(hour.Celsius, hour.Celsius) - LostShare(hour.Usual, hour.Usual));
        var day = here.TakeLast(24).ToList();
        var fewer = ShareLostAt(day.Average(hour => hour.Celsius)) - ShareLostAt(day.Average(hour => hour.Usual));
        return Harm(Math.Max(0, lostHours), Math.Max(0, fewer));
    }

    /// <summary>The share of seed that would be lost at a steady temperature against the best one; 0 where nothing is published.</summary>
    public double ShareLostAt(double celsius) =>
        crop.Stand.Best <= 0 ? 0 : Math.Max(0, 1 - crop.Stand.ShareAt(Temperature.FromCelsius(celsius)) / crop.Stand.Best);

    public BatchState Copy()
    {
        var copy = (BatchState)MemberwiseClone();
        copy.lost = lost.Copy();
        copy.coldHours = coldHours.Copy();
        copy.warmHours = warmHours.Copy();
        return copy;
    }

    private double MeanHot => hotHours > 0 ? hotCelsiusHours / hotHours : hot;

    private BatchHarm HarmOfSeedlings => new(Id, crop.Id, 0, 0) { IsUp = true };

    private BatchHarm Harm(double delayHours, double atStake) =>
        new(Id, crop.Id, delayHours, crop.Stand.Best > 0 ? 1 - Stand.Share : 0) { ShareAtStake = atStake };

    private void LoseToCold(long from, long to, double hours)
    {
        if (lost.SumAt(to) <= 0)
        {
            ColdSince = from;
        }

        lost.Add(to, hours);
        lostToCold += hours;
    }

    private double LostShare(double from, double to) => 1 - cardinals.MeanEffectiveWarmth(from, to) / cardinals.BestWarmth;
}
