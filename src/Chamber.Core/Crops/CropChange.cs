using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;

namespace Chamber.Core.Crops;

/// <summary>
/// What a user puts over the catalog, or adds to it; only what is given changes. Somebody who trusts another band gives just that band.
/// A crop that is neither known nor based on a known one needs the four cardinal temperatures and its half warm-hours.
/// </summary>
/// <param name="Id">The crop that is changed or added.</param>
public sealed record CropChange(CropId Id)
{
    /// <summary>A known crop whose numbers a new one starts from.</summary>
    public CropId? BasedOn { get; init; }

    public string? CommonName { get; init; }

    public string? BotanicalName { get; init; }

    public Temperature? Base { get; init; }

    public Temperature? OptimumLow { get; init; }

    public Temperature? OptimumHigh { get; init; }

    public Temperature? Ceiling { get; init; }

    public WarmHours? HalfWarmHours { get; init; }

    /// <summary>σ of the natural logarithm of warm-hours, 0.01 to 2.</summary>
    public double? Spread { get; init; }

    /// <summary>σ at the coldest and at the warmest temperature tried, 0.01 to 2 each, where trials found that it changes.</summary>
    public SpreadEnds? SpreadEnds { get; init; }

    /// <summary>How unsure θ50 is: standard deviation of its logarithm, 0.001 to 2.</summary>
    public double? HalfDeviation { get; init; }

    /// <summary>The share that comes up at best, 0 to 1; the measured shares are scaled to it.</summary>
    public double? BestShare { get; init; }

    /// <summary>What counts as up in these numbers; the shoot by default.</summary>
    public EmergenceEvent? Event { get; init; }

    /// <summary>From the coldest to the warmest temperature at which the numbers were tried; null where that is not known.</summary>
    public TemperatureBand? Tried { get; init; }

    /// <summary>Days to half at temperatures, coolest first, 2 to 200 of them of 0.05 to 1000 days: between the first and the last they
    /// stand in for the four temperatures; null where those serve everywhere.</summary>
    public IReadOnlyList<HalfDaysAt>? HalfDays { get; init; }

    public TemperatureBand? Band { get; init; }

    public Temperature? CoolLimit { get; init; }

    public Temperature? HotLimit { get; init; }

    public LightNeed? Light { get; init; }

    /// <summary>Where the user's numbers come from, to be shown beside them.</summary>
    public string? Source { get; init; }

    /// <summary>Whether it is poisonous: "no", or which part is and how ("the seed is poisonous"); null while nobody has said.</summary>
    public string? Poisonous { get; init; }

    /// <exception cref="FormatException">Something is missing for a new crop, or numbers are out of range or order.</exception>
    internal Crop ApplyTo(Crop? basis)
    {
        var profile = Profile(basis?.Profile);
        var stand = Stand(basis?.Stand);
        var sameCurve = basis is not null && basis.Profile.Cardinals == profile.Cardinals && BestShare is null;
        return new(
            Id,
            CommonName ?? (basis?.Id == Id ? basis.CommonName : Id.Text),
            BotanicalName ?? basis?.BotanicalName ?? "",
            profile,
            stand,
            Band ?? (sameCurve ? basis!.IdealBand : IdealBands.Band(profile.Cardinals, stand)),
            CoolLimit ?? (sameCurve ? basis!.CoolLimit
                : IdealBands.CoolLimit(profile.Cardinals, Band ?? IdealBands.Band(profile.Cardinals, stand))),
            HotLimit ?? (sameCurve ? basis!.HotLimit : IdealBands.HotLimit(profile.Cardinals, stand)),
            Light ?? basis?.Light ?? LightNeed.Indifferent,
            [Source ?? "The user's own numbers.", .. basis?.Sources ?? []])
        {
            Guide = basis?.Guide is { } guide && basis.Id != Id ? guide with { Aliases = [] } : basis?.Guide,
            Conflict = basis?.Conflict,
            OwnShare = BestShare ?? basis?.OwnShare,
            Needs = basis?.Needs ?? [],
            Hazards = CropHazard.With(basis, Id, Poisonous),
            HazardUnknown = Poisonous is null && (basis?.Id != Id || basis.HazardUnknown),
        };
    }

    private GerminationProfile Profile(GerminationProfile? basis)
    {
        var changed = (Base ?? OptimumLow ?? OptimumHigh ?? Ceiling) is not null || HalfWarmHours is not null || Spread is not null
            || Event is not null || Tried is not null || SpreadEnds is not null || HalfDays is not null;
        if (basis is not null && !changed && HalfDeviation is null)
        {
            return basis;
        }

        var half = WithinBound(HalfWarmHours ?? basis?.HalfWarmHours ?? throw Missing("halfWarmHours"));
        return new GerminationProfile(
            WithDays(Cardinals(basis?.Cardinals), basis?.Cardinals.Tried, half),
            half,
            InRange(Spread ?? basis?.Spread ?? CatalogReader.AssumedSpread, 0.01, 2, "spread"),
            Event ?? basis?.Event ?? EmergenceEvent.ShootSeen)
        {
            Origin = ProfileOrigin.Own,
            WaitDays = Base is null ? basis?.WaitDays : null,
            SpreadEnds = Ends() ?? (Spread is null && Tried is null ? basis?.SpreadEnds : null),
            Tried = Tried ?? (Base is null && OptimumLow is null ? basis?.Tried : null),
            HalfDeviation = InRange(HalfDeviation ?? basis?.HalfDeviation ?? 0.25, 0.001, 2, "halfDeviation"),
        };
    }

    private SpreadEnds? Ends() => SpreadEnds is not { } ends ? null
        : Tried is null ? throw new FormatException($"The crop {Id}: spreadEnds needs tried, the temperatures that they belong to.")
        : new(InRange(ends.Coldest, 0.01, 2, "spreadEnds"), InRange(ends.Warmest, 0.01, 2, "spreadEnds"));

    private CardinalTemperatures WithDays(CardinalTemperatures four, TriedWarmth? basis, WarmHours half)
    {
        if (HalfDays is not { } days)
        {
            return four with { Tried = (Base ?? OptimumLow ?? OptimumHigh ?? Ceiling) is null ? basis : null };
        }

        if (days.Count > 200 || days.Any(each => !(each.Days >= 0.05 && each.Days <= 1000)))
        {
            throw new FormatException($"The crop {Id}: halfDays takes 2 to 200 temperatures with 0.05 to 1000 days each.");
        }

        try
        {
            return four with { Tried = TriedWarmth.Of(days, half, four) };
        }
        catch (ArgumentException)
        {
            throw new FormatException($"The crop {Id}: halfDays takes two or more temperatures, each warmer than the one before.");
        }
    }

    private CardinalTemperatures Cardinals(CardinalTemperatures? basis)
    {
        try
        {
            if (basis is { Ceilings: { } ceilings } && OptimumHigh is null && Ceiling is null)
            {
                var known = basis.Value;
                return new(Base ?? known.Base, OptimumLow ?? known.OptimumLow, ceilings, Base is null ? known.FootKelvins : 0);
            }

            return new(
                Base ?? basis?.Base ?? throw Missing("base"),
                OptimumLow ?? basis?.OptimumLow ?? throw Missing("optimumLow"),
                OptimumHigh ?? basis?.OptimumHigh ?? throw Missing("optimumHigh"),
                Ceiling ?? basis?.Ceiling ?? throw Missing("ceiling"),

                // Published thermal times and own fits go straight to their base.
                Base is null ? basis?.FootKelvins ?? 0 : 0);
        }
        catch (ArgumentException error)
        {
            throw new FormatException($"The crop {Id}: {error.Message}", error);
        }
    }

    private StandCurve Stand(StandCurve? basis)
    {
        var best = InRange(BestShare ?? basis?.Best ?? CatalogReader.AssumedShare, 0, 1, "bestShare");
        if (basis is null)
        {
            return new([(OptimumLow!.Value, best)]);
        }

        return BestShare is null || basis.Best == 0 ? basis : basis.Times(best / basis.Best);
    }

    private double InRange(double value, double low, double high, string name) =>
        value >= low && value <= high
            ? value
            : throw new FormatException($"The crop {Id}: {name} is {value}, and must lie between {low} and {high}.");

    private WarmHours WithinBound(WarmHours half) => Bounds.HalfWarmHours.WhyNot(half.CelsiusHours) is { } why
        ? throw new FormatException($"The crop {Id}: halfWarmHours: {why}")
        : half;

    private FormatException Missing(string name) =>
        new($"The crop {Id} is new, so it needs {name} (or basedOn, a crop to start from).");
}
