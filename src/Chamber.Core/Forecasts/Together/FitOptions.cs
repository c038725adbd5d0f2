using Chamber.Core.Forecasts.Learning;

namespace Chamber.Core.Forecasts.Together;

/// <summary>How homes are taken together; tests compare with other programs by taking the assumptions away.</summary>
internal sealed record FitOptions
{
    /// <summary>How far homes are assumed to lie apart in each kind, and lots in a home.</summary>
    public static IReadOnlyDictionary<FactorKind, double> Assumed { get; } = new Dictionary<FactorKind, double>
    {
        [FactorKind.Home] = HomePriors.HomeDeviation,
        [FactorKind.Crop] = TogetherPriors.CropApart,
        [FactorKind.Method] = TogetherPriors.MethodApart,
        [FactorKind.Spot] = TogetherPriors.SpotApart,
        [FactorKind.Age] = TogetherPriors.AgeApart,
        [FactorKind.Base] = TogetherPriors.BaseApart,
        [FactorKind.Lot] = HomePriors.LotDeviation,
    };

    /// <summary>How many honest homes are left uncut; 1 for all.</summary>
    public double Uncut { get; init; } = TogetherPriors.Uncut;

    /// <summary>How many batches are odd.</summary>
    public double OddShare { get; init; } = HomePriors.OddBatchShare;

    /// <summary>How many homes an assumption is worth.</summary>
    public double Worth { get; init; } = TogetherPriors.Worth;

    /// <summary>How far from the assumption what is learned of a deviation may lie, as a factor.</summary>
    public double Range { get; init; } = TogetherPriors.ApartRange;

    /// <summary>By what the deviations of the priors of what homes share are multiplied.</summary>
    public double PriorTimes { get; init; } = 1;

    /// <summary>Turns of middle and variances at most.</summary>
    public int Rounds { get; init; } = 80;

    /// <summary>Steps of the middle in each round.</summary>
    public int Steps { get; init; } = 3;
}
