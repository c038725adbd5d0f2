using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;
using Chamber.Core.Crops;
using Chamber.Core.Folding;
using NodaTime;

namespace Chamber.Core.Alerts.Fold;

/// <summary>A batch at a location: how far it is, and what cold and heat have cost it. What conditions make of that is theirs.</summary>
internal sealed class BatchState
{
    // 70 °F, what nearly all seedlings are grown on at (Iowa State Univ. Extension, 2023), for a crop whose growing day is not known.
    private static readonly Temperature UsualGrowingDay = Temperature.FromCelsius(21.1);

    private readonly Moment cameAt;
    private readonly CardinalTemperatures cardinals;

    public BatchState(BatchTerms terms, Moment cameAt)
    {
        this.cameAt = cameAt;
        Terms = terms;
        cardinals = terms.Cardinals;
        Name = terms.Id.Text;
        Subject = AlertSubject.Of(terms.Id);
        GrowingDayMax = terms.GrowingDay?.High ?? UsualGrowingDay;
        (Up, FirstUpAt, IsUncovered) = terms.Before;
        IsCovered = terms.HasCover && !IsUncovered;
        IsOpenHere = !terms.HasCover && cameAt.ToInstant() == terms.SownAt;
    }

    public BatchTerms Terms { get; }

    public BatchId Id => Terms.Id;

    public string Name { get; }

    public AlertSubject Subject { get; }

    public SowingMethod Method => Terms.Method;

    public Temperature GrowingDayMax { get; }

    /// <summary>Its index among the batches here, by which conditions find their states.</summary>
    public int Index { get; set; }

    /// <summary>How many were up at the last look.</summary>
    public int Up { get; set; }

    /// <summary>When somebody first saw one up.</summary>
    public Moment? FirstUpAt { get; set; }

    public bool IsUp => FirstUpAt is not null;

    public bool IsUncovered { get; private set; }

    /// <summary>Whether the air over it is known to be open, since it was sown here without a cover, or its cover came off here. One that
    /// came uncovered says nothing of the lids beside it.</summary>
    public bool IsOpenHere { get; private set; }

    public bool IsCovered { get; private set; }

    /// <summary>Whether it is judged as seedlings. A root in a towel still has to come up.</summary>
    public bool IsSeedling => IsUp && (Method != SowingMethod.DampTowel || IsUncovered);

    /// <summary>What cold and heat have cost it in the present spell of each.</summary>
    public Losses Losses;

    /// <summary>What its temperatures have left of its seed since the sowing, here and where it was before, until the first was
    /// up.</summary>
    public StandTally Stand { get; set; }

    /// <summary>Its cover is off.</summary>
    public void Uncover(Moment at)
    {
        IsUncovered = true;
        IsCovered = false;
        IsOpenHere |= at > cameAt;
    }

    /// <summary>The share of an hour's progress that is lost, as the mean over a straight line of temperature: 1 - E(T)/E(best).</summary>
    public double LostShare(Temperature from, Temperature to) =>
        1 - cardinals.MeanEffectiveWarmth(from.Celsius, to.Celsius) / cardinals.BestWarmth;

    /// <summary>The same at a steady temperature, °C.</summary>
    public double LostShare(double celsius) => 1 - cardinals.EffectiveWarmth(celsius) / cardinals.BestWarmth;

    /// <summary>The share of seed that would be lost at a steady temperature against the best one; 0 where nothing is published.</summary>
    public double ShareLostAt(double celsius) =>
        Terms.Stand.Best <= 0 ? 0 : Math.Max(0, 1 - Terms.Stand.ShareAt(Temperature.FromCelsius(celsius)) / Terms.Stand.Best);

    /// <summary>The share of seed lost if the heat of the present spell stayed, against the best temperature.</summary>
    public double ShareLostToHeat => ShareLostAt(Losses.HotHours > 0 ? Losses.HotCelsiusHours / Losses.HotHours : Terms.HotLimit.Celsius);

    /// <summary>What an alert means for it: hours of progress lost, what its temperatures have cost, and what is at stake.</summary>
    public BatchHarm Harm(double delayHours, double atStake) =>
        new(Id, Terms.Crop, delayHours, Terms.Stand.Best > 0 ? 1 - Stand.Share(Terms.Stand) : 0) { ShareAtStake = atStake };

    /// <summary>The same of heat for what is up: there is no seed to lose.</summary>
    public BatchHarm HarmOfSeedlings => new(Id, Terms.Crop, 0, 0) { IsUp = true };

    /// <summary>Lets a straight line of the spot's temperature count for what is left of its seed.</summary>
    public void CountStand(in SpotLeg leg)
    {
        if (!IsUp)
        {
            var hours = leg.From.At >= cameAt ? leg.Hours : (leg.To.At - cameAt).Ticks / (double)NodaConstants.TicksPerHour;
            Stand = Stand.With(Terms.Stand, cardinals, hours, leg.MeanCelsius);
        }
    }

    /// <summary>Whether it stood here at a moment.</summary>
    public bool CameBefore(Moment at) => at > cameAt;

    /// <summary>A copy that is independent: everything in it is a value or does not change.</summary>
    public BatchState Copy() => (BatchState)MemberwiseClone();
}

/// <summary>Progress lost to cold and to heat, in hours of the fastest progress. A value: a copy is independent.</summary>
internal struct Losses
{
    private RollingDay cold;

    /// <summary>Hours of progress lost to cold since its spell began.</summary>
    public double ToCold { get; private set; }

    /// <summary>Since when the present cold has cost it progress.</summary>
    public Moment ColdSince { get; private set; }

    /// <summary>Hours of progress lost to heat since its spell began.</summary>
    public double ToHeat { get; private set; }

    /// <summary>Hours above the hot limit since its spell began.</summary>
    public double HotHours { get; private set; }

    /// <summary>°C·h of those.</summary>
    public double HotCelsiusHours { get; private set; }

    /// <summary>Hours lost to cold within the day before a moment.</summary>
    public double ToColdWithinDay(Moment at) => cold.SumAt(at);

    public void AddCold(Moment from, Moment to, double hours)
    {
        if (cold.SumAt(to) <= 0)
        {
            ColdSince = from;
        }

        cold.Add(to, hours);
        ToCold += hours;
    }

    public void AddHeat(double hours, double meanCelsius, double lostHours)
    {
        HotHours += hours;
        HotCelsiusHours += hours * meanCelsius;
        ToHeat += lostHours;
    }

    /// <summary>A spell that is over starts its count afresh, so that an alert does not reopen for hours already reported.</summary>
    public void EndCold()
    {
        cold.Clear();
        ToCold = 0;
    }

    /// <summary>See <see cref="EndCold"/>.</summary>
    public void EndHeat() => HotHours = HotCelsiusHours = ToHeat = 0;
}
