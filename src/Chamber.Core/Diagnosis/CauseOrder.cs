using Chamber.Core.Batches;

namespace Chamber.Core.Diagnosis;

/// <summary>The causes that have evidence, in the one order in which they are looked for (<see cref="CauseKind"/>).</summary>
internal static class CauseOrder
{
    /// <summary>
    /// Half a day above the hot limit can send seed into a heat dormancy that cooling does not end (lettuce, celery: UF/IFAS plant
    /// propagation). The number is common practice, no source.
    /// </summary>
    internal const double HotHoursMax = 6;

    /// <summary>Where the lesser of cold and hot hours is less than this share of the greater, only the greater is named. An
    /// assumption.</summary>
    private const double UnsteadyRatio = 0.25;

    /// <summary>Above this share of unknown hours nobody can say. An assumption.</summary>
    private const double UnknownShareMax = 0.3;

    /// <summary>A lot of which fewer than this share is expected is weak. An assumption.</summary>
    internal const double WeakLotShare = 0.6;

    /// <summary>A chill that lets more than this share of sound seed come up was chill enough. An assumption.</summary>
    private const double ChilledShareMin = 0.7;

    /// <summary>What the seed met: heat, swings, water, light, cold.</summary>
    public static IEnumerable<Cause> OfSpot(BatchCase known) =>
        new[] { Heat(known), Water(known), known.WrongLight ? new WrongLight() : null, Unchilled(known), Cold(known) }.OfType<Cause>();

    /// <summary>What is known of seed and measuring, after what it met.</summary>
    public static IEnumerable<Cause> OfSeed(BatchCase known)
    {
        if (known.LotTested && known.Lot.Mean < WeakLotShare)
        {
            yield return new WeakLot(known.Lot.Mean);
        }

        if (known.UnknownShare > UnknownShareMax)
        {
            yield return new NotMeasured(known.UnknownShare);
        }

        if (known.PastLife)
        {
            yield return new OldSeed();
        }

        if (!known.LotTested)
        {
            yield return new UntestedLot();
        }

        if (known.Treated)
        {
            yield return new TreatedSeed();
        }
    }

    /// <summary>What happened after it came up: plants lost, if a quarter of them, or a day in the warm and dark.</summary>
    public static Cause? AfterUp(BatchCase known)
    {
        if (known.Count.Up > 0 && known.LostAfter * 4 >= known.Count.Up)
        {
            var worst = known.Losses.Where(loss => loss.Cause != LossCause.Thinned).GroupBy(loss => loss.Cause)
                .MaxBy(same => same.Sum(loss => loss.Plants))!.Key;
            return new LostAfter(known.LostAfter, worst);
        }

        return known.WarmDarkHours > WarmDark.Harmful.TotalHours ? new WarmAndDark(known.WarmDarkHours, !known.IsInLight) : null;
    }

    /// <summary>What the temperatures took, named by the side on which they lay for longer.</summary>
    public static Cause OfStand(BatchCase known) =>
        Heat(known) ?? Cold(known) ?? (known.Hours.HoursAbove >= known.Hours.HoursBelow
            ? new TooHot(known.Hours.HoursAbove, known.StandShare, IsHotAhead(known))
            : new TooCold(known.Hours.HoursBelow, known.Hours.MeasuredHours, IsColdAhead(known), known.IsNever));

    private static Cause? Heat(BatchCase known)
    {
        var hours = known.Hours;
        var wasHot = hours.HoursAbove > HotHoursMax && known.StandShare < SpotAhead.StandShareMin;
        var willBe = !known.IsOver && known.Ahead is { IsHot: true };
        if (!wasHot && !willBe)
        {
            return null;
        }

        var still = IsHotAhead(known);
        var swings = wasHot
            ? AreBoth(hours.HoursBelow, hours.HoursAbove) && hours.HoursBelow > HotHoursMax
            : AreBoth(known.Ahead!.BelowShare, known.Ahead.AboveShare);
        var left = wasHot ? known.StandShare : known.Ahead!.StandShare;
        return swings ? new Unsteady(hours.HoursBelow, hours.HoursAbove, left, still) : new TooHot(hours.HoursAbove, left, still);
    }

    private static NotChilled? Unchilled(BatchCase known) =>
        known.Chill is { Need.IsNeeded: true, IsNow: false } chill && chill.Share < ChilledShareMin
            ? new(chill.Days, chill.Need.EnoughDays, chill.Share) : null;

    private static Cause? Cold(BatchCase known)
    {
        if (known.Chill is { IsNow: true })
        {
            return null;
        }

        var hours = known.Hours;
        var isCold = known.CoolShare > SpotAhead.CoolShareMax;
        if (known.IsOver ? !isCold : !(known.IsSlow || IsLate(known)) || !(isCold || IsColdAhead(known)))
        {
            return null;
        }

        return hours.HoursAbove > HotHoursMax && AreBoth(hours.HoursBelow, hours.HoursAbove)
            ? new Unsteady(hours.HoursBelow, hours.HoursAbove, known.StandShare, IsColdAhead(known))
            : new TooCold(hours.HoursBelow, hours.MeasuredHours, IsColdAhead(known), known.IsNever);
    }

    private static Cause? Water(BatchCase known) => known.Water switch
    {
        WaterTrouble.Mould => new Mouldy(),
        WaterTrouble.TooWet => new TooWet(),
        WaterTrouble.DriedOut => new DriedOut(),
        _ => null,
    };

    /// <summary>Whether the first came, or would come, later than forecast at its sowing.</summary>
    public static bool IsLate(BatchCase known) => known.ForecastDays is { } days && known.SeenDays.After > days.High;

    // Where nothing is known of the spot it is on, it stays as it was.
    private static bool IsHotAhead(BatchCase known) =>
        known.Ahead is null || (known.Ahead.AboveShare > 0.1 && known.Ahead.StandShare < SpotAhead.StandShareMin);

    private static bool IsColdAhead(BatchCase known) => known.Ahead is null || known.Ahead.IsCold;

    private static bool AreBoth(double below, double above) =>
        Math.Min(below, above) >= UnsteadyRatio * Math.Max(below, above) && Math.Min(below, above) > 0;
}
