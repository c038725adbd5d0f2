using Chamber.Core.Crops;

namespace Chamber.Core.Forecasts.Learning;

/// <summary>What batches share.</summary>
public enum FactorKind
{
    /// <summary>The home: its probes, its water, its hands.</summary>
    Home,

    /// <summary>The botanical family, against the table: relatives often rest on one row of it.</summary>
    Family,

    /// <summary>The crop, against the table.</summary>
    Crop,

    /// <summary>The method, for the event that it counts.</summary>
    Method,

    /// <summary>The lot, against other lots.</summary>
    Lot,

    /// <summary>How much higher the crop's base truly lies than the table's, K.</summary>
    Base,

    /// <summary>The crop's spread, ln σ, against the table's.</summary>
    Spread,

    /// <summary>The kind of spot.</summary>
    Spot,

    /// <summary>What each year of age adds to the time that seed takes.</summary>
    Age,

    /// <summary>A part of what other homes' batches have taught.</summary>
    Shared,
}

/// <summary>A factor with how many times it counts in a sum.</summary>
internal readonly record struct Part(Factor Factor, double Times);

/// <summary>One factor that several batches share.</summary>
internal readonly record struct Factor(FactorKind Kind, string Name, double PriorMean, double PriorDeviation)
{
    /// <summary>What adds up to ln θ50 of a batch beside the table: its factors, and the crop's base as far as it bears on the
    /// temperature at which the batch stands.</summary>
    public static Part[] HalfOf(BatchKind kind) =>
    [
        .. Of(kind).Select(factor => new Part(factor, 1)),
        .. kind.PerBaseKelvin == 0 ? Array.Empty<Part>() : [new(BaseOf(kind), kind.PerBaseKelvin)],
    ];

    /// <summary>The crop's base.</summary>
    public static Factor BaseOf(BatchKind kind) => new(FactorKind.Base, kind.Crop.Text, 0, kind.Profile.BaseDeviation);

    /// <summary>The crop's spread: root and shoot each have their own.</summary>
    public static Factor SpreadOf(BatchKind kind) => new(FactorKind.Spread,
        kind.Method.Event() == kind.Profile.Event ? kind.Crop.Text : $"{kind.Crop.Text}, {kind.Method.Event()}", 0,
        HomePriors.LogSpreadByCrop);

    /// <summary>The factors of one kind of batch: home, crop, method and, where it is known, lot.</summary>
    public static Factor[] Of(BatchKind kind)
    {
        Factor[] common =
        [
            new(FactorKind.Home, "home", 0, HomePriors.HomeDeviation),
            .. OfCrop(kind),
            OfMethod(kind),
        ];
        return kind.Lot is { } lot ? [.. common, new(FactorKind.Lot, lot.Text, 0, HomePriors.LotDeviation)] : common;
    }

    /// <summary>The doubt of a crop in two parts that add up to it as squares: what it shares with its family, and its own.</summary>
    private static Factor[] OfCrop(BatchKind kind)
    {
        var whole = kind.Profile.HalfDeviation;
        return kind.Family is { } family && whole > HomePriors.SharedByFamily
            ?
            [
                new(FactorKind.Family, family, 0, HomePriors.SharedByFamily),
                new(FactorKind.Crop, kind.Crop.Text, 0,
                    Math.Sqrt(whole * whole - HomePriors.SharedByFamily * HomePriors.SharedByFamily)),
            ]
            : [new(FactorKind.Crop, kind.Crop.Text, 0, whole)];
    }

    /// <summary>
    /// Root and shoot are different events: a method that counts the other one than the profile starts from a wide guess and learns a
    /// separate factor, so that the two are never mixed.
    /// </summary>
    private static Factor OfMethod(BatchKind kind)
    {
        var counts = kind.Method.Event();
        if (counts == kind.Profile.Event)
        {
            return new(FactorKind.Method, kind.Method.ToString(), 0, HomePriors.MethodDeviation);
        }

        var shift = Math.Log(HomePriors.RootBeforeShoot) * (counts == EmergenceEvent.RootSeen ? 1 : -1);
        return new(FactorKind.Method, $"{kind.Method}, {counts} by a table of {kind.Profile.Event}", shift,
            HomePriors.RootBeforeShootDeviation);
    }
}
